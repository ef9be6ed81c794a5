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

std::string days(double seconds) { return base::significant(seconds / 86400, 2) + " days"; }

void dose(PlanResult& r, base::Records& records, const std::string& method, double nitrite) {
    if (!(nitrite > 0))
        return;
    const auto limit = nitrite_limit(r.plan.base, method, records);
    for (MethodDose& d : r.doses)
        if (d.method == method) {
            d.nitrite += nitrite;
            return;
        }
    r.doses.push_back({method, nitrite, limit ? std::optional<double>(limit->value) : std::nullopt});
}

void law(PlanResult& r, const PlanSetup& setup, base::Records& records) {
    const double weight = r.weight * r.plan.base.piece.pieces;
    bool unknown = false;
    if (setup.pumped) {
        dose(r, records, "pumped",
             ingoing_taken_up(setup.pumped->nitrite, r.plan.pump->share, 1)); // per kg of pickle
        r.salt_used += setup.pumped->salt * r.plan.pump->share * weight;
        r.nitrite_used += setup.pumped->nitrite * r.plan.pump->share * weight;
    }
    for (const StageSetup& s : setup.stages) {
        const Pickle& pickle = s.setup.pickle;
        if (s.stage.kind == Kind::cover && !s.on) {
            if (!(weight > 0) && std::isfinite(pickle.mass))
                unknown = true;
            dose(r, records, "immersion", whole_system_nitrite(pickle, weight));
            if (std::isfinite(pickle.mass)) {
                r.salt_used += pickle.salt * pickle.mass;
                r.nitrite_used += pickle.nitrite * pickle.mass;
            }
        } else if (s.stage.kind == Kind::rub || s.stage.kind == Kind::bag) {
            dose(r, records, "dry", s.stage.nitrite);
            r.salt_used += s.stage.salt * weight;
            r.nitrite_used += s.stage.nitrite * weight;
        }
    }
    std::optional<materials::Limit> lowest;
    bool limited = true;
    for (const MethodDose& d : r.doses) {
        r.ingoing += d.nitrite;
        const auto limit = nitrite_limit(r.plan.base, d.method, records);
        limited = limited && limit;
        if (limit && (!lowest || limit->value < lowest->value))
            lowest = limit;
    }
    if (lowest)
        r.ingoing_limit = lowest->value;
    if (unknown)
        r.warnings.push_back("the weight of the meat is not known, so neither is the ingoing nitrite");
    const bool nitrate = (setup.pumped && setup.pumped->nitrate > 0) ||
                         std::ranges::any_of(setup.stages, [](const StageSetup& s) {
                             return s.stage.nitrate > 0 || (s.stage.kind == Kind::cover && s.setup.pickle.nitrate > 0);
                         });
    const Verdict v = verdict(r.plan.base, r.ingoing, lowest, limited, nitrate, records);
    r.hazards.insert(r.hazards.end(), v.hazards.begin(), v.hazards.end());
    r.warnings.insert(r.warnings.end(), v.warnings.begin(), v.warnings.end());
    const Case& c = r.plan.base;
    if (setup.pumped && setup.pumped->nitrite > 0 && c.law == "us" && c.product == "bacon") {
        const auto helper = materials::limit_of(records, c.law, c.product, "pumped", "erythorbate");
        if (helper && setup.pumped->erythorbate * r.plan.pump->share < 0.8 * helper->value) // tested within a fifth
            r.hazards.push_back("pumped bacon needs " + ppm(helper->value) + " of ascorbate or erythorbate with its "
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
    for (const StageResult& s : r.stages) {
        if (s.temperature > limit)
            r.hazards.push_back(s.stage.where + ": " + base::show_temperature(s.temperature) + " is above " +
                                base::show_temperature(limit) + ": do not keep meat so");
        else
            add(materials::cooler_warning(records, s.temperature));
        if (!s.stage.log)
            continue;
        for (const std::string& remark : s.stage.log->remarks)
            add(remark);
        add(s.stage.log->beyond(s.to - s.from));
        if (const double above = s.stage.log->longest_above(limit); above > 0)
            r.hazards.push_back("the cooler's log is above " + base::show_temperature(limit) + " for " +
                                base::significant(above / 3600, 2) + " h on end: judge the meat by your local code");
    }
}

} // namespace

void advise(PlanResult& r, const PlanSetup& setup, base::Records& records) {
    law(r, setup, records);
    temperatures(r, records);
    const auto cures = [](const StageResult& s) {
        return s.stage.kind == Kind::cover || s.stage.kind == Kind::rub || s.stage.kind == Kind::bag;
    };
    const auto last = std::find_if(r.stages.rbegin(), r.stages.rend(), cures);
    if (r.last_good && last != r.stages.rend() && last->to > *r.last_good * (1 + 1e-6))
        r.warnings.push_back("it leaves the cure after " + days(last->to) + ", past its latest day: by then " +
                             r.last_good_reason);
    r.hands = r.plan.pump ? 1 : 0;
    double overlooked = 0;
    for (const StageResult& s : r.stages) {
        r.hands += 1 + s.stage.changes;
        if (s.met && s.barely)
            r.warnings.push_back(s.stage.where + ": what it waits for only just comes true, in " + days(s.to - s.from) +
                                 " on the finer of two meshes and not on the coarser: ask for a little less");
        else if (!s.met)
            r.warnings.push_back(s.stage.where + ": what it waits for does not come true in " + days(s.to - s.from));
        if ((s.stage.kind == Kind::rub || s.stage.kind == Kind::bag) && s.salt_left > 0 && !s.gone &&
            s.stage.kind == Kind::rub)
            overlooked += s.salt_left;
    }
    if (overlooked > 0 && r.weight > 0)
        r.warnings.push_back("salt is still on the meat when the rub ends: " + base::show_mass(overlooked) +
                             " per piece is brushed off or drained");
    const materials::Band taste = materials::taste_band(records);
    const Reading& end = r.stages.back().end;
    if (end.mean_salt > taste.high)
        r.warnings.push_back("the whole is too salty at the end: mean " + percent(end.mean_salt) + ", band " +
                             percent(taste.low) + " to " + percent(taste.high));
    else if (end.mean_salt < taste.low * (1 - 1e-3)) // a wait for just so much ends a hair below
        r.warnings.push_back("the whole tastes under-salted at the end: mean " + percent(end.mean_salt) + ", band " +
                             percent(taste.low) + " to " + percent(taste.high));
    if (!r.cured)
        r.warnings.push_back(
            r.has_nitrite ? "the core is not cured: it has " + ppm(end.core_arrived) + " of the " + ppm(r.target) +
                                " it needs"
                          : "the core is not cured: it has " + percent(end.core_salt) + " salt of the " +
                                percent(r.target) + " asked of it");
    if (!r.has_nitrite)
        r.warnings.push_back("there is no nitrite in this cure: no cured colour, and no protection from botulism "
                             "beyond salt and cold");
    if (std::ranges::any_of(r.plan.stages, [](const Stage& s) { return s.kind == Kind::rub || s.kind == Kind::bag; }))
        r.warnings.push_back("salt on the meat is taken to wet at once; where it lies dry for days the cure is later");
    if (r.plan.pump)
        r.warnings.push_back("needles carry what is on the surface inside: clean needles, cold brine, made fresh");
    r.cautions.push_back("keep meat and brine below " + base::show_temperature(records.si("cooler.limit")) +
                         "; a predicted colour is not a food-safety rule: cook, and sell, as your local code says");
    if (r.has_nitrite)
        r.cautions.push_back("nitrite is poisonous in gram amounts: weigh the premix and keep it apart from table salt");
}

} // namespace tidemark::cure
