// SPDX-License-Identifier: MIT
#include "output/view_parts.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "output/plan_calendar.hpp"
#include "output/section_map.hpp"
#include "output/slice_words.hpp"
#include "output/words.hpp"

#include <algorithm>

namespace tidemark::output {
namespace {

std::string about(double seconds, Rounding rounding) {
    return show_day(seconds, rounding) + " (about " + show_days_hours(seconds, rounding) + ')';
}

void window(Document& doc, const cure::Outcome& p) {
    if (!p.first().cured) {
        doc.paragraph("CURED", "The core is not cured: " + p.first().never, "best");
    } else if (p.first().last_good && *p.first().last_good < *p.first().cured) {
        doc.paragraph("CURED",
                      "There is no good day: the core is cured from " +
                          about(*p.first().cured, Rounding::up) + ", but " +
                          show_day(*p.first().last_good, Rounding::down) +
                          " is the last good one. Try a weaker brine, needles, a "
                          "thinner cut, or a soak afterwards.",
                      "best");
    } else {
        doc.paragraph("CURED",
                      "from " + about(*p.first().cured, Rounding::up) + ": the core is cured",
                      "best");
        doc.paragraph("", p.first().last_good
                              ? "to " + about(*p.first().last_good, Rounding::down) + ": then " +
                                    p.first().last_good_reason
                              : "with no last day within the time looked at");
    }
    if (p.has_nitrite && p.first().cured && p.first().lasting) {
        doc.paragraph("", "Colour that lasts reaches the core on " +
                              show_day(*p.first().lasting, Rounding::up) + '.');
    }
    if (p.first().cured) {
        doc.paragraph("", "These days do not include variation between pieces.");
    }
}

/// What becomes of a piece with typical values.
void typical(Document& doc, const cure::Outcome& p) {
    std::string text = core_cured(p) + (p.first().cured ? "" : ": " + p.first().never);
    text += "; on " + day_shown(p, p.at) + " it holds " + show_percent(p.first().mean.salt) +
            " salt, the core " +
            (p.has_nitrite ? show_ppm(p.first().core.arrived) + " nitrite (first pink at " +
                                 show_ppm(p.first().pink_target) + ", cured at " +
                                 show_ppm(p.first().target) + ", lasting at " +
                                 show_ppm(p.first().stable_target) + ")"
                           : show_percent(p.first().core.salt));
    doc.paragraph("TYPICAL", text + '.');
}

/// What a look said, in place of what is typical: the map would be of a piece as told.
void seen(Document& doc, const inference::Still& s) {
    const Act act = act_on(s);
    doc.paragraph(act.heading, act.text, "best");
    doc.paragraph("SEEN", "on " + seen_on(s.seen) + ".");
    doc.paragraph("WHY", "tidemark why, with the same flags, tells the causes and what to do next "
                         "time.");
}

/// The days of the parts of the answer, as they vary.
void days(Document& doc, const cure::Outcome& p, const inference::Ranges& r, bool seen) {
    doc.paragraph("DAYS", capital(core_range(r.pull)) + '.');
    doc.paragraph("", "The mean salt is enough: " + day_range(r.salted) + '.');
    doc.paragraph("", "It is too much: " + day_range(r.last_good) + '.');
    if (p.has_nitrite && !seen) {
        doc.paragraph("", "Colour that lasts reaches the core: " + day_range(r.lasting) + '.');
    }
    doc.paragraph("", "The chance is right to " + fixed(200 * r.best.error, 0) +
                          " in 100 as far as " + std::to_string(r.draws) +
                          " pieces drawn can tell.");
}

/// In one line: where most of the spread comes from.
void spread_line(Document& doc, const inference::Ranges& r) {
    Block& block = doc.add(Block::Form::list, "SPREAD", "");
    for (const inference::SpreadShare& share : r.shares) {
        if (share.total < 0.1)
            break;
        block.rows.push_back({share.name + ' ' + fixed(100 * share.total, 0) + " %"});
    }
}

void spread(Document& doc, const inference::Ranges& r) {
    doc.paragraph("SPREAD", "of the day the core is cured comes from (shares overlap):");
    for (const inference::SpreadShare& share : r.shares) {
        if (share.total < least_share) {
            break;
        }
        doc.line(padded(fixed(100 * share.total, 0), 12) + " %  " + share.name +
                 (share.owner.empty() ? "" : " (" + share.owner + ")") +
                 (share.remedy.empty() ? "" : ": " + share.remedy));
    }
    for (const inference::Mistake& m : r.mistakes) {
        doc.paragraph("", "Not in these days: " + m.name + ", as with " + fixed(100 * m.share, 0) +
                              " pieces in 100. Of those " + fixed(100 * m.grey, 0) +
                              " in 100 are grey on the best day; half are cured " +
                              (std::isfinite(m.cured.half)
                                   ? "by day " + fixed(std::ceil(m.cured.half / 86400), 0)
                                   : std::string("on no day looked at")) +
                              ": " + m.remedy + '.');
    }
}

void state(Document& doc, const cure::Outcome& p) {
    std::vector<std::vector<std::string>> rows;
    const auto ppm = [&](double value) { return p.has_nitrite ? show_ppm(value) : ""; };
    const auto spot = [&](const std::string& name, const cure::Spot& s) {
        rows.push_back({name, show_percent(s.salt), show_percent(s.water_salt), ppm(s.arrived),
                        ppm(s.residual)});
    };
    const auto brine = [&](const std::string& name, const cure::BrineState& b) {
        rows.push_back({name, show_percent(b.salt), "", "", ppm(b.nitrite)});
    };
    const std::string day = day_shown(p, p.at);
    spot("core", p.first().core);
    spot("mean of the lean", p.first().mean);
    brine("brine when made", p.first().stages.front().bath_start);
    brine("brine on " + day, p.first().stages.back().bath_end);
    doc.table("state",
              {{"", "On " + day, 27, ""},
               {"", "salt", 8, "salt"},
               {"", "in its water", 14, "in its water"},
               {"", p.has_nitrite ? "arrived nitrite" : "", 17, "arrived nitrite"},
               {"", p.has_nitrite ? "free nitrite" : "", 14, "free nitrite"}},
              rows);
}

} // namespace

void one_brine(Document& doc, const inference::Answer& a, const Advised& advised,
               const Sections& sections) {
    const cure::Outcome& p = a.outcome;
    const auto& ranges = a.ranges;
    judge::Findings findings = p.findings;
    doc.title(p.title);
    if (ranges) {
        if (!a.still || !act_on(*a.still).says_best)
            show_best(doc, ranges->best, p.first().never);
        if (ranges->asked)
            doc.paragraph("AT",
                          kept_day(ranges->asked->time) + ": " + right_and_not(*ranges->asked));
        if (comes_right(ranges->best))
            show_begin(doc, p.question);
        if (a.still) {
            seen(doc, *a.still);
        } else {
            show_change(doc, ranges->best, advised);
            typical(doc, p);
        }
    } else {
        window(doc, p);
    }
    if (!a.still) { // where dates stand below, it would fill the screen
        doc.on = p.question.start ? On::more : On::screen;
        doc.map(sections.section, map_scale(p), false);
    }
    doc.on = On::all;
    if (p.has_nitrite)
        doc.paragraph("LAW", ingoing_in_words(p.ingoing));
    doc.on = On::brief;
    if (ranges && !a.still)
        spread_line(doc, *ranges);
    doc.on = On::more;
    doc.paragraph("CORE", base::show_length(p.first().core.depth) +
                              " from the nearest wet face; it holds " +
                              fixed(100 * p.first().core.of_equilibrium, 0) +
                              " % of the salt it would hold at balance.");
    doc.line();
    state(doc, p);
    doc.line();
    if (ranges) {
        if (ranges->ingoing_high)
            doc.paragraph("LAW", "as measured out the ingoing nitrite may be up to " +
                                     show_ppm(*ranges->ingoing_high));
        if (ranges->brine_salt_low < 0.95 * p.first().stages.front().bath_start.salt)
            doc.paragraph("", "as measured out the brine may have no more than " +
                                  show_percent(ranges->brine_salt_low) + " salt");
        days(doc, p, *ranges, a.still.has_value());
        if (!a.still)
            spread(doc, *ranges);
        show_tried(doc, advised);
    }
    doc.on = On::all;
    // Beside the spread between pieces a twentieth is nothing; alone, what a day is shown to
    // counts.
    const double told = ranges ? 0.05 : 0.01, tenth = 8640; // [1], [s]
    if (p.first().cured_error.value_or(0) > std::max(tenth, told * p.first().cured.value_or(0))) {
        findings.tell("arithmetic", "the arithmetic alone may be wrong by " +
                                        base::significant(*p.first().cured_error / 86400, 1) +
                                        " days: ask for more --cells");
    }
    doc.remarks(findings, kept_back);
}

} // namespace tidemark::output
