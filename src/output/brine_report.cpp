// SPDX-License-Identifier: MIT
/// Lays the sheet out: dangers first, then the recipe, its numbers, the law and the chill.
#include "output/brine_report.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "output/screen.hpp"
#include "output/words.hpp"

namespace tidemark::output {
namespace {

using Kind = cure::Figure::Kind;

constexpr std::size_t name_width = 35, value_width = 21, law_width = 39;

std::string shown(Kind kind, double value) {
    switch (kind) {
    case Kind::mass:
        return base::show_mass(value);
    case Kind::volume:
        return base::show_volume(value);
    case Kind::percent:
        return show_percent(value);
    case Kind::ppm:
        return show_ppm(value);
    case Kind::degrees:
        return fixed(value, 1) + " degrees";
    case Kind::density:
        return fixed(value, 0) + " kg/m3";
    case Kind::temperature:
        break;
    }
    return base::show_temperature(value);
}

/// "low to high" without the kitchen units, or nothing where both are the same.
std::string range(Kind kind, double low, double high) {
    const auto metric = [&](double value) {
        const std::string text = shown(kind, value);
        return text.substr(0, text.find(" ("));
    };
    const auto unit = [](const std::string& text) { return text.substr(text.find(' ')); };
    std::string from = metric(low);
    const std::string to = metric(high);
    if (from == to) {
        return "";
    }
    if (unit(from) == unit(to)) {
        from.erase(from.find(' '));
    }
    return from + " to " + to;
}

/// A volume in the largest spoon or cup that fits, to a quarter: "1.25 cup".
std::string spoons(double volume) {
    for (const char* unit : {"cup", "tbsp"}) {
        const double size = base::to_si(1, unit, base::Dimension::volume);
        if (volume > 0.999 * size) {
            return base::significant(volume / size, 4) + ' ' + unit;
        }
    }
    return base::significant(volume / base::to_si(1, "tsp", base::Dimension::volume), 4) + " tsp";
}

void recipe(Screen& screen, const cure::BrineSheet& s) {
    std::string heading = "RECIPE";
    for (const cure::Ingredient& i : s.ingredients) {
        std::string text = filled(i.name, 13) + padded(base::show_mass(i.mass), value_width);
        if (i.factor != 1) {
            text += "  by the spoon: " + range(Kind::mass, i.mass / i.factor, i.mass * i.factor);
        }
        if (i.spoon) {
            text += "  by the spoon, less sure: " + spoons(*i.spoon);
        }
        screen.line(filled(heading, 9) + text);
        heading.clear();
    }
    if (s.exact) {
        screen.paragraph("", "made for " + show_percent(s.question.wish->salt) +
                                 " salt in the meat" +
                                 (s.question.wish->nitrite > 0
                                      ? " and " + show_ppm(s.question.wish->nitrite) + " nitrite"
                                      : "") +
                                 ", and rounded to " + base::show_mass(s.question.wish->scale) +
                                 "; what follows is for the rounded recipe");
    }
}

void figures(Screen& screen, const cure::BrineSheet& s) {
    bool spoons = false;
    for (const cure::Figure& f : s.figures) {
        spoons = spoons || !range(f.kind, f.low, f.high).empty();
    }
    screen.line(filled("BRINE", name_width + value_width) +
                (spoons ? "  if the spoons are off" : ""));
    for (const cure::Figure& f : s.figures) {
        screen.line(filled(f.name, name_width) + padded(shown(f.kind, f.value), value_width) +
                    "  " + range(f.kind, f.low, f.high));
    }
}

std::string method_in_words(const cure::Dose& dose, const cure::BrineQuestion& q) {
    if (dose.method == "immersion") {
        return "immersed until balance";
    }
    if (dose.method == "pick-up") {
        return "taken out at a gain of " + base::significant(100 * *q.pick_up, 3) + " %";
    }
    if (dose.method == "pumped") {
        return "pumped to a gain of " + base::significant(100 * *q.pump, 3) + " %";
    }
    return "if all went in, " + dose.method;
}

void law(Screen& screen, const cure::BrineSheet& s) {
    if (s.doses.empty()) {
        return;
    }
    screen.line();
    screen.line(filled("LAW      " + s.question.law + ", " + s.question.product, law_width) +
                padded("ingoing", 10) + padded("limit", 10));
    for (const cure::Dose& d : s.doses) {
        screen.line(
            filled((d.judged ? "* " : "  ") + d.substance + ", " + method_in_words(d, s.question),
                   law_width) +
            padded(show_ppm(d.value), 10) +
            padded(d.limit ? show_ppm(d.limit->value) : "not set", 10) + "  " +
            range(Kind::ppm, d.low, d.high));
    }
    if (s.least) {
        screen.line(filled("  least nitrite asked for", law_width + 10) +
                    padded(show_ppm(*s.least), 10));
    }
    std::string note = "* the method this cure is judged by; the others for comparison";
    for (const cure::Dose& d : s.doses) {
        if (d.judged && d.limit) {
            const materials::Limit& limit = *d.limit;
            note += "; " + d.substance + " limit: " + limit.source + ", " + limit.where;
            if (limit.ion) {
                note += ", printed as " + show_ppm(limit.printed) + " of the ion";
            }
            if (limit.mark == 'M') {
                note += " (from memory: verify with your authority)";
            }
        }
    }
    screen.paragraph("", note);
}

void chill(Screen& screen, const cure::BrineSheet& s) {
    if (!s.cooled) {
        return;
    }
    const cure::Cooled& c = *s.cooled;
    const double ice = s.recipe.ice.value_or(0);
    const std::string limit = base::show_temperature(c.limit);
    screen.line();
    std::string first = "hot brine of " + show_percent(c.salt_hot) + " at " +
                        base::show_temperature(s.question.cooling->hot);
    if (ice > 0 || s.recipe.cold_water) {
        const bool both = ice > 0 && s.recipe.cold_water;
        first += std::string(" with the ") +
                 (both      ? "ice and cold water"
                  : ice > 0 ? "ice"
                            : "cold water") +
                 " comes to " + base::show_temperature(c.mixed.temperature) + " and " +
                 show_percent(c.mixed.salt) + " salt";
    }
    if (c.mixed.melted < ice) {
        first += ", with " + base::show_mass(ice - c.mixed.melted) +
                 " of ice left: " + show_percent(s.pickle.salt) + " when that has melted too";
    }
    screen.paragraph("CHILL", first);
    screen.paragraph("", "to reach " + limit + " by ice alone takes " +
                             base::show_mass(c.ice_for_limit) + " in all, and leaves " +
                             show_percent(c.salt_then) + " salt");
    screen.paragraph(
        "", c.ice_in_place ? "or keep the strength: hold back " + base::show_mass(*c.ice_in_place) +
                                 " of all the water as ice, and heat only the rest"
                           : "no share of its water as ice cools this brine so far: the rest "
                             "would not hold the salt");
}

} // namespace

std::string brine_report(const cure::BrineSheet& s) {
    Screen screen;
    screen.dangers(s.findings);
    if (!s.ingredients.empty()) {
        recipe(screen, s);
        screen.line();
    }
    figures(screen, s);
    law(screen, s);
    chill(screen, s);
    screen.line();
    screen.remarks(s.findings);
    return screen.text();
}

} // namespace tidemark::output
