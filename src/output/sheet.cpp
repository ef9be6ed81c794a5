// SPDX-License-Identifier: MIT
/// Sections of plain HTML from top to bottom. What goes in as markup is ours; every text from
/// outside goes through escaped().
#include "output/sheet.hpp"

#include "base/calendar.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "output/best_view.hpp"
#include "output/chart.hpp"
#include "output/html_page.hpp"
#include "output/plan_calendar.hpp"
#include "output/slice_words.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tidemark::output {
namespace {

using Moment = std::optional<std::chrono::local_seconds>;

Moment dated(const cure::Question& q) {
    return q.start ? Moment(cure::dates_from(q)) : Moment();
}

/// "day 28", with its date where the start is known.
std::string when(double seconds, const Moment& start) {
    return kept_day(seconds) +
           (start ? " (" + base::show_moment(base::minute_after(*start, seconds)) + ")" : "");
}

/// "4 d 6 h" or a date.
std::string entry_time(double seconds, const Moment& start) {
    if (start)
        return base::show_moment(base::minute_after(*start, seconds));
    const auto hours = std::lround(seconds / 3600);
    return "day " + std::to_string(hours / 24) +
           (hours % 24 ? ", " + std::to_string(hours % 24) + " h" : "");
}

/// The best day in large letters, and what becomes of the others.
void best(HtmlPage& sheet, const inference::BestDay& b, const Moment& start, const std::string& act,
          const std::string& never) {
    if (!comes_right(b)) {
        sheet.p("No day comes out right", "best").p(never.empty() ? "" : capital(never) + ".");
        return;
    }
    sheet.p(capital(act + when(b.best->time, start)) + ": " + in_100(b.best->right) + " right",
            "best");
    const std::string others = not_right(*b.best);
    sheet.p(
        (b.likely() ? "Of 100 pieces like this" : "No day suits most pieces. Of 100 like this") +
        std::string(" on that day, ") + (others.empty() ? "nearly all are right." : others + ".") +
        window_of(b) + " Right means cured to the core and of the salt that tastes right.");
}

void answer(HtmlPage& sheet, const inference::Answer& a, const Lines& lines) {
    const cure::Outcome& o = a.outcome;
    const Moment start = dated(o.question);
    sheet.open("Answer", "answer");
    if (cure::too_late(o.question) && o.question.ready)
        sheet.p("Begin " + begin_in_words(o.question), "best");
    if (a.still) {
        const Act act = act_on(*a.still);
        sheet.p(capital(act.heading) + ": " + act.text, "best");
    }
    if (a.ranges) {
        best(sheet, a.ranges->best, start, "best ", o.first().never);
        if (const auto& change = a.changes.best)
            sheet.line_to_type((change->enough ? "To be surer: " : "Better: ") + change->what +
                                   ". Then " + kept_day(change->day) + ": " +
                                   in_100(change->chance) + " right. " + change_dates(a),
                               lines.change);
    } else if (a.chance) {
        const inference::ScheduleChance& c = *a.chance;
        if (c.as_planned.right >= c.best.confidence || !c.best.best) {
            sheet.p(in_100(c.as_planned.right) + " right when the schedule is kept", "best");
        } else {
            best(sheet, c.best, start, "end stage " + std::to_string(c.stage + 1) + " on ", "");
            sheet.p("As set: " + in_100(c.as_planned.right) + " right when the schedule is kept.");
        }
    } else if (!a.chances.empty()) {
        std::vector<std::size_t> order(a.chances.size()); // the first to come out first
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::ranges::stable_sort(order, {}, [&](std::size_t k) {
            return a.chances[k].best ? a.chances[k].best->time : o.horizon();
        });
        for (const std::size_t k : order)
            best(sheet, a.chances[k], start, "take out " + o.pieces[k].name + " on ",
                 o.pieces[k].never);
    } else {
        sheet.p(o.first().cured ? "Cured to the core on " + show_day(*o.first().cured, Rounding::up)
                                : "The core is not cured",
                "best");
        sheet.p("This day does not include variation between pieces. " + o.first().never);
    }
    sheet.close();
}

void calendar(HtmlPage& sheet, const inference::Answer& a) {
    inference::Answer quiet = a; // the dangers stand above
    quiet.outcome.findings = {};
    sheet.open("Calendar");
    sheet.markup(
        "<table class=\"days\">\n<thead><tr><th scope=\"col\">Done</th><th scope=\"col\">When</th>"
        "<th scope=\"col\">What</th><th scope=\"col\">Initials</th></tr></thead>\n<tbody>\n");
    for (const CalendarEntry& e : plan_entries(quiet)) {
        const std::string title = escaped(e.title);
        sheet.markup(
            "<tr><td><input type=\"checkbox\" aria-label=\"Done: " + title + "\"></td><td>" +
            escaped(entry_time(e.time, dated(a.outcome.question))) + "</td><td>" + title +
            (e.whole_detail().empty() ? "" : "<small>" + escaped(e.whole_detail()) + "</small>") +
            "</td><td class=\"by\"><input type=\"text\" aria-label=\"Initials: " + title +
            "\"></td></tr>\n");
    }
    sheet.markup("</tbody>\n</table>\n").close();
}

std::string grams(double kilograms) {
    return base::show_mass(kilograms);
}

/// What the cook told of one brine, as names and values.
void brine(std::vector<std::pair<std::string, std::string>>& list, const cure::Brine& b,
           const std::string& of) {
    const auto named = [&](const std::string& what) { return capital(of + what); };
    const auto add = [&](const std::string& name, const std::optional<double>& mass) {
        if (mass && *mass > 0)
            list.emplace_back(named(name), grams(*mass));
    };
    add("water", b.water);
    add("ice, weighed", b.ice);
    add("cold water", b.cold_water);
    add("salt", b.salt_added);
    add("sugar", b.sugar);
    add("premix, " + show_percent(b.premix_strength) + " nitrite", b.premix);
    add("erythorbate", b.erythorbate);
    if (b.water)
        return;
    if (b.volume)
        list.emplace_back(named("brine"), base::show_volume(*b.volume));
    else
        add("brine", b.mass);
    if (b.salt)
        list.emplace_back(named("salt"), show_percent(*b.salt) + ": " + grams(*b.salt) +
                                             " in each kg of brine, premix and all");
    if (b.nitrite && *b.nitrite > 0)
        list.emplace_back(named("sodium nitrite"),
                          show_ppm(*b.nitrite) + ": " + grams(*b.nitrite / b.premix_strength) +
                              " of premix (" + show_percent(b.premix_strength) +
                              ") in each kg of brine");
}

void recipe(HtmlPage& sheet, const cure::Outcome& o) {
    const cure::Question& q = o.question;
    std::vector<std::pair<std::string, std::string>> list;
    for (const cure::PieceOutcome& p : o.pieces)
        list.emplace_back(
            o.pieces.size() > 1 ? capital(p.name) : "Meat",
            (p.piece.pieces > 1 ? std::to_string(p.piece.pieces) + " pieces, each " : "") +
                (p.weight > 0 ? base::show_mass(p.weight)
                              : base::show_length(p.piece.dimensions.thickness) + " thick"));
    const bool covered = std::ranges::any_of(
        q.stages, [](const cure::Stage& s) { return s.kind == cure::Stage::Kind::cover; });
    if (covered || (q.pump && !q.pump->brine))
        brine(list, o.weighed, "");
    if (q.pump) {
        list.emplace_back("Needles", show_percent(q.pump->share) + " of the raw weight");
        if (q.pump->brine)
            brine(list, *o.needles, "needles' ");
    }
    for (std::size_t k = 0; k < q.stages.size(); ++k)
        if (q.stages[k].dry())
            list.emplace_back("Stage " + std::to_string(k + 1) + ", " + stage_name(q.stages[k]),
                              dry_load(q.stages[k], q.base.brine,
                                       o.pieces.size() > 1 ? 0 : o.first().weight,
                                       o.first().piece.pieces));
    list.emplace_back("Cooler", base::show_temperature(q.base.temperature));
    sheet.open("Recipe").markup("<dl>\n");
    for (const auto& [name, value] : list)
        sheet.markup("<dt>" + escaped(name) + "</dt><dd>" + escaped(value) + "</dd>\n");
    sheet.markup("</dl>\n");
    if (o.has_nitrite)
        sheet.p(o.ingoing.whole_system
                    ? "Ingoing nitrite " + show_ppm(*o.ingoing.whole_system) + ' ' +
                          o.ingoing.note + ", " + limit_in_words(o.ingoing.limit, o.ingoing.law) +
                          "."
                    : "Ingoing nitrite is not known without the weights of meat and brine.");
    sheet.close();
}

void still_grey(HtmlPage& sheet, const inference::Answer& a, const Lines& lines) {
    std::string text = "Leave the others in, keep them cold, and ask how long with what you see. ";
    if (a.ranges)
        text += "Cured to the core: " + day_range(a.ranges->pull) + ". ";
    sheet.open("Still grey in the middle?");
    if (const cure::Outcome& o = a.outcome; o.pieces.size() > 1) {
        text += lines.why.empty() ? "Ask of one piece at a time, by tidemark why with the file of "
                                    "that piece and its share of the brine"
                                  : "Ask of one piece at a time, by its number (--piece), which "
                                    "takes it in its share of the brine";
        const double brine = o.first().stages.front().bath_start.mass;
        std::string shares;
        if (o.meat > 0 && std::isfinite(brine) && brine > 0)
            for (const cure::PieceOutcome& p : o.pieces)
                shares += (shares.empty() ? ": " : ", ") +
                          base::show_mass(brine * p.weight / o.meat) + " for " + p.name;
        sheet.p(text + shares + ".");
        text.clear();
    }
    sheet.line_to_type(text + "It tells the day from which they are cured, and why:", lines.why)
        .close();
}

void slice(HtmlPage& sheet, const Lines& lines) {
    sheet.open("The slice, cut through the middle")
        .fields({"Cut on", "Ring top", "Ring bottom", "Ring left", "Ring right", "Grey, high",
                 "Grey, wide", "Taste", "By"});
    sheet.line_to_type("Then let the program learn from it:", lines.learn).close();
}

/// Every number that was used, with the source's own line.
void numbers(HtmlPage& sheet, const std::vector<base::Record>& used, const base::Records& records) {
    sheet.markup(
        "<details>\n<summary>The numbers used, and their sources</summary>\n"
        "<section class=\"wide\" tabindex=\"0\" aria-label=\"Numbers used\">\n"
        "<table>\n<thead><tr><th scope=\"col\">Number</th><th scope=\"col\">Value</th>"
        "<th scope=\"col\">Spread</th><th scope=\"col\">Source</th></tr></thead>\n<tbody>\n");
    for (const base::Record& r : used) {
        const base::Source* source = records.source(r.source);
        sheet.markup(
            "<tr><td>" + escaped(r.key) + "</td><td>" +
            escaped(base::significant(r.value, 6) + (r.unit == "1" ? "" : ' ' + r.unit)) +
            "</td><td>" + escaped(r.spread) + "</td><td>" +
            escaped((source ? source->citation : r.source) + " (" + mark_in_words(r.mark) + ')') +
            "</td></tr>\n");
    }
    sheet.markup("</tbody>\n</table>\n</section>\n</details>\n");
}

} // namespace

std::string batch_sheet(const inference::Answer& a, const std::vector<SectionPanel>& panels,
                        const Lines& lines, const base::Records& records) {
    const cure::Outcome& o = a.outcome;
    const std::string asked = o.pieces.size() > 1 ? kinds_in_one_brine(o) : capital(o.title);
    HtmlPage sheet("Batch sheet: " + base::shortened(cure::cut_name(o.question.base.piece), 40),
                   asked);
    sheet.fields({"Batch", "Begun on", "By"});
    sheet.dangers(o.findings);
    answer(sheet, a, lines);
    sheet.markup("<div class=\"two\">\n<div>\n");
    calendar(sheet, a);
    recipe(sheet, o);
    still_grey(sheet, a, lines);
    sheet.markup("</div>\n<div>\n");
    sheet.open("How far the cure has come").markup(sections_svg(a, panels)).close();
    const auto chance = [&](const std::string& of, const inference::BestDay& b) {
        if (b.best && b.by_day.size() > 1)
            sheet.open("The chance of each day" + of).markup(chance_svg(b)).close();
    };
    if (a.ranges)
        chance("", a.ranges->best);
    if (a.chance)
        chance(" for the end of stage " + std::to_string(a.chance->stage + 1), a.chance->best);
    sheet.markup("</div>\n</div>\n");
    slice(sheet, lines);
    sheet.cautions(o.findings);
    std::vector<base::Record> used = o.parameters;
    if (a.ranges)
        used.insert(used.end(), a.ranges->parameters.begin(), a.ranges->parameters.end());
    numbers(sheet, used, records);
    return sheet.done();
}

std::string choice_sheet(const cure::Choice& c, const inference::Ways& ways, const Lines& lines,
                         Moment start, const base::Records& records) {
    std::string asked = cure::cut_and_muscle(c.question.base.piece);
    if (const double thickness = c.question.base.piece.dimensions.thickness; thickness > 0)
        asked += ", " + base::show_length(thickness) + " thick";
    asked = capital(asked) + ": the ways side by side";
    const judge::Findings findings = findings_of(c, ways.best);
    HtmlPage sheet("Ways to cure: " + base::shortened(cure::cut_name(c.question.base.piece), 40),
                   asked);
    sheet.dangers(findings);
    sheet.open("Answer", "answer");
    if (ways.best) {
        const cure::Method& m = c.methods[*ways.best];
        sheet.p("Take " + m.name, "best");
        if (const auto& chance = ways.list[*ways.best].chance; chance && chance->best.best)
            best(sheet, chance->best, start, "take it out of the cure on ", "");
        sheet.p(capital(m.made) + ".").line_to_type("Its own sheet:", lines.sheet);
    } else {
        sheet.p("None of the ways can be recommended for this piece as it stands", "best")
            .p(capital(ways.reason) + ".");
    }
    sheet.close();
    sheet.open("The ways")
        .markup("<section class=\"wide\" tabindex=\"0\" aria-label=\"The ways\">\n<table>\n"
                "<thead><tr><th scope=\"col\">Way</th><th scope=\"col\">Out on</th>"
                "<th scope=\"col\">Right</th><th scope=\"col\">Salt</th>"
                "<th scope=\"col\">Ingoing nitrite</th><th scope=\"col\">Made up</th>"
                "</tr></thead>\n<tbody>\n");
    for (std::size_t k = 0; k < c.methods.size(); ++k) {
        const cure::Method& m = c.methods[k];
        const inference::Way& w = ways.list[k];
        const inference::BestDay* b = w.chance && w.chance->best.best ? &w.chance->best : nullptr;
        sheet.markup("<tr><th scope=\"row\">" + escaped(m.name) + "</th>");
        const std::string out = w.ruled_out.empty() ? "" : " Ruled out: " + w.ruled_out + ".";
        for (const std::string& cell :
             {(b ? when(b->best->time, start) + "." + window_of(*b) : std::string("-.")) + out,
              b ? in_100(b->best->right) : std::string("-"),
              show_percent(m.result.first().stages.back().end.mean_salt),
              m.result.has_nitrite && m.result.ingoing.whole_system
                  ? show_ppm(*m.result.ingoing.whole_system) + ", " +
                        limit_in_words(m.result.ingoing.limit, m.result.ingoing.law)
                  : std::string("-"),
              m.made})
            sheet.markup("<td>" + escaped(cell) + "</td>");
        sheet.markup("</tr>\n");
    }
    sheet.markup("</tbody>\n</table>\n</section>\n" + svg(choice_figure(c, ways, false), false))
        .close();
    sheet.open("Decided").fields({"Way", "By", "On"}).close();
    sheet.cautions(findings);
    numbers(sheet, c.methods.front().result.parameters, records);
    return sheet.done();
}

} // namespace tidemark::output
