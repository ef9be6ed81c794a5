// SPDX-License-Identifier: MIT
#include "cure/weigh.hpp"

#include "cure/chill.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::cure {
namespace {

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

judge::Weighed weigh(const Question& question, const Coefficients& coefficients,
                     base::Records& records) {
    const Case& c = question.base;
    const double meat = coefficients.meat;
    if (question.container)
        for (const StageSetup& s : coefficients.stages())
            if (s.stage.kind == Stage::Kind::cover && !s.on)
                check_room(*question.container, meat,
                           coefficients.first().tissues.at("lean").density, s.setup.pickle);
    judge::Weighed w = of_case(c);
    w.periods.clear();
    w.nitrite = coefficients.nitrite;
    w.meat_known = meat > 0;
    const auto cooled = [&](const Brine& brine, const Pickle& p) {
        if (brine.water && brine.cooling)
            w.chilled = {chill(pot(brine, p), records).temperature, brine.cooling->told};
    };
    if (coefficients.pumped) {
        const Brine& brine = question.pump->brine ? *question.pump->brine : c.brine;
        const double share = question.pump->share;
        w.brine = true;
        cooled(brine, *coefficients.pumped);
        add(w, {"pumped", coefficients.pumped->nitrite * share,
                coefficients.pumped->nitrate * share, coefficients.pumped->erythorbate * share,
                1 / brine.spread.premix, brine.spread.premix});
        w.scale = scale(brine, *coefficients.pumped, 0);
        if (w.scale) {
            w.scale->others = *brine.premix * brine.premix_strength / coefficients.pumped->nitrite -
                              w.scale->mass;
            w.scale->share = share;
        }
    }
    for (const StageSetup& s : coefficients.stages()) {
        const Pickle& p = s.setup.pickle;
        if (s.stage.kind == Stage::Kind::cover && !s.on) {
            const Brine& brine = s.stage.brine ? *s.stage.brine : c.brine;
            w.brine = true;
            cooled(brine, p);
            w.amount_known = w.amount_known && std::isfinite(p.mass);
            w.brine_nitrite = std::max(w.brine_nitrite, p.nitrite);
            w.brine_nitrate = std::max(w.brine_nitrate, p.nitrate);
            if (meat > 0 || !std::isfinite(p.mass))
                add(w, immersed(brine, p, meat));
            if (!w.scale)
                w.scale = scale(brine, p, meat);
        } else if (s.stage.dry()) {
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

judge::Findings judged(const Question& question, base::Records records) {
    const Coefficients c = coefficients(question, records);
    return judge::judge(weigh(question, c, records), records);
}

} // namespace tidemark::cure
