// SPDX-License-Identifier: MIT
#include "cure/plan_advice.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/advice.hpp"
#include "cure/say.hpp"
#include "cure/weigh.hpp"
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

/// The law's arithmetic and what was used in all.
void law(PlanResult& r, const PlanSetup& setup, const judge::Weighed& weighed,
         base::Records& records) {
    const double weight = r.weight * r.plan.base.piece.pieces;
    const judge::Law all = judge::by_law(weighed, records);
    for (std::size_t k = 0; k < weighed.doses.size(); ++k) {
        const judge::Dose& d = weighed.doses[k];
        if (const double counted = judge::counted_nitrite(d.nitrite, d.nitrate, weighed.law);
            counted > 0)
            r.doses.push_back({d.method, counted, all.limits[k]});
    }
    r.ingoing = all.ingoing;
    if (all.limit)
        r.ingoing_limit = all.limit->value;
    const auto use = [&](double salt, double nitrite, double mass) {
        r.salt_used += salt * mass;
        r.nitrite_used += nitrite * mass;
    };
    if (setup.pumped)
        use(setup.pumped->salt, setup.pumped->nitrite, r.plan.pump->share * weight);
    for (const StageSetup& s : setup.stages) {
        const Pickle& pickle = s.setup.pickle;
        if (s.stage.kind == Kind::cover && !s.on && std::isfinite(pickle.mass))
            use(pickle.salt, pickle.nitrite, pickle.mass);
        else if (s.stage.kind == Kind::rub || s.stage.kind == Kind::bag)
            use(s.stage.salt, s.stage.nitrite, weight);
    }
}

/// What the cooler's logs tell besides, and how long it all takes.
void temperatures(PlanResult& r, base::Records& records) {
    const double limit = records.si("cooler.limit");
    std::vector<judge::Period> periods;
    std::optional<CoolerLog> log; // of all stages that have one, end to end
    double above = 0;
    for (const StageResult& s : r.stages) {
        periods.push_back({s.stage.where, s.temperature, s.to - s.from});
        if (!s.stage.log || !(s.to > s.from)) {
            if (s.to > s.from)
                log.reset();
            continue;
        }
        for (const std::string& remark : s.stage.log->remarks)
            r.findings.warn("log", remark);
        for (const std::string& remark : s.stage.log->beyond(s.from, s.to))
            r.findings.warn("log", remark);
        const CoolerLog part = s.stage.log->between(s.from, s.to);
        if (!log)
            log = CoolerLog{};
        log->time.insert(log->time.end(), part.time.begin(), part.time.end());
        log->temperature.insert(log->temperature.end(), part.temperature.begin(),
                                part.temperature.end());
        above = std::max(above, log->longest_above(limit));
    }
    r.findings.add(judge::judge_log(above, records));
    r.findings.add(
        judge::judge_time(periods, r.has_nitrite, r.stages.back().end.core_water_salt, records));
}

} // namespace

void advise(PlanResult& r, const PlanSetup& setup, base::Records& records) {
    judge::Weighed weighed = weigh(r.plan, setup, records);
    weighed.above_limit = 0; // temperatures() tells the part of the logs that was used
    law(r, setup, weighed, records);
    r.findings = judge::judge(weighed, records);
    temperatures(r, records);
    const auto cures = [](const StageResult& s) {
        return s.stage.kind == Kind::cover || s.stage.kind == Kind::rub ||
               s.stage.kind == Kind::bag;
    };
    const auto last = std::find_if(r.stages.rbegin(), r.stages.rend(), cures);
    if (r.last_good && last != r.stages.rend() && last->to > *r.last_good * (1 + 1e-6))
        r.findings.warn("schedule", "it leaves the cure after " +
                                        base::day_number(last->to, base::Rounding::up) +
                                        " days, past its latest, " +
                                        base::day_number(*r.last_good, base::Rounding::down) +
                                        " days: then " + r.last_good_reason);
    r.hands = r.plan.pump ? 1 : 0;
    double overlooked = 0;
    for (const StageResult& s : r.stages) {
        r.hands += 1 + s.stage.changes;
        if (s.met && s.barely)
            r.findings.warn(
                "schedule",
                s.stage.where + ": what it waits for only just comes true, in " +
                    days(s.to - s.from) +
                    " on the finer of two meshes and not on the coarser: ask for a little less");
        else if (!s.met)
            r.findings.warn("schedule", s.stage.where +
                                            ": what it waits for does not come true in " +
                                            days(s.to - s.from));
        if ((s.stage.kind == Kind::rub || s.stage.kind == Kind::bag) && s.salt_left > 0 &&
            !s.gone && s.stage.kind == Kind::rub)
            overlooked += s.salt_left;
    }
    if (const std::string text = ends_left_out(setup.stages.front().setup); !text.empty())
        r.findings.note(text);
    if (overlooked > 0 && r.weight > 0)
        r.findings.warn("schedule", "salt is still on the meat when the rub ends: " +
                                        base::show_mass(overlooked) +
                                        " per piece is brushed off or drained");
    const materials::Band taste = materials::taste_band(records);
    const Reading& end = r.stages.back().end;
    if (end.mean_salt > taste.high)
        r.findings.warn("schedule", "the whole is too salty at the end: mean " +
                                        percent(end.mean_salt) + ", band " + percent(taste.low) +
                                        " to " + percent(taste.high));
    else if (end.mean_salt < taste.low * (1 - 1e-3)) // a wait for just so much ends a hair below
        r.findings.warn("schedule", "the whole tastes under-salted at the end: mean " +
                                        percent(end.mean_salt) + ", band " + percent(taste.low) +
                                        " to " + percent(taste.high));
    if (!r.cured)
        r.findings.warn("schedule",
                        r.has_nitrite ? "the core is not cured: it has " + ppm(end.core_arrived) +
                                            " of the " + ppm(r.target) + " it needs"
                                      : "the core is not cured: it has " + percent(end.core_salt) +
                                            " salt of the " + percent(r.target) + " asked of it");
    if (std::ranges::any_of(r.plan.stages, [](const Stage& s) {
            return s.kind == Kind::rub || s.kind == Kind::bag;
        }))
        r.findings.warn("schedule",
                        "salt on the meat is taken to wet at once; where it lies dry for days "
                        "the cure is later");
    if (r.plan.pump)
        r.findings.warn(
            "schedule",
            "needles carry what is on the surface inside: clean needles, cold brine, made fresh");
    r.findings.add(judge::cautions(r.has_nitrite, records));
}

} // namespace tidemark::cure
