// SPDX-License-Identifier: MIT
#include "inference/bucket_chance.hpp"

#include "cure/pickle.hpp"
#include "cure/solved.hpp"
#include "inference/case_inputs.hpp"
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

} // namespace

std::vector<BestDay> bucket_chances(const cure::Bucket& bucket, const cure::Case& first,
                                    const std::vector<cure::OtherPiece>& others,
                                    const base::Records& records, const Ask& ask) {
    base::Records own = records;
    const cure::Kinds kinds = cure::kinds_of(first, others, own);
    if (kinds.setups.size() > most_bucket_kinds)
        return {};
    std::vector<BestDay> of_kind;
    for (std::size_t k = 0; k < kinds.setups.size(); ++k) {
        const cure::BucketPiece& piece = bucket.pieces[kinds.first[k]];
        cure::Case alone = first;
        alone.piece = piece.piece;
        alone.piece.pieces = 1;
        alone.at.reset();
        if (kinds.meat > 0)
            alone.brine = part_of(first.brine, kinds.setups[k].weight / kinds.meat);
        const cure::Prediction p = cure::predict(alone, records);
        std::vector<Fate> all =
            fates(p, records, case_inputs(alone, p.solved->setup, records), ask);
        const double cured = later(piece.pull, p.pull), salty = later(piece.last_good, p.last_good);
        for (Fate& f : all) {
            f.cured *= cured;
            f.salted *= salty;
            f.too_salty *= salty;
        }
        of_kind.push_back(best_day(all, first.horizon, ask.confidence));
    }
    std::vector<BestDay> list;
    for (const std::size_t kind : kinds.of)
        list.push_back(of_kind[kind]);
    return list;
}

judge::Findings of_waiting(const cure::Bucket& bucket, const cure::Case& first,
                           const std::vector<BestDay>& chances, const base::Records& records) {
    double last = 0, least = never; // salt over salt and water at a core
    for (const BestDay& d : chances)
        last = std::max(last, d.best ? d.best->time : 0);
    if (last <= bucket.at)
        return {};
    for (const cure::BucketPiece& p : bucket.pieces)
        least = std::min(least, p.core_water_salt);
    base::Records own = as_set(first, records);
    return judge::judge_time({{"cooler", first.temperature, last}}, bucket.has_nitrite, least, own);
}

} // namespace tidemark::inference
