// SPDX-License-Identifier: MIT
/// Lays the sheet out: dangers first, then the recipe, its numbers, the law and the chill.
#include "output/view.hpp"

#include "base/quantity.hpp"
#include "base/show.hpp"
#include "base/text.hpp"
#include "output/best_view.hpp"
#include "output/words.hpp"

#include <algorithm>

namespace tidemark::output {
namespace {

using Kind = cure::Figure::Kind;

/// "us, cured", and the ion where the code counts it.
std::string law_in_words(const std::string& code, const std::string& product,
                         const std::optional<materials::Limit>& limit) {
    return code + ", " + product +
           (limit && limit->ion ? "; " + show_ppm(limit->printed) + " as the ion" : "");
}

constexpr std::size_t name_width = 35, value_width = 21, law_width = 39;

std::string shown(Kind kind, double value, base::Units units = base::shown_units()) {
    switch (kind) {
    case Kind::mass:
        return base::show_mass(value, units);
    case Kind::volume:
        return base::show_volume(value, units);
    case Kind::percent:
        return show_percent(value);
    case Kind::per_kg:
        return base::significant(1e3 * value, 3) + " g/kg";
    case Kind::ppm:
        return show_ppm(value);
    case Kind::degrees:
        return fixed(value, 1) + " degrees";
    case Kind::density:
        return fixed(value, 0) + " kg/m3";
    case Kind::temperature:
        break;
    }
    return base::show_temperature(value, units);
}

/// "low to high" without the kitchen units, or nothing where both are the same.
std::string range(Kind kind, double low, double high) {
    const base::Units units =
        base::shown_units() == base::Units::us ? base::Units::us : base::Units::metric;
    const auto one = [&](double value) { return shown(kind, value, units); };
    const auto unit = [](const std::string& text) { return text.substr(text.find(' ')); };
    std::string from = one(low);
    const std::string to = one(high);
    if (from == to) {
        return "";
    }
    if (unit(from) == unit(to) && std::ranges::count(to, ' ') == 1) { // not of 5 lb 8 oz
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

void recipe(Document& doc, const cure::BrineSheet& s) {
    Block& block =
        doc.add(Block::Form::amounts,
                dry(s.question.way) && s.question.pieces > 1 ? "A PIECE" : "RECIPE", "", "recipe");
    for (const cure::Ingredient& i : s.ingredients) {
        std::vector<std::string> row{i.name, base::shown_units() == base::Units::us
                                                 ? base::on_scales(i.mass)
                                                 : base::show_mass(i.mass)};
        if (i.factor != 1)
            row.push_back("by the spoon: " +
                          range(Kind::mass, i.mass / i.factor, i.mass * i.factor));
        if (i.spoon)
            row.push_back("by the spoon, less sure: " + spoons(*i.spoon));
        if (i.name == "premix")
            row.push_back("of " + show_percent(s.question.brine.premix_strength) + " nitrite");
        block.rows.push_back(row);
    }
}

/// One figure with its range, "5.65 % (4.82 to 6.62 %)".
std::string with_range(const cure::Figure& f) {
    const std::string text = shown(f.kind, f.value), off = range(f.kind, f.low, f.high);
    return text + (off.empty() ? "" : " (" + off + ')');
}

/// What comes of the recipe, in two or three lines.
void outcome(Document& doc, const cure::BrineSheet& s) {
    const auto text = [&](const char* key) {
        const cure::Figure* f = s.figure(key);
        return f ? with_range(*f) : std::string();
    };
    if (!dry(s.question.way)) {
        const auto plain = [&](const char* key) {
            const cure::Figure* f = s.figure(key);
            return f ? ", " + shown(f->kind, f->value) : std::string();
        };
        doc.paragraph("BRINE", text("salt") + " salt" +
                                   (s.pickle.nitrite > 0 ? ", " + text("nitrite") + " nitrite"
                                                         : std::string()) +
                                   ", salometer " + fixed(s.figure("salometer")->value, 1) +
                                   plain("mass") + plain("volume"));
    }
    if (const cure::Figure* f = s.figure("salt_at_balance"); f && !s.question.pump) {
        doc.paragraph(
            "MEAT", with_range(*f) +
                        (dry(s.question.way)
                             ? " salt with all of it in; " + text("salt_on_meat") +
                                   " of salt in all on the raw meat"
                             : " salt at full balance, which a thick piece takes weeks to reach") +
                        (s.question.beside > 0
                             ? ", of " + base::show_mass(s.meat()) + " of meat, all pieces"
                             : ""));
    } else if (s.question.pump) {
        const double gain = *s.question.pump;
        doc.paragraph("MEAT",
                      show_percent(s.pickle.salt * gain / (1 + gain)) +
                          " salt over all of the weight, fat and bone with it, at a gain of " +
                          base::significant(100 * gain, 3) + " %" +
                          (s.meat() > 0 ? ": " + base::show_mass(gain * s.meat()) +
                                              " of brine in all, and more to fill the "
                                              "needles"
                                        : ""));
    }
    if (const cure::Dose* d = s.judged("nitrite")) {
        const std::string off = range(Kind::ppm, d->low, d->high);
        doc.paragraph(
            "LAW", show_ppm(d->value) + (off.empty() ? "" : " (" + off + ')') +
                       " ingoing nitrite, " +
                       limit_in_words(d->limit ? std::optional(d->limit->value) : std::nullopt,
                                      law_in_words(s.question.law, s.question.product, d->limit)));
    }
}

void figures(Document& doc, const cure::BrineSheet& s) {
    bool spoons = false;
    for (const cure::Figure& f : s.figures) {
        spoons = spoons || !range(f.kind, f.low, f.high).empty();
    }
    doc.line(filled("BRINE", name_width + value_width) + (spoons ? "  if the spoons are off" : ""));
    for (const cure::Figure& f : s.figures) {
        doc.line(filled(f.name, name_width) + padded(shown(f.kind, f.value), value_width) + "  " +
                 range(f.kind, f.low, f.high));
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

void law(Document& doc, const cure::BrineSheet& s) {
    if (s.doses.empty()) {
        return;
    }
    doc.line();
    doc.line(filled("LAW      " + s.question.law + ", " + s.question.product, law_width) +
             padded("ingoing", 10) + padded("limit", 10));
    for (const cure::Dose& d : s.doses) {
        doc.line(
            filled((d.judged ? "* " : "  ") + d.substance + ", " + method_in_words(d, s.question),
                   law_width) +
            padded(show_ppm(d.value), 10) +
            padded(d.limit ? show_ppm(d.limit->value) : "not set", 10) + "  " +
            range(Kind::ppm, d.low, d.high));
    }
    if (s.least) {
        doc.line(filled("  least nitrite asked for", law_width + 10) +
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
    doc.paragraph("", note);
}

void chill(Document& doc, const cure::BrineSheet& s) {
    if (!s.cooled) {
        return;
    }
    const cure::Cooled& c = *s.cooled;
    const double ice = s.recipe.ice.value_or(0);
    const std::string limit = base::show_temperature(c.limit);
    std::string first = "hot brine of " + show_percent(c.salt_hot) + " at " +
                        base::show_temperature(s.recipe.cooling->hot) +
                        (s.recipe.cooling->told ? "" : " (not told, taken as boiling)");
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
    doc.paragraph("CHILL", first);
    if (c.mixed.temperature <= c.limit)
        return;
    doc.paragraph("", "to reach " + limit + " by ice alone takes " +
                          base::show_mass(c.ice_for_limit) + " in all, and leaves " +
                          show_percent(c.salt_then) + " salt");
    doc.paragraph("", c.ice_in_place
                          ? "or keep the strength: hold back " + base::show_mass(*c.ice_in_place) +
                                " of all the water as ice, and heat only the rest"
                          : "no share of its water as ice cools this brine so far: the rest "
                            "would not hold the salt");
}

} // namespace

std::string next_command(const cure::BrineSheet& s, const AskedMeat& meat) {
    const cure::Brine& b = s.recipe;
    const cure::BrineQuestion& q = s.question;
    const auto typed = [](double mass) {
        return base::shown_units() == base::Units::us ? base::on_scales(mass)
                                                      : base::show_mass(mass, base::Units::metric);
    };
    std::string flags = meat.flags;
    const auto share = [&](const char* flag, double value, double usual) {
        if (value != usual) {
            flags += std::string(" --") + flag + " \"" + base::significant(100 * value, 6) + " %\"";
        }
    };
    if (b.premix) {
        share("premix-nitrite", b.premix_strength, cure::Brine{}.premix_strength);
        share("premix-nitrate", b.premix_nitrate, 0);
    }
    if (dry(q.way)) {
        return "tidemark plan" + flags + " --stage \"" + (q.way == cure::Way::rub ? "rub" : "bag") +
               ", salt " + typed(*b.salt_added) + (b.premix ? ", premix " + typed(*b.premix) : "") +
               ", until cured\"";
    }
    const auto amount = [&](const char* flag, const std::optional<double>& mass) {
        if (mass) {
            flags += std::string(" --") + flag + " \"" + typed(*mass) + '"';
        }
    };
    amount("water", b.water);
    amount("ice", b.ice);
    amount("salt", b.salt_added);
    amount("sugar", b.sugar);
    amount("premix", b.premix);
    amount("erythorbate", b.erythorbate);
    if (b.ice && b.cooling && b.cooling->told) {
        flags += " --hot \"" + base::show_temperature(b.cooling->hot, base::Units::metric) + '"';
    }
    if (q.pump) {
        flags += " --pump \"" + base::significant(100 * *q.pump, 6) + " %\"";
    }
    return std::string("tidemark ") +
           (q.pump         ? "plan"
            : meat.several ? "bucket"
                           : "day") +
           flags + (q.pump ? " --stage \"rest, until cured\"" : "");
}

Document view(const cure::BrineSheet& s, const AskedMeat& meat) {
    Document doc;
    doc.dangers(s.findings);
    if (s.exact)
        recipe(doc, s);
    outcome(doc, s);
    if (!s.exact && !s.ingredients.empty())
        recipe(doc, s);
    chill(doc, s);
    if (s.exact) {
        doc.paragraph("NEXT",
                      meat.measured ? "the day:" : "with the shape and thickness of the meat:");
        doc.command(next_command(s, meat));
    }
    doc.on = On::more;
    doc.line();
    figures(doc, s);
    law(doc, s);
    doc.on = On::all;
    doc.line();
    doc.remarks(s.findings);
    return doc;
}

} // namespace tidemark::output
