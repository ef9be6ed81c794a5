// SPDX-License-Identifier: MIT
/// Lays the screen out from top to bottom.
#include "output/report.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "output/screen.hpp"
#include "output/section_map.hpp"
#include "output/words.hpp"

#include <boost/algorithm/string/join.hpp>

#include <algorithm>

namespace tidemark::output {
namespace {

constexpr int map_columns = 42, map_rows = 11;

std::string about(double seconds, Rounding rounding) {
    return show_day(seconds, rounding) + " (about " + show_days_hours(seconds, rounding) + ')';
}

/// The law's arithmetic, kept apart from the model's.
std::string ingoing(const cure::Ingoing& law) {
    if (!law.whole_system) {
        return "ingoing nitrite is not known without the weights of meat and brine";
    }
    return "ingoing nitrite " + show_ppm(*law.whole_system) + ", limit " + show_ppm(law.limit) +
           (law.note.empty() ? "" : " (" + law.note + ')');
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
        const auto record = std::ranges::find(
            p.parameters, "muscle." + p.question.piece.muscle + ".diffusivity", &base::Record::key);
        const auto factor =
            record == p.parameters.end() ? std::nullopt : spread_factor(record->spread);
        screen.paragraph("", factor ? "Meat varies: two cuts in three take " +
                                          base::significant(1 / *factor, 2) + " to " +
                                          base::significant(*factor, 2) + " times these days."
                                    : "How far cuts differ is not in these days.");
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

std::string report(const cure::Prediction& p, const cure::Picture& picture) {
    Screen screen;
    for (const std::string& line : wrapped(p.title, page)) {
        screen.line(line);
    }
    screen.line();
    window(screen, p);
    screen.paragraph("CORE", base::show_length(p.core.depth) + " from the nearest wet face; " +
                                 "it holds " + fixed(100 * p.core.of_equilibrium, 0) +
                                 " % of the salt it would hold if left for good.");
    screen.line();
    state(screen, p);
    if (p.has_nitrite) {
        screen.paragraph("LAW", ingoing(p.ingoing));
    }
    screen.line();
    drawing(screen, p, picture);
    screen.line();
    for (const std::string& warning : p.warnings) {
        screen.paragraph("WARNING", warning);
    }
    constexpr double tenth = 8640; // of a day, to which days are shown
    if (p.discretisation_error.value_or(0) > std::max(tenth, 0.01 * p.pull.value_or(0))) {
        screen.paragraph("WARNING", "the arithmetic alone may be wrong by " +
                                        base::significant(*p.discretisation_error / 86400, 1) +
                                        " days: ask for more --cells");
    }
    screen.paragraph("CAUTION", boost::join(p.cautions, "; "));
    return screen.text();
}

} // namespace tidemark::output
