// SPDX-License-Identifier: MIT
#include "inference/bucket_chance.hpp"

#include "cure/two_meshes.hpp"
#include "inference/schedule_chance.hpp"
#include "inference/schedule_range.hpp"
#include "judge/judge.hpp"

#include <algorithm>

namespace tidemark::inference {
namespace {

/// A share of a brine, as it was described.
cure::Brine part_of(cure::Brine b, double share) {
    for (auto* part : {&b.mass, &b.volume, &b.water, &b.ice, &b.cold_water, &b.salt_added, &b.sugar,
                       &b.premix, &b.erythorbate})
        if (*part)
            **part *= share;
    return b;
}

/// How much later an event is in the bucket than alone [1].
double later(const std::optional<double>& in_bucket, const std::optional<double>& alone) {
    return in_bucket && alone && *alone > 0 ? *in_bucket / *alone : 1;
}

BestDay in_one_brine(const cure::Outcome& one, const cure::PieceOutcome& piece,
                     const base::Records& records, const Inputs& inputs, const Ask& ask) {
    std::vector<Fate> all = fates(one, records, inputs, ask);
    const double cured = later(piece.cured, one.first().cured),
                 salty = later(piece.last_good, one.first().last_good);
    for (Fate& f : all) {
        f.cured *= cured;
        f.salted *= salty;
        f.too_salty *= salty;
    }
    BestDay best =
        kept_cold(best_day(all, one.horizon(), ask.confidence), one, 0, records, ask.draws);
    if (piece.piece.out)
        best.as_set = chance_at(all, *piece.piece.out);
    return best;
}

/// The schedule of a piece that is taken out at its own time [s]: nothing of it comes after.
cure::Question until_out(cure::Question q, const std::vector<cure::StageResult>& was, double out) {
    std::size_t k = 0;
    while (k + 1 < was.size() && was[k].to < out)
        ++k;
    q.stages.resize(k + 1);
    q.stages[k].duration = std::min(was[k].to, out) - was[k].from;
    q.stages[k].until.reset();
    return q;
}

} // namespace

cure::Question in_share(cure::Question q, double share) {
    q.base.brine = part_of(q.base.brine, share);
    for (cure::Stage& s : q.stages) {
        s.water *= share;
        if (s.brine)
            s.brine = part_of(*s.brine, share);
    }
    return q;
}

cure::Question alone(const cure::Outcome& o, std::size_t piece, const cure::Question& as) {
    cure::Question q = as;
    if (q.others.empty())
        return q;
    const cure::PieceKind& kind = o.solved->c.kinds[o.solved->c.of[piece]];
    q.others.clear();
    q.base.piece = o.pieces[kind.first].piece;
    q.base.piece.pieces = 1;
    q.base.piece.out.reset();
    q.base.at.reset();
    const double meat = o.solved->c.meat;
    return meat > 0 ? in_share(std::move(q), kind.setup().weight / meat) : q;
}

std::vector<BestDay> bucket_chances(const cure::Outcome& o, const base::Records& records,
                                    const InputsOf& inputs_of, const Ask& ask) {
    const cure::Coefficients& c = o.solved->c;
    if (c.kinds.size() > most_bucket_kinds)
        return {};
    std::vector<BestDay> of_kind;
    for (const cure::PieceKind& kind : c.kinds) {
        const cure::PieceOutcome& piece = o.pieces[kind.first];
        const bool open = o.question.stages.back().open();
        cure::Question asked = alone(o, kind.first, o.question);
        if (piece.piece.out && !open)
            asked = until_out(std::move(asked), piece.stages, *piece.piece.out);
        cure::Outcome one = cure::run(asked, records);
        if (open) {
            of_kind.push_back(in_one_brine(one, piece, records,
                                           inputs_of(one.question.base, one.solved->setup()), ask));
        } else { // the level is that of the bucket
            if (!piece.piece.out)
                one.pieces.front().stages = piece.stages;
            ScheduleChance kept =
                schedule_chance(one, records, schedule_inputs(one, records, inputs_of), ask);
            kept.best.as_set = kept.as_planned;
            of_kind.push_back(std::move(kept.best));
        }
    }
    std::vector<BestDay> list;
    for (const std::size_t kind : c.of)
        list.push_back(of_kind[kind]);
    return list;
}

judge::Findings of_waiting(const cure::Outcome& o, const std::vector<BestDay>& chances,
                           const base::Records& records) {
    double last = 0;
    for (const BestDay& d : chances)
        last = std::max(last, d.best ? d.best->time : 0);
    return of_waiting(o, last_dosing(o.question), last, records);
}

} // namespace tidemark::inference
