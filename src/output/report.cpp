// SPDX-License-Identifier: MIT
/// Lays the screen out from top to bottom.
#include "output/report.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "output/screen.hpp"
#include "output/section_map.hpp"
#include "output/words.hpp"

#include <algorithm>

namespace tidemark::output {
namespace {

constexpr int map_columns = 42, map_rows = 11;

std::string about(double seconds, Rounding rounding) {
    return show_day(seconds, rounding) + " (about " + show_days_hours(seconds, rounding) + ')';
}

/// The law's arithmetic, kept apart from the model's.
std::string ingoing(const cure::Ingoing& law, const std::optional<inference::Ranges>& ranges) {
    if (!law.whole_system) {
        return "ingoing nitrite is not known without the weights of meat and brine";
    }
    return "ingoing nitrite " + show_ppm(*law.whole_system) +
           (ranges && ranges->ingoing_high
                ? " (as measured out up to " + show_ppm(*ranges->ingoing_high) + ")"
                : "") +
           ", " + limit_in_words(law.limit, law.law) + (law.note.empty() ? "" : "; " + law.note);
}

void window(Screen& screen, const cure::Prediction& p) {
    if (!p.pull) {
        screen.paragraph("PULL", "The core is not cured: " + p.never);
    } else if (p.last_good && *p.last_good < *p.pull) {
        screen.paragraph("PULL", "There is no good day: the core is cured from " +
                                     about(*p.pull, Rounding::up) + ", but " +
                                     show_day(*p.last_good, Rounding::down) +
                                     " is the last good one.");
    } else {
        screen.paragraph("PULL", "from " + about(*p.pull, Rounding::up) + ": the core is cured");
        screen.paragraph("", p.last_good ? "to " + about(*p.last_good, Rounding::down) + ": then " +
                                               p.last_good_reason
                                         : "with no last day within the time looked at");
    }
    if (!p.window.empty()) {
        screen.paragraph("", p.window);
    }
    if (p.has_nitrite && p.pull && p.stable) {
        screen.paragraph("", "Colour that lasts reaches the core on " +
                                 show_day(*p.stable, Rounding::up) + '.');
    }
    if (p.pull) {
        screen.paragraph("", "How far cuts differ is not in these days.");
    }
}

std::string in_100(double share) {
    return fixed(100 * share, 0) + " in 100";
}

/// The window as all such cuts have it: the advised day, which is the late one, first.
void ranged_window(Screen& screen, const cure::Prediction& p, const inference::Ranges& r) {
    if (r.advised && r.open_advised < 0.5) {
        screen.paragraph("PULL", "No day suits most such cuts. Half are cured to the core by " +
                                     show_day(r.pull.half, Rounding::up) + ", 95 in 100 only by " +
                                     show_day(r.pull.late, Rounding::up) +
                                     ", when most are past their last good day.");
    } else if (r.advised) {
        screen.paragraph("PULL", "on " + about(*r.advised, Rounding::up) +
                                     ": 95 in 100 such cuts are cured to the core by then, " +
                                     "half by " + show_day(r.pull.half, Rounding::up) +
                                     ", 5 in 100 by " + show_day(r.pull.early, Rounding::up));
    } else {
        screen.paragraph("PULL",
                         p.pull ? "No day can be advised." : "The core is not cured: " + p.never);
        screen.paragraph("", "Such cuts are cured to the core: " + day_range(r.pull) + '.');
    }
    const auto good = [](double seconds, const std::string& share) {
        return share + (std::isfinite(seconds) ? " to " + show_day(seconds, Rounding::down)
                                               : " as long as was looked at");
    };
    screen.paragraph("GOOD", good(r.last_good.early, "95 in 100 stay good") + ", " +
                                 good(r.last_good.half, "half") + ", " +
                                 good(r.last_good.late, "5 in 100") +
                                 (p.last_good ? ": then " + p.last_good_reason : ""));
    std::string chances = in_100(r.open) + " have a good day at all";
    if (r.advised) {
        chances +=
            ", " + in_100(r.open_advised) + " have it on " + show_day(*r.advised, Rounding::up) +
            (r.open_advised < 0.5 ? ". Cut one open on " + show_day(r.pull.half, Rounding::up) +
                                        ", or learn more of what is listed as SPREAD"
                                  : "");
    }
    screen.paragraph("", chances + '.');
    if (p.has_nitrite) {
        screen.paragraph("", "Colour that lasts reaches the core: " + day_range(r.lasting) + '.');
    }
    if (p.pull) {
        screen.paragraph("", "With every number at its middle, as shown below, the core is cured "
                             "on " +
                                 show_day(*p.pull, Rounding::up) + '.');
    } else if (r.advised) {
        screen.paragraph("",
                         "With every number at its middle, as shown below, it is not: " + p.never);
    }
    if (!p.window.empty()) {
        screen.paragraph("", "There " + p.window);
    }
}

void spread(Screen& screen, const inference::Ranges& r) {
    constexpr double least = 0.03; // of the spread, to be worth a line
    constexpr std::size_t most = 3;
    std::size_t rows = 0;
    screen.paragraph("SPREAD", "of the pull day comes from (shares overlap):");
    for (const inference::SpreadShare& share : r.shares) {
        if (share.total < least || rows++ == most) {
            break;
        }
        std::string head = padded(fixed(100 * share.total, 0), 12) + " %  ";
        for (const std::string& line :
             wrapped(share.name + (share.remedy.empty() ? "" : ": " + share.remedy),
                     page - width_of(head))) {
            screen.line(head + line);
            head = std::string(head.size(), ' ');
        }
    }
}

void state(Screen& screen, const cure::Prediction& p) {
    const auto row = [&](const std::string& name, const std::string& salt, const std::string& water,
                         const std::string& arrived, const std::string& free) {
        std::string line = name;
        line.resize(27, ' ');
        line += padded(salt, 8) + padded(water, 14) + padded(arrived, 17) + padded(free, 14);
        screen.line(line.substr(0, line.find_last_not_of(' ') + 1));
    };
    const auto ppm = [&](double value) { return p.has_nitrite ? show_ppm(value) : ""; };
    const auto spot = [&](const std::string& name, const cure::Spot& s) {
        row(name, show_percent(s.salt), show_percent(s.water_salt), ppm(s.arrived),
            ppm(s.residual));
    };
    const auto brine = [&](const std::string& name, const cure::BrineState& b) {
        row(name, show_percent(b.salt), "", "", ppm(b.nitrite));
    };
    const std::string day = day_shown(p);
    row("On " + day, "salt", "in its water", p.has_nitrite ? "arrived nitrite" : "",
        p.has_nitrite ? "free nitrite" : "");
    spot("core", p.core);
    spot("mean of the lean", p.mean);
    brine("brine when made", p.brine_start);
    brine("brine on " + day, p.brine_end);
}

void drawing(Screen& screen, const cure::Prediction& p, const cure::Picture& picture) {
    const SectionMap map =
        section_map(picture, {p.has_nitrite, p.target, p.has_nitrite ? p.stable_target : 0},
                    map_columns, map_rows);
    const std::size_t width = map.lines.empty() ? 0 : map.lines[0].size();
    for (std::size_t k = 0; k < std::max(map.lines.size(), map.legend.size()); ++k) {
        std::string line = "  " + (k < map.lines.size() ? map.lines[k] : "");
        line.resize(width + 6, ' ');
        line += k < map.legend.size() ? map.legend[k] : "";
        screen.line(line.substr(0, line.find_last_not_of(' ') + 1));
    }
}

} // namespace

std::string report(const cure::Prediction& p, const cure::Picture& picture,
                   const std::optional<inference::Ranges>& ranges) {
    Screen screen;
    judge::Findings findings = p.findings;
    if (ranges) {
        findings.supersede(ranges->findings);
    }
    screen.dangers(findings);
    for (const std::string& line : wrapped(p.title, page)) {
        screen.line(line);
    }
    screen.line();
    if (ranges) {
        ranged_window(screen, p, *ranges);
    } else {
        window(screen, p);
    }
    screen.paragraph("CORE", base::show_length(p.core.depth) + " from the nearest wet face; " +
                                 "it holds " + fixed(100 * p.core.of_equilibrium, 0) +
                                 " % of the salt it would hold if left for good.");
    screen.line();
    state(screen, p);
    if (p.has_nitrite) {
        screen.paragraph("LAW", ingoing(p.ingoing, ranges));
    }
    if (ranges && ranges->brine_salt_low < 0.95 * p.brine_start.salt) {
        screen.paragraph("", "as measured out the brine may have no more than " +
                                 show_percent(ranges->brine_salt_low) + " salt");
    }
    if (ranges && !ranges->shares.empty()) {
        spread(screen, *ranges);
    }
    screen.line();
    drawing(screen, p, picture);
    screen.line();
    constexpr double tenth = 8640; // of a day, to which days are shown
    if (p.discretisation_error.value_or(0) > std::max(tenth, 0.01 * p.pull.value_or(0))) {
        findings.warn("arithmetic", "the arithmetic alone may be wrong by " +
                                        base::significant(*p.discretisation_error / 86400, 1) +
                                        " days: ask for more --cells");
    }
    screen.remarks(findings);
    return screen.text();
}

} // namespace tidemark::output
