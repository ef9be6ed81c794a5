// SPDX-License-Identifier: MIT
#include "cure/plan_advice.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/ingoing.hpp"
#include "cure/law.hpp"
#include "cure/say.hpp"
#include "materials/limits.hpp"
#include "materials/safety.hpp"
#include "materials/targets.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::cure {

namespace {

using Kind = Stage::Kind;

std::string days(double seconds) {
    return base::significant(seconds / 86400, 2) + " days";
}

void dose(PlanResult& r, base::Records& records, const std::string& method, double nitrite) {
    if (!(nitrite > 0))
        return;
    auto d = std::ranges::find(r.doses, method, &MethodDose::method);
    if (d == r.doses.end())
        d = r.doses.insert(d, {method, 0, nitrite_limit(r.plan.base, method, records)});
    d->nitrite += nitrite;
}

void law(PlanResult& r, const PlanSetup& setup, base::Records& records) {
    const Case& c = r.plan.base;
    const double weight = r.weight * c.piece.pieces;
    bool unknown = false;
    Dosing all;
    double dry_nitrate = 0;
    if (setup.pumped) {
        const double share = r.plan.pump->share;
        dose(r, records, "pumped",
             ingoing_taken_up(counted(*setup.pumped, c.law).nitrite, share, 1)); // per kg of pickle
        r.salt_used += setup.pumped->salt * share * weight;
        r.nitrite_used += setup.pumped->nitrite * share * weight;
        all.nitrate = setup.pumped->nitrate > 0;
    }
    for (const StageSetup& s : setup.stages) {
        const Pickle& pickle = s.setup.pickle;
        if (s.stage.kind == Kind::cover && !s.on) {
            if (!(weight > 0) && std::isfinite(pickle.mass))
                unknown = true;
            dose(r, records, "immersion", whole_system_nitrite(counted(pickle, c.law), weight));
            all.nitrate = all.nitrate || pickle.nitrate > 0;
            if (std::isfinite(pickle.mass)) {
                r.salt_used += pickle.salt * pickle.mass;
                r.nitrite_used += pickle.nitrite * pickle.mass;
            }
        } else if (s.stage.kind == Kind::rub || s.stage.kind == Kind::bag) {
            dose(r, records, "dry", counted_nitrite(s.stage.nitrite, s.stage.nitrate, c.law));
            dry_nitrate += s.stage.nitrate;
            r.salt_used += s.stage.salt * weight;
            r.nitrite_used += s.stage.nitrite * weight;
        }
    }
    for (const MethodDose& d : r.doses) {
        all.ingoing += d.nitrite;
        all.limited = all.limited && d.limit;
        if (d.limit && (!all.limit || d.limit->value < all.limit->value))
            all.limit = d.limit;
    }
    r.ingoing = all.ingoing;
    if (all.limit)
        r.ingoing_limit = all.limit->value;
    if (unknown)
        r.warnings.push_back(
            "the weight of the meat is not known, so neither is the ingoing nitrite");
    const Verdict v = verdict(c, all, records);
    r.hazards.insert(r.hazards.end(), v.hazards.begin(), v.hazards.end());
    r.warnings.insert(r.warnings.end(), v.warnings.begin(), v.warnings.end());
    const auto most = materials::limit_of(records, c.law, c.product, "dry", "nitrate");
    if (most && dry_nitrate > most->value * (1 + 1e-9))
        r.hazards.push_back(most->value == 0
                                ? nitrate_in_bacon
                                : "ingoing nitrate " + ppm_beside(dry_nitrate, most->value) +
                                      " is above " + in_words(*most));
    if (setup.pumped && setup.pumped->nitrite > 0 && c.law == "us" && c.product == "bacon") {
        const auto helper = materials::limit_of(records, c.law, c.product, "pumped", "erythorbate");
        if (helper && setup.pumped->erythorbate * r.plan.pump->share <
                          0.8 * helper->value) // tested within a fifth
            r.hazards.push_back(
                "pumped bacon needs " + ppm(helper->value) +
                " of ascorbate or erythorbate with its "
                "nitrite under the us code: tidemark brine --erythorbate reckons it");
    }
}

void temperatures(PlanResult& r, base::Records& records) {
    const double limit = records.si("cooler.limit");
    std::vector<std::string> said;
    const auto add = [&](const std::string& text) {
        if (!text.empty() && std::ranges::find(said, text) == said.end()) {
            said.push_back(text);
            r.warnings.push_back(text);
        }
    };
    std::optional<CoolerLog> log; // of all stages that have one, end to end
    double above = 0;
    for (const StageResult& s : r.stages) {
        if (s.temperature > limit)
            r.hazards.push_back(s.stage.where + ": " + base::show_temperature(s.temperature) +
                                " is above " + base::show_temperature(limit) +
                                ": do not keep meat so");
        else
            add(materials::cooler_warning(records, s.temperature));
        if (!s.stage.log || !(s.to > s.from)) {
            if (s.to > s.from)
                log.reset();
            continue;
        }
        for (const std::string& remark : s.stage.log->remarks)
            add(remark);
        for (const std::string& remark : s.stage.log->beyond(s.from, s.to))
            add(remark);
        const CoolerLog part = s.stage.log->between(s.from, s.to);
        if (!log)
            log = CoolerLog{};
        log->time.insert(log->time.end(), part.time.begin(), part.time.end());
        log->temperature.insert(log->temperature.end(), part.temperature.begin(),
                                part.temperature.end());
        above = std::max(above, log->longest_above(limit));
    }
    if (above > 0)
        r.hazards.push_back("the cooler's log is above " + base::show_temperature(limit) + " for " +
                            base::significant(above / 3600, 2) +
                            " h on end: judge the meat by your local code");
}

} // namespace

void advise(PlanResult& r, const PlanSetup& setup, base::Records& records) {
    law(r, setup, records);
    temperatures(r, records);
    const auto cures = [](const StageResult& s) {
        return s.stage.kind == Kind::cover || s.stage.kind == Kind::rub ||
               s.stage.kind == Kind::bag;
    };
    const auto last = std::find_if(r.stages.rbegin(), r.stages.rend(), cures);
    if (r.last_good && last != r.stages.rend() && last->to > *r.last_good * (1 + 1e-6))
        r.warnings.push_back("it leaves the cure after " +
                             base::day_number(last->to, base::Rounding::up) +
                             " days, past its latest, " +
                             base::day_number(*r.last_good, base::Rounding::down) +
                             " days: then " + r.last_good_reason);
    r.hands = r.plan.pump ? 1 : 0;
    double overlooked = 0;
    for (const StageResult& s : r.stages) {
        r.hands += 1 + s.stage.changes;
        if (s.met && s.barely)
            r.warnings.push_back(
                s.stage.where + ": what it waits for only just comes true, in " +
                days(s.to - s.from) +
                " on the finer of two meshes and not on the coarser: ask for a little less");
        else if (!s.met)
            r.warnings.push_back(s.stage.where + ": what it waits for does not come true in " +
                                 days(s.to - s.from));
        if ((s.stage.kind == Kind::rub || s.stage.kind == Kind::bag) && s.salt_left > 0 &&
            !s.gone && s.stage.kind == Kind::rub)
            overlooked += s.salt_left;
    }
    if (overlooked > 0 && r.weight > 0)
        r.warnings.push_back("salt is still on the meat when the rub ends: " +
                             base::show_mass(overlooked) + " per piece is brushed off or drained");
    const materials::Band taste = materials::taste_band(records);
    const Reading& end = r.stages.back().end;
    if (end.mean_salt > taste.high)
        r.warnings.push_back("the whole is too salty at the end: mean " + percent(end.mean_salt) +
                             ", band " + percent(taste.low) + " to " + percent(taste.high));
    else if (end.mean_salt < taste.low * (1 - 1e-3)) // a wait for just so much ends a hair below
        r.warnings.push_back("the whole tastes under-salted at the end: mean " +
                             percent(end.mean_salt) + ", band " + percent(taste.low) + " to " +
                             percent(taste.high));
    if (!r.cured)
        r.warnings.push_back(r.has_nitrite
                                 ? "the core is not cured: it has " + ppm(end.core_arrived) +
                                       " of the " + ppm(r.target) + " it needs"
                                 : "the core is not cured: it has " + percent(end.core_salt) +
                                       " salt of the " + percent(r.target) + " asked of it");
    if (!r.has_nitrite)
        r.warnings.push_back(
            "there is no nitrite in this cure: no cured colour, and no protection from botulism "
            "beyond salt and cold");
    if (std::ranges::any_of(r.plan.stages, [](const Stage& s) {
            return s.kind == Kind::rub || s.kind == Kind::bag;
        }))
        r.warnings.push_back("salt on the meat is taken to wet at once; where it lies dry for days "
                             "the cure is later");
    if (r.plan.pump)
        r.warnings.push_back(
            "needles carry what is on the surface inside: clean needles, cold brine, made fresh");
    r.cautions.push_back(
        "keep meat and brine below " + base::show_temperature(records.si("cooler.limit")) +
        "; a predicted colour is not a food-safety rule: cook, and sell, as your local code says");
    if (r.has_nitrite)
        r.cautions.push_back("nitrite is poisonous in gram amounts: weigh the premix and keep it "
                             "apart from table salt");
}

} // namespace tidemark::cure
