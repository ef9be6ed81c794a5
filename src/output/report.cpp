// SPDX-License-Identifier: MIT
/// Lays the screen out from top to bottom.
#include "output/report.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "output/plan_calendar.hpp"
#include "output/section_map.hpp"
#include "output/slice_words.hpp"
#include "output/words.hpp"

#include <algorithm>

namespace tidemark::output {
namespace {

constexpr int map_columns = 36, map_rows = 7; // fits the narrowest screen

std::string about(double seconds, Rounding rounding) {
    return show_day(seconds, rounding) + " (about " + show_days_hours(seconds, rounding) + ')';
}

/// The law's arithmetic, kept apart from the model's.
std::string ingoing(const cure::Ingoing& law) {
    if (!law.whole_system) {
        return "ingoing nitrite is not known without the weights of meat and brine";
    }
    return show_ppm(*law.whole_system) + " ingoing nitrite " + law.note + ", " +
           limit_in_words(law.limit, law.law);
}

void window(Screen& screen, const cure::Outcome& p) {
    if (!p.first().cured) {
        screen.paragraph("CURED", "The core is not cured: " + p.first().never);
    } else if (p.first().last_good && *p.first().last_good < *p.first().cured) {
        screen.paragraph("CURED", "There is no good day: the core is cured from " +
                                      about(*p.first().cured, Rounding::up) + ", but " +
                                      show_day(*p.first().last_good, Rounding::down) +
                                      " is the last good one. Try a weaker brine, needles, a "
                                      "thinner cut, or a soak afterwards.");
    } else {
        screen.paragraph("CURED",
                         "from " + about(*p.first().cured, Rounding::up) + ": the core is cured");
        screen.paragraph("", p.first().last_good
                                 ? "to " + about(*p.first().last_good, Rounding::down) + ": then " +
                                       p.first().last_good_reason
                                 : "with no last day within the time looked at");
    }
    if (p.has_nitrite && p.first().cured && p.first().lasting) {
        screen.paragraph("", "Colour that lasts reaches the core on " +
                                 show_day(*p.first().lasting, Rounding::up) + '.');
    }
    if (p.first().cured) {
        screen.paragraph("", "These days do not include variation between pieces.");
    }
}

/// What becomes of a piece with typical values.
void typical(Screen& screen, const cure::Outcome& p) {
    std::string text = !p.first().cured ? "the core is not cured: " + p.first().never
                       : p.has_nitrite
                           ? "cured to the core on " + show_day(*p.first().cured, Rounding::up)
                           : "salted to the core on " + show_day(*p.first().cured, Rounding::up);
    text += "; on " + kept_day(p.at) + " it holds " + show_percent(p.first().mean.salt) +
            " salt, the core " +
            (p.has_nitrite ? show_ppm(p.first().core.arrived) + " nitrite (first pink at " +
                                 show_ppm(p.first().pink_target) + ", cured at " +
                                 show_ppm(p.first().target) + ", lasting at " +
                                 show_ppm(p.first().stable_target) + ")"
                           : show_percent(p.first().core.salt));
    screen.paragraph("TYPICAL", text + '.');
}

/// What a look said, in place of what is typical: the map would be of a piece as told.
void seen(Screen& screen, const inference::Still& s) {
    screen.paragraph("SEEN", "on " + kept_day(s.seen.time) + ": " + described(s.seen) + ".");
    const Act act = act_on(s);
    screen.paragraph(act.heading, act.text);
    screen.paragraph("WHY",
                     "tidemark why, with the same flags, tells the causes and what to do next "
                     "time.");
}

/// The days of the parts of the answer, as they vary.
void days(Screen& screen, const cure::Outcome& p, const inference::Ranges& r, bool seen) {
    screen.paragraph("DAYS", "The core is cured: " + day_range(r.pull) + '.');
    screen.paragraph("", "The mean salt is enough: " + day_range(r.salted) + '.');
    screen.paragraph("", "It is too much: " + day_range(r.last_good) + '.');
    if (p.has_nitrite && !seen) {
        screen.paragraph("", "Colour that lasts reaches the core: " + day_range(r.lasting) + '.');
    }
    screen.paragraph("", "The chance is right to " + fixed(200 * r.best.error, 0) +
                             " in 100 as far as " + std::to_string(r.draws) +
                             " pieces drawn can tell.");
}

constexpr double least_share = 0.03; ///< of the spread, to be told

/// In one line: where most of the spread comes from.
void spread_line(Screen& screen, const inference::Ranges& r) {
    std::string text;
    for (const inference::SpreadShare& share : r.shares) {
        const std::string part =
            (text.empty() ? "" : ", ") + share.name + ' ' + fixed(100 * share.total, 0) + " %";
        if (share.total < 0.1 || width_of(text + part) > screen.text_width()) {
            break;
        }
        text += part;
    }
    if (!text.empty()) {
        screen.paragraph("SPREAD", text);
    }
}

void spread(Screen& screen, const inference::Ranges& r) {
    screen.paragraph("SPREAD", "of the day the core is cured comes from (shares overlap):");
    for (const inference::SpreadShare& share : r.shares) {
        if (share.total < least_share) {
            break;
        }
        std::string head = padded(fixed(100 * share.total, 0), 12) + " %  ";
        for (const std::string& line :
             wrapped(share.name + (share.owner.empty() ? "" : " (" + share.owner + ")") +
                         (share.remedy.empty() ? "" : ": " + share.remedy),
                     screen.columns() - width_of(head))) {
            screen.line(head + line);
            head = std::string(head.size(), ' ');
        }
    }
    for (const inference::Mistake& m : r.mistakes) {
        screen.paragraph("", "Not in these days: " + m.name + ", as with " +
                                 fixed(100 * m.share, 0) + " pieces in 100. Of those " +
                                 fixed(100 * m.grey, 0) +
                                 " in 100 are grey on the best day; half are cured " +
                                 (std::isfinite(m.cured.half)
                                      ? "by day " + fixed(std::ceil(m.cured.half / 86400), 0)
                                      : std::string("on no day looked at")) +
                                 ": " + m.remedy + '.');
    }
}

void state(Screen& screen, const cure::Outcome& p) {
    std::vector<std::vector<std::string>> rows;
    const auto ppm = [&](double value) { return p.has_nitrite ? show_ppm(value) : ""; };
    const auto spot = [&](const std::string& name, const cure::Spot& s) {
        rows.push_back({name, show_percent(s.salt), show_percent(s.water_salt), ppm(s.arrived),
                        ppm(s.residual)});
    };
    const auto brine = [&](const std::string& name, const cure::BrineState& b) {
        rows.push_back({name, show_percent(b.salt), "", "", ppm(b.nitrite)});
    };
    const std::string day = day_shown(p);
    spot("core", p.first().core);
    spot("mean of the lean", p.first().mean);
    brine("brine when made", p.first().stages.front().bath_start);
    brine("brine on " + day, p.first().stages.back().bath_end);
    screen.table({{"", "On " + day, 27, ""},
                  {"", "salt", 8, "salt"},
                  {"", "in its water", 14, "in its water"},
                  {"", p.has_nitrite ? "arrived nitrite" : "", 17, "arrived nitrite"},
                  {"", p.has_nitrite ? "free nitrite" : "", 14, "free nitrite"}},
                 rows);
}

void drawing(Screen& screen, const cure::Outcome& p, const cure::Picture& picture) {
    show_map(screen, section_map(picture,
                                 {p.has_nitrite, p.first().target,
                                  p.has_nitrite ? p.first().stable_target : 0},
                                 map_columns, map_rows));
}

} // namespace

std::string report(const inference::Answer& a, const cure::Picture& picture,
                   const std::string& change_command, const Shown& shown) {
    const bool more = shown.more;
    const cure::Outcome& p = a.outcome;
    const auto& ranges = a.ranges;
    const Advised advised{a.changes, change_command, change_dates(a)};
    judge::Findings findings = p.findings;
    Screen screen(shown);
    screen.dangers(findings);
    for (const std::string& line : wrapped(p.title, screen.columns())) {
        screen.line(line);
    }
    screen.line();
    if (ranges) {
        show_best(screen, ranges->best, p.first().never);
        if (ranges->asked)
            screen.paragraph("AT",
                             kept_day(ranges->asked->time) + ": " + right_and_not(*ranges->asked));
        if (comes_right(ranges->best))
            show_begin(screen, p.question);
        if (a.still) {
            seen(screen, *a.still);
        } else {
            show_change(screen, ranges->best, advised);
            typical(screen, p);
        }
    } else {
        window(screen, p);
    }
    const bool dates_below = p.question.start && !shown.quiet;
    if (!a.still && (more || !dates_below))
        drawing(screen, p, picture);
    if (p.has_nitrite) {
        screen.paragraph("LAW", ingoing(p.ingoing));
    }
    if (ranges && !more && !a.still) {
        spread_line(screen, *ranges);
    }
    if (more) {
        screen.paragraph("CORE", base::show_length(p.first().core.depth) +
                                     " from the nearest wet face; " + "it holds " +
                                     fixed(100 * p.first().core.of_equilibrium, 0) +
                                     " % of the salt it would hold at balance.");
        screen.line();
        state(screen, p);
        screen.line();
        if (ranges) {
            if (ranges->ingoing_high) {
                screen.paragraph("LAW", "as measured out the ingoing nitrite may be up to " +
                                            show_ppm(*ranges->ingoing_high));
            }
            if (ranges->brine_salt_low < 0.95 * p.first().stages.front().bath_start.salt) {
                screen.paragraph("", "as measured out the brine may have no more than " +
                                         show_percent(ranges->brine_salt_low) + " salt");
            }
            days(screen, p, *ranges, a.still.has_value());
            if (!a.still)
                spread(screen, *ranges);
            show_tried(screen, advised);
        }
    }
    // Beside the spread between pieces a twentieth is nothing; alone, what a day is shown to
    // counts.
    const double told = ranges ? 0.05 : 0.01, tenth = 8640; // [1], [s]
    if (p.first().cured_error.value_or(0) > std::max(tenth, told * p.first().cured.value_or(0))) {
        findings.tell("arithmetic", "the arithmetic alone may be wrong by " +
                                        base::significant(*p.first().cured_error / 86400, 1) +
                                        " days: ask for more --cells");
    }
    screen.remarks(findings, more);
    return screen.text();
}

} // namespace tidemark::output
