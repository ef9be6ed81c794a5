// SPDX-License-Identifier: MIT
#include "output/plan_report.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "output/best_view.hpp"
#include "output/section_map.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

using Kind = cure::Stage::Kind;

std::string time_word(double seconds) {
    return seconds < 2 * 86400 ? fixed(seconds / 3600, seconds < 36000 ? 1 : 0) + " h"
                               : fixed(seconds / 86400, 1) + " d";
}

void stages(Screen& screen, const cure::PlanResult& r) {
    const auto row = [&](const std::string& name, const std::vector<std::string>& cells) {
        std::string line = filled(name, 24);
        for (const std::string& cell : cells)
            line += padded(cell, 9);
        screen.line(line);
    };
    screen.line(filled("", 24) + padded("", 18) + padded("salt %", 18) + padded("core", 15));
    row("stage", {"days", "at", "mean", "surface", "spread", r.has_nitrite ? "ppm" : "salt %"});
    const auto cells = [&](double from, double to, const std::string& at, const cure::Reading& e) {
        std::vector<std::string> list{
            to > 0 ? fixed(from / 86400, 1) + "-" + fixed(to / 86400, 1) : "0",
            at,
            fixed(100 * e.mean_salt, 2),
            fixed(100 * e.surface_salt, 2),
            e.mean_salt > 0 ? fixed(100 * e.even(), 0) + " %" : "-",
            r.has_nitrite ? fixed(1e6 * e.core_arrived, 1) : fixed(100 * e.core_salt, 2)};
        return list;
    };
    if (r.plan.pump)
        row("pumped to " + base::significant(100 * r.plan.pump->share, 3) + " %",
            cells(0, 0, "", r.start));
    int number = 0;
    for (const cure::StageResult& s : r.stages)
        row(std::to_string(++number) + " " + stage_name(s.stage),
            cells(s.from, s.to, fixed(s.temperature - 273.15, 1) + " C", s.end));
    screen.line("  spread: (most - least) / mean; core: " +
                std::string(r.has_nitrite ? "nitrite arrived" : "salt") + ", target " +
                (r.has_nitrite ? show_ppm(r.target) : show_percent(r.target)));
}

void happenings(Screen& screen, const cure::PlanResult& r, bool more) {
    if (r.cured)
        screen.paragraph(
            "CORE",
            "cured on " + show_day(*r.cured, Rounding::up) +
                (r.lasting       ? "; colour that lasts on " + show_day(*r.lasting, Rounding::up)
                 : r.has_nitrite ? "; no colour that lasts within the schedule"
                                 : "") +
                (r.core.depth > 1e-3
                     ? ". It lies " + base::show_length(r.core.depth) + " from the nearest wet face"
                     : std::string(". It lies at the surface")) +
                (r.core_between_needles ? "; the least cured of all is between needles." : "."));
    else
        screen.paragraph("CORE", "not cured at the end: " +
                                     (r.has_nitrite ? show_ppm(r.stages.back().end.core_arrived) +
                                                          " of " + show_ppm(r.target)
                                                    : show_percent(r.stages.back().end.core_salt) +
                                                          " of " + show_percent(r.target)) +
                                     ".");
    if (r.last_good)
        screen.paragraph("LATEST", show_day(*r.last_good, Rounding::down) +
                                       " to take it out of the cure: then " + r.last_good_reason +
                                       '.');
    int number = 0;
    for (const cure::StageResult& s : more ? r.stages : std::vector<cure::StageResult>{}) {
        ++number;
        const std::string name = "stage " + std::to_string(number);
        if (s.gone)
            screen.paragraph("", name + ": the salt on the meat is used up on " +
                                     show_day(*s.gone, Rounding::up) + '.');
        if ((s.stage.kind == Kind::cover || s.stage.kind == Kind::soak) &&
            std::isfinite(s.bath_end.mass) && s.bath_end.mass > 0)
            screen.paragraph(
                "", name + ": the " + (s.stage.kind == Kind::soak ? "water" : "brine") +
                        " ends at " + show_percent(s.bath_end.salt) + " salt" +
                        (r.has_nitrite ? ", " + show_ppm(s.bath_end.nitrite) + " nitrite" : "") +
                        '.');
    }
}

void sure(Screen& screen, const cure::PlanResult& r, const inference::ScheduleRange& s) {
    const auto day = [](double t, Rounding rounding) {
        return t < inference::never ? show_day(t, rounding) : std::string("not at all");
    };
    std::string text = fixed(100 * s.chance_cured, 0) +
                       " in 100 such cuts are cured to the core at the end: 5 by " +
                       day(s.cured.early, Rounding::up) + ", half by " +
                       day(s.cured.half, Rounding::up) + ", 95 by " +
                       day(s.cured.late, Rounding::up) + ". ";
    if (std::ranges::any_of(r.plan.stages,
                            [](const cure::Stage& x) { return x.until.has_value(); }))
        text += "The schedule ends between " + day(s.ready.early, Rounding::nearest) + " and " +
                day(s.ready.late, Rounding::nearest) + " in 90 of 100. ";
    text += "Mean salt at the end " + fixed(100 * s.salt_low, 2) + " to " +
            fixed(100 * s.salt_high, 2) + " %.";
    if (s.error > 0.05)
        text += " These ranges are rough: the surface behind them is off by " +
                fixed(100 * s.error, 0) + " %.";
    screen.paragraph("RANGE", text);
}

/// The chance of these days, and the best length of the stage that cures.
void kept(Screen& screen, const cure::PlanResult& r, const inference::ScheduleChance& c) {
    const std::string stage =
        "stage " + std::to_string(c.stage + 1) + " (" + stage_name(r.stages[c.stage].stage) + ")";
    const bool good = c.best.best && c.as_planned.right >= c.best.confidence;
    const std::string others = not_right(c.as_planned);
    screen.paragraph(good ? "BEST" : "AS SET", (good ? "as set: " : "") +
                                                   in_100(c.as_planned.right) +
                                                   " pieces like this come out right" +
                                                   (others.empty() ? "" : "; " + others) + ".");
    if (!good)
        show_best(screen, c.best, "", "end " + stage + " on ");
    if (c.error > 0.1)
        screen.paragraph("", "These chances are rough.");
}

void law(Screen& screen, const cure::PlanResult& r) {
    if (r.doses.empty())
        return;
    std::string text =
        show_ppm(r.ingoing) + " ingoing nitrite, " +
        limit_in_words(r.ingoing_limit, r.plan.base.law + ", " + r.plan.base.product);
    if (r.doses.size() > 1)
        for (const cure::MethodDose& d : r.doses)
            text += (&d == &r.doses.front() ? ": " : ", ") + d.method + ' ' + show_ppm(d.nitrite);
    screen.paragraph("LAW", text);
}

void drawing(Screen& screen, const cure::PlanResult& r, const cure::Picture& picture,
             const std::string& title) {
    const SectionMap map = section_map(
        picture, {r.has_nitrite, r.target, r.has_nitrite ? r.stable_target : 0}, 42, 11);
    screen.line(title);
    const std::size_t width = map.lines.empty() ? 0 : map.lines[0].size();
    for (std::size_t k = 0; k < std::max(map.lines.size(), map.legend.size()); ++k)
        screen.line(filled("  " + (k < map.lines.size() ? map.lines[k] : ""), width + 6) +
                    (k < map.legend.size() ? map.legend[k] : ""));
}

} // namespace

std::string stage_name(const cure::Stage& s) {
    switch (s.kind) {
    case Kind::cover:
        return s.fresh || s.brine ? "fresh brine" : "brine";
    case Kind::rub:
        return "rub";
    case Kind::bag:
        return "bag";
    case Kind::soak:
        return "soak";
    case Kind::rest:
        break;
    }
    return "rest";
}

std::string plan_report(const cure::PlanResult& r,
                        const std::optional<inference::ScheduleRange>& range,
                        const std::optional<inference::ScheduleChance>& chance, bool more,
                        const cure::Picture& section, const std::optional<cure::Picture>& across) {
    Screen screen;
    screen.dangers(r.findings);
    std::string muscle = r.plan.base.piece.muscle;
    std::ranges::replace(muscle, '-', ' ');
    const std::string name = r.plan.base.name.empty() ? "" : r.plan.base.name + ": ";
    screen.line(name + muscle + ", " + r.plan.base.piece.shape +
                (r.plan.base.piece.dimensions.thickness > 0
                     ? ", " + base::show_length(r.plan.base.piece.dimensions.thickness) + " thick"
                     : std::string()) +
                (r.weight > 0 ? ", " + base::show_mass(r.weight) : std::string()) +
                ": a schedule of " + time_word(r.stages.back().to));
    screen.line();
    if (chance)
        kept(screen, r, *chance);
    happenings(screen, r, more);
    screen.line();
    stages(screen, r);
    if (range && more)
        sure(screen, r, *range);
    law(screen, r);
    if (r.gain > 0 && more)
        screen.paragraph("", "weight gained by the needles " + base::significant(100 * r.gain, 3) +
                                 " %, needles " + base::show_length(r.plan.pump->needles.spacing) +
                                 " apart in rows " +
                                 base::show_length(r.plan.pump->needles.row_spacing) +
                                 " apart; percentages are of the cured weight");
    if (more) {
        screen.line();
        drawing(screen, r, section, "The section at the end");
        if (across) {
            screen.line();
            drawing(screen, r, *across,
                    "The plane across the needles on " + show_day(across->time));
        }
        screen.line();
    }
    screen.remarks(r.findings, more);
    return screen.text();
}

} // namespace tidemark::output
