// SPDX-License-Identifier: MIT
#include "cure/weigh.hpp"

#include "cure/ingoing.hpp"
#include "cure/say.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::cure {
namespace {

using Kind = Stage::Kind;

judge::Weighed of_case(const Case& c) {
    judge::Weighed w;
    w.law = c.law;
    w.product = c.product;
    w.rind = c.rind;
    w.periods = {{"cooler", c.temperature, {}}};
    return w;
}

/// What a pickle brings over meat and pickle together; with very much of it, its own strength.
judge::Dose immersed(const Brine& brine, const Pickle& p, double meat) {
    const double share = std::isfinite(p.mass) ? p.mass / (meat + p.mass) : 1;
    return {"immersion",           p.nitrite * share,       p.nitrate * share,
            p.erythorbate * share, 1 / brine.spread.premix, brine.spread.premix};
}

/// The premix of a recipe, if it was weighed, counted over meat and brine.
std::optional<judge::Scale> scale(const Brine& brine, const Pickle& p, double meat) {
    if (!brine.premix || !(*brine.premix > 0) || !(p.nitrite > 0))
        return {};
    const double batch = *brine.premix * brine.premix_strength / p.nitrite;
    judge::Scale s{*brine.premix, brine.premix_strength, brine.premix_nitrate,
                   brine.salt_added.value_or(0)};
    if (!brine.mass && meat > 0) { // all of the pot is around the meat
        s.others = meat + batch - s.mass;
    } else if (meat > 0 && std::isfinite(p.mass)) { // a part of it
        s.others = batch - s.mass;
        s.share = p.mass / (meat + p.mass);
    }
    return s;
}

void add(judge::Weighed& w, const judge::Dose& dose) {
    const auto same = std::ranges::find(w.doses, dose.method, &judge::Dose::method);
    if (same == w.doses.end()) {
        w.doses.push_back(dose);
        return;
    }
    same->nitrite += dose.nitrite;
    same->nitrate += dose.nitrate;
    same->erythorbate += dose.erythorbate;
    same->low = std::min(same->low, dose.low);
    same->high = std::max(same->high, dose.high);
}

} // namespace

judge::Weighed weigh(const Case& c, const Pickle& pickle, double meat) {
    judge::Weighed w = of_case(c);
    w.brine = true;
    w.amount_known = std::isfinite(pickle.mass);
    w.meat_known = meat > 0;
    w.brine_nitrite = pickle.nitrite;
    w.brine_nitrate = pickle.nitrate;
    w.nitrite = pickle.nitrite > 0;
    if (meat > 0 || !w.amount_known)
        w.doses.push_back(immersed(c.brine, pickle, meat));
    w.scale = scale(c.brine, pickle, meat);
    return w;
}

judge::Weighed weigh(const Plan& plan, const PlanSetup& setup, base::Records& records) {
    const Case& c = plan.base;
    const double meat = setup.stages.front().setup.weight * c.piece.pieces;
    judge::Weighed w = of_case(c);
    w.periods.clear();
    w.nitrite = setup.nitrite;
    w.meat_known = meat > 0;
    if (setup.pumped) {
        const Brine& brine = plan.pump->brine ? *plan.pump->brine : c.brine;
        const double share = plan.pump->share;
        w.brine = true;
        add(w, {"pumped", setup.pumped->nitrite * share, setup.pumped->nitrate * share,
                setup.pumped->erythorbate * share, 1 / brine.spread.premix, brine.spread.premix});
        w.scale = scale(brine, *setup.pumped, 0);
        if (w.scale) {
            w.scale->others =
                *brine.premix * brine.premix_strength / setup.pumped->nitrite - w.scale->mass;
            w.scale->share = share;
        }
    }
    for (const StageSetup& s : setup.stages) {
        const Pickle& p = s.setup.pickle;
        if (s.stage.kind == Kind::cover && !s.on) {
            const Brine& brine = s.stage.brine ? *s.stage.brine : c.brine;
            w.brine = true;
            w.amount_known = w.amount_known && std::isfinite(p.mass);
            w.brine_nitrite = std::max(w.brine_nitrite, p.nitrite);
            w.brine_nitrate = std::max(w.brine_nitrate, p.nitrate);
            if (meat > 0 || !std::isfinite(p.mass))
                add(w, immersed(brine, p, meat));
            if (!w.scale)
                w.scale = scale(brine, p, meat);
        } else if (s.stage.kind == Kind::rub || s.stage.kind == Kind::bag) {
            add(w, {"dry", s.stage.nitrite, s.stage.nitrate, 0, 1, 1});
        }
        if (s.stage.log)
            w.above_limit =
                std::max(w.above_limit, s.stage.log->longest_above(records.si("cooler.limit")));
        const bool own = s.stage.temperature || s.stage.log;
        const double lasts = s.stage.duration.value_or(0);
        w.periods.push_back({own ? s.stage.where : "cooler", s.warmth,
                             lasts > 0 ? std::optional(lasts) : std::nullopt});
    }
    return w;
}

Ingoing ingoing_of(const judge::Weighed& w, base::Records& records) {
    Ingoing i;
    const auto limit = judge::limit_for(w, "immersion", "nitrite", records);
    i.law = w.law + ", " + w.product;
    if (limit)
        i.limit = limit->value;
    if (!w.doses.empty()) {
        i.whole_system = judge::by_law(w, records).ingoing;
        i.note = w.amount_known ? "over meat and brine" : "of very much brine";
    }
    return i;
}

judge::Findings judged(const Case& question, base::Records records) {
    Setup s = make_piece(question, records);
    put_in_brine(question, records, s);
    return judge::judge(weigh(question, s.pickle, s.weight * question.piece.pieces), records);
}

judge::Findings judged(const Case& first, const std::vector<OtherPiece>& others,
                       base::Records records) {
    const Kinds kinds = kinds_of(first, others, records);
    return judge::judge(weigh(first, kinds.setups.front().pickle, kinds.meat), records);
}

judge::Findings judged(const Plan& plan, base::Records records) {
    const PlanSetup setup = make_plan_setup(plan, records);
    return judge::judge(weigh(plan, setup, records), records);
}

} // namespace tidemark::cure
