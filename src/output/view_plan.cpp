// SPDX-License-Identifier: MIT
#include "output/view_parts.hpp"

#include "base/quantity.hpp"
#include "base/show.hpp"
#include "base/text.hpp"
#include "cure/schedule_advice.hpp"
#include "output/best_view.hpp"
#include "output/plan_calendar.hpp"
#include "output/section_map.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

using Kind = cure::Stage::Kind;

/// In a narrow column: of both units the first.
std::string degrees(double kelvin) {
    return base::shown_units() == base::Units::us ? base::show_temperature(kelvin, base::Units::us)
                                                  : fixed(kelvin - 273.15, 1) + " C";
}

void stages(Document& doc, const cure::Outcome& r) {
    std::vector<std::vector<std::string>> rows;
    const auto row = [&](const std::string& name, double from, double to, const std::string& at,
                         const cure::Reading& e) {
        rows.push_back(
            {name, to > 0 ? tenths(from) + "-" + tenths(to) : "0", at, fixed(100 * e.mean_salt, 2),
             fixed(100 * e.surface_salt, 2),
             e.mean_salt > 0 ? fixed(100 * e.even(), 0) + " %" : "-",
             r.has_nitrite ? fixed(1e6 * e.core_arrived, 1) : fixed(100 * e.core_salt, 2)});
    };
    if (r.question.pump)
        row("pumped to " + base::significant(100 * r.question.pump->share, 3) + " %", 0, 0, "",
            r.first().start);
    int number = 0;
    for (const cure::StageResult& s : r.first().stages)
        row(std::to_string(++number) + " " + stage_name(s.stage), s.from, s.to,
            degrees(s.temperature), s.end);
    const std::string core = r.has_nitrite ? "ppm" : "salt %";
    doc.table("stages",
              {{"", "stage", 24, ""},
               {"", "days", 9, "days"},
               {"", "at", 9, "at"},
               {"", "mean", 9, "mean salt %"},
               {"salt %", "surface", 9, "surface salt %"},
               {"", "even to", 9, "even to"},
               {"core", core, 9, "core " + core}},
              rows);
    doc.line("  even to: (most - least) / mean salt; core: " +
             std::string(r.has_nitrite ? "nitrite arrived" : "salt") + ", target " +
             (r.has_nitrite ? show_ppm(r.first().target) : show_percent(r.first().target)));
}

void happenings(Document& doc, const cure::Outcome& r) {
    if (r.first().cured) {
        const std::string text = "cured on " + show_day(*r.first().cured, Rounding::up) +
                                 (r.first().lasting ? "; colour that lasts on " +
                                                          show_day(*r.first().lasting, Rounding::up)
                                  : r.has_nitrite ? "; no colour that lasts within the schedule"
                                                  : "") +
                                 '.';
        doc.paragraph("CORE", text).longer =
            text +
            (r.first().core.depth > 1e-3 ? " It lies " + base::show_length(r.first().core.depth) +
                                               " from the nearest wet face"
                                         : std::string(" It lies at the surface")) +
            (r.first().core_between_needles ? "; the least cured of all is between needles." : ".");
    } else
        doc.paragraph("CORE",
                      "not cured at the end: " +
                          (r.has_nitrite ? show_ppm(r.first().stages.back().end.core_arrived) +
                                               " of " + show_ppm(r.first().target)
                                         : show_percent(r.first().stages.back().end.core_salt) +
                                               " of " + show_percent(r.first().target)) +
                          ".");
    if (r.first().last_good && !cure::too_much_at_once(r.first()))
        doc.paragraph("LATEST", show_day(*r.first().last_good, Rounding::down) +
                                    " to take it out of the cure: then " +
                                    r.first().last_good_reason + '.');
    doc.on = On::more;
    int number = 0;
    for (const cure::StageResult& s : r.first().stages) {
        ++number;
        const std::string name = "stage " + std::to_string(number);
        if (s.gone)
            doc.paragraph("", name + ": the salt on the meat is used up on " +
                                  show_day(*s.gone, Rounding::up) + '.');
        if ((s.stage.kind == Kind::cover || s.stage.kind == Kind::soak) &&
            std::isfinite(s.bath_end.mass) && s.bath_end.mass > 0)
            doc.paragraph(
                "", name + ": the " + (s.stage.kind == Kind::soak ? "water" : "brine") +
                        " ends at " + show_percent(s.bath_end.salt) + " salt" +
                        (r.has_nitrite ? ", " + show_ppm(s.bath_end.nitrite) + " nitrite" : "") +
                        '.');
    }
    doc.on = On::all;
}

void sure(Document& doc, const cure::Outcome& r, const inference::ScheduleRange& s) {
    const auto day = [](double t, Rounding rounding) {
        return t < inference::never ? show_day(t, rounding) : std::string("not at all");
    };
    const bool waits = std::ranges::any_of(
        r.question.stages, [](const cure::Stage& x) { return x.until.has_value(); });
    std::string text =
        std::string(waits ? "where each stage lasts until its end condition is reached: " : "") +
        fixed(100 * s.chance_cured, 0) +
        " in 100 pieces like this are cured to the core at the end: 5 by " +
        day(s.cured.early, Rounding::up) + ", half by " + day(s.cured.half, Rounding::up) +
        ", 95 by " + day(s.cured.late, Rounding::up) + ". ";
    if (waits)
        text += "The schedule ends between " + day(s.ready.early, Rounding::nearest) + " and " +
                day(s.ready.late, Rounding::nearest) + " in 90 of 100. ";
    text += "Mean salt at the end " + fixed(100 * s.salt_low, 2) + " to " +
            fixed(100 * s.salt_high, 2) + " %.";
    if (s.error > 0.05)
        text += " These ranges are rough: the surface behind them is off by " +
                fixed(100 * s.error, 0) + " %.";
    doc.paragraph("RANGE", text);
}

/// "end stage 2 (brine) on ", the stage that cures.
std::string ending(const cure::Outcome& r, const inference::ScheduleChance& c) {
    return "end stage " + std::to_string(c.stage + 1) + " (" +
           stage_name(r.first().stages[c.stage].stage) + ") on ";
}

/// Whether it lasts until something is so: then no day was set.
bool waits(const cure::Outcome& r, const inference::ScheduleChance& c) {
    return r.question.stages[c.stage].until.has_value();
}

/// The chance of these days, and the best length of the stage that cures.
void kept(Document& doc, const cure::Outcome& r, const inference::ScheduleChance& c) {
    const bool good = c.good_as_planned();
    const std::string others = not_right(c.as_planned);
    if (good || !waits(r, c))
        doc.paragraph(good ? "BEST" : "AS SET",
                      (good ? "as set: " : "") + in_100(c.as_planned.right) +
                          " pieces like this come out right" +
                          (others.empty() ? "" : "; " + others) + ".",
                      good ? "best" : "as set");
    if (!good)
        show_best(doc, c.best, "", ending(r, c));
    if (c.error > 0.1)
        doc.paragraph("", "These chances are rough.");
}

/// The stages with the days they end on, where no chance has been worked out.
void to_do(Document& doc, const cure::Outcome& r) {
    std::string text;
    for (const cure::StageResult& s : r.first().stages)
        text += (text.empty() ? "" : ", then ") + stage_name(s.stage) + " to " + day_shown(r, s.to);
    doc.paragraph("DO", text + ". These days do not include variation between pieces.", "best");
}

/// A way that the law has a limit for, in the words of stages.
std::string way(const std::string& method) {
    return method == "immersion" ? "brine" : method == "pumped" ? "needles" : "rub or bag";
}

void law(Document& doc, const cure::Outcome& r) {
    if (r.ingoing.doses.empty())
        return;
    std::string text = show_ppm(r.ingoing.whole_system.value_or(0)) + " ingoing nitrite, " +
                       limit_in_words(r.ingoing.limit, r.ingoing.law);
    if (r.ingoing.doses.size() > 1)
        for (const cure::MethodDose& d : r.ingoing.doses)
            text += (&d == &r.ingoing.doses.front() ? ": " : ", ") + way(d.method) + ' ' +
                    show_ppm(d.nitrite);
    doc.paragraph("LAW", text);
}

void drawing(Document& doc, const cure::Outcome& r, const cure::Picture& picture,
             const std::string& title) {
    doc.line(title);
    doc.map(picture, map_scale(r), true);
    doc.line();
}

} // namespace

std::string kept_brief(const cure::Outcome& r, const inference::ScheduleChance& c) {
    const bool good = c.good_as_planned();
    return (good || !waits(r, c) ? "as set: " + in_100(c.as_planned.right) + " right" : "") +
           (good ? "" : (waits(r, c) ? "" : "; ") + best_brief(c.best, ending(r, c)));
}

void schedule(Document& doc, const inference::Answer& a, const Advised& advised,
              const Sections& sections) {
    const cure::Outcome& r = a.outcome;
    doc.title(asked_of(r));
    if (a.chance) {
        kept(doc, r, *a.chance);
        show_change(doc, a.chance->best, advised,
                    "then end stage " + std::to_string(a.chance->stage + 1) + " on ");
    } else {
        to_do(doc, r);
    }
    show_begin(doc, r.question);
    happenings(doc, r);
    doc.line();
    stages(doc, r);
    doc.on = On::more;
    if (a.schedule_range)
        sure(doc, r, *a.schedule_range);
    show_tried(doc, advised);
    doc.on = On::all;
    law(doc, r);
    doc.on = On::more;
    if (r.gain > 0)
        doc.paragraph("", "weight gained by the needles " + base::significant(100 * r.gain, 3) +
                              " %, needles " + base::show_length(r.question.pump->needles.spacing) +
                              " apart in rows " +
                              base::show_length(r.question.pump->needles.row_spacing) +
                              " apart; percentages are of the cured weight");
    doc.line();
    drawing(doc, r, sections.section, "The section at the end");
    if (sections.across)
        drawing(doc, r, *sections.across,
                "The plane across the needles on " + day_shown(r, sections.across->time));
    doc.on = On::all;
    doc.remarks(r.findings, kept_back);
}

} // namespace tidemark::output
