// SPDX-License-Identifier: MIT
#include "cure/schedule_advice.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/say.hpp"
#include "judge/judge.hpp"
#include "materials/targets.hpp"

#include <algorithm>

namespace tidemark::cure {

namespace {

using Does = Stage::Kind;

std::string days(double seconds) {
    return base::significant(seconds / 86400, 2) + " days";
}

const StageResult* last_dose(const PieceOutcome& p) {
    const auto last = std::find_if(p.stages.rbegin(), p.stages.rend(),
                                   [](const StageResult& s) { return s.stage.doses(); });
    return last == p.stages.rend() ? nullptr : &*last;
}

/// Of one piece; `name` heads what is told of one among several.
void tell_piece(judge::Findings& out, const PieceOutcome& p, const std::string& name, bool nitrite,
                const materials::Band& taste) {
    const auto warn = [&](const std::string& text) { out.tell("schedule", name + text); };
    const StageResult* last = last_dose(p);
    if (p.last_good && last && !too_much_at_once(p) && last->to > *p.last_good * (1 + 1e-6))
        warn("it stays in the cure for " + base::day_number(last->to, base::Rounding::up) +
             " days, and the latest is " + base::day_number(*p.last_good, base::Rounding::down) +
             " days: then " + p.last_good_reason);
    double overlooked = 0;
    for (const StageResult& s : p.stages) {
        if (s.met && s.barely)
            warn(s.stage.where + ": the end condition is barely reached, in " +
                 days(s.to - s.from) +
                 " on the finer of two meshes and not on the coarser: ask for a little less");
        else if (!s.met)
            warn(s.stage.where + ": the end condition is not reached in " + days(s.to - s.from));
        if (s.stage.kind == Does::rub && s.salt_left > 0 && !s.gone)
            overlooked += s.salt_left;
    }
    if (overlooked > 0 && p.weight > 0)
        warn("salt is still on the meat when the rub ends: " + base::show_mass(overlooked) +
             " per piece is brushed off or drained");
    const Reading& end = p.stages.back().end;
    const std::string band =
        percent(end.mean_salt) + ", band " + percent(taste.low) + " to " + percent(taste.high);
    if (end.mean_salt > taste.high)
        out.note(name + "the whole is too salty at the end: mean " + band);
    else if (end.mean_salt < taste.low * (1 - 1e-3)) // a wait for just so much ends a hair below
        out.note(name + "the whole tastes under-salted at the end: mean " + band);
    if (!p.cured)
        warn(nitrite ? "the core is not cured: it has " + ppm(end.core_arrived) + " of the " +
                           ppm(p.target) + " it needs"
                     : "the core is not cured: it has " + percent(end.core_salt) + " salt of the " +
                           percent(p.target) + " asked of it");
}

} // namespace

bool too_much_at_once(const PieceOutcome& p) {
    constexpr double soon = 86400;
    const StageResult* last = last_dose(p);
    return p.last_good && last && last->stage.dry() && last->gone &&
           *last->gone - last->from < soon && *p.last_good <= *last->gone * (1 + 1e-6);
}

void tell_time(Outcome& o, base::Records& records) {
    const double limit = records.si("cooler.limit");
    std::vector<judge::Period> periods;
    std::optional<CoolerLog> log; // of all stages that have one, end to end
    double above = 0;
    for (const StageResult& s : o.first().stages) {
        periods.push_back(
            {s.stage.open() ? "cooler" : s.stage.where, s.temperature, s.to - s.from});
        if (!s.stage.log || !(s.to > s.from)) {
            if (s.to > s.from)
                log.reset();
            continue;
        }
        for (const std::string& remark : s.stage.log->remarks)
            o.findings.tell("log", remark);
        for (const std::string& remark : s.stage.log->beyond(s.from, s.to))
            o.findings.tell("log", remark);
        const CoolerLog part = s.stage.log->between(s.from, s.to);
        if (!log)
            log = CoolerLog{};
        log->time.insert(log->time.end(), part.time.begin(), part.time.end());
        log->temperature.insert(log->temperature.end(), part.temperature.begin(),
                                part.temperature.end());
        above = std::max(above, log->longest_above(limit));
    }
    o.findings.add(judge::judge_log(above, records));
    double least = 1; // salt over salt and water at a core
    for (const PieceOutcome& p : o.pieces)
        least = std::min(least, p.stages.back().end.core_water_salt);
    o.findings.add(judge::judge_time(periods, o.has_nitrite, least, records));
}

void tell_schedule(Outcome& o, base::Records& records) {
    const materials::Band taste = materials::taste_band(records);
    for (const PieceOutcome& p : o.pieces)
        tell_piece(o.findings, p, o.pieces.size() > 1 ? p.name + ": " : "", o.has_nitrite, taste);
    if (std::ranges::any_of(o.question.stages, &Stage::dry))
        o.findings.note(
            "assumes the salt on the meat dissolves at once; where it stays dry for days "
            "the cure is later");
    if (o.question.pump)
        o.findings.warn(
            "schedule",
            "needles carry what is on the surface inside: clean needles, cold brine, made fresh");
}

} // namespace tidemark::cure
