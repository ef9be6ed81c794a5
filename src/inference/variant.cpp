// SPDX-License-Identifier: MIT
#include "inference/variant.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/say.hpp"

#include <cmath>

namespace tidemark::inference {
namespace {

using base::rounded;
using base::significant;
using cure::Brine;
using cure::Case;

std::string grams(double kg) {
    return significant(1000 * kg, 6) + " g";
}
std::string amount_of(double kg) {
    return kg < 1 ? grams(kg) : significant(kg, 6) + " kg";
}

/// The number that a flag's text will be read as, so that a change is what its command asks.
double read(const std::string& text, base::Dimension dimension) {
    return base::parse(text, dimension, "change");
}

double all_of(const Brine& b, const cure::Pickle& p) {
    return b.premix.value_or(0) > 0 && p.nitrite > 0
               ? *b.premix * b.premix_strength / p.nitrite
               : b.salt_added.value_or(0) / p.salt; // without premix all salt is added salt
}

} // namespace

std::optional<Variant> turned(const Case& c) {
    if (c.piece.dimensions.sealed.empty() && c.piece.shut_ends == 0)
        return {};
    Variant v{"", c, {{"seal", "none"}}, {}};
    v.question.piece.dimensions.sealed.clear();
    v.question.piece.shut_ends = 0;
    return v;
}

std::optional<Variant> with_salt(const Case& c, const cure::Pickle& now, int step) {
    constexpr double quarter = 0.0025;
    const double from = now.salt / quarter;
    const double salt =
        quarter * (step > 0 ? std::floor(from + 1e-6) + step : std::ceil(from - 1e-6) + step);
    if (salt < quarter)
        return {};
    Variant v{cure::percent(salt) + " salt in the brine", c, {}, {}};
    Brine& b = v.question.brine;
    double share = salt; // as a cook can weigh it
    if (b.water) {
        const double all = all_of(b, now), others = all * (1 - now.salt),
                     with_premix = all * now.salt - b.salt_added.value_or(0);
        const double gram = 1e-3, step_of_scale = b.salt_added.value_or(0) > 0.2 ? 5 * gram : gram;
        const double added = rounded(others * salt / (1 - salt) - with_premix, step_of_scale,
                                     base::Rounding::nearest);
        if (!(added > 0))
            return {};
        share = (added + with_premix) / (added + with_premix + others);
        v.what += " (" + grams(added) + " of salt in place of " +
                  grams(rounded(b.salt_added.value_or(0), gram, base::Rounding::nearest)) + ")";
        v.flags = {{"salt", grams(added)}};
        b.salt_added = read(v.flags[0].text, base::Dimension::mass);
        b.spread.salt = 1;
    } else {
        v.flags = {{"brine-salt", significant(100 * salt, 4) + " %"}};
        b.salt = read(v.flags[0].text, base::Dimension::fraction);
    }
    // So much brine stays so much; of a recipe the water does.
    const double water = b.water && !b.mass && !b.volume ? 1 : (1 - share) / (1 - now.salt);
    v.brine.salt = share / (1 - share) / (now.salt / (1 - now.salt));
    v.brine.water = water;
    if (v.brine.salt < least_salt || v.brine.salt > most_salt)
        return {};
    return v;
}

std::optional<Variant> with_most_nitrite(const Case& c, const cure::Pickle& now,
                                         const cure::Ingoing& ingoing) {
    constexpr double margin = 1.04; // what was weighed may be 3 % more (models/uncertainty.ini)
    if (!ingoing.whole_system || !ingoing.limit || !(now.nitrite > 0))
        return {};
    const double factor = *ingoing.limit / margin / *ingoing.whole_system;
    Variant v{"", c, {}, {}};
    Brine& b = v.question.brine;
    if (b.water) {
        if (!b.premix)
            return {};
        const double premix = rounded(*b.premix * factor, 1e-3, base::Rounding::down);
        v.brine.nitrite = premix / *b.premix;
        v.what = grams(premix) + " of premix in place of " + grams(*b.premix);
        v.flags = {{"premix", grams(premix)}};
        b.premix = read(v.flags[0].text, base::Dimension::mass);
    } else {
        const double nitrite = rounded(now.nitrite * factor, 5e-6, base::Rounding::down);
        v.brine.nitrite = nitrite / now.nitrite;
        v.what = cure::ppm(nitrite) + " nitrite in the brine";
        v.flags = {{"brine-nitrite", significant(1e6 * nitrite, 4) + " ppm"}};
        b.nitrite = read(v.flags[0].text, base::Dimension::fraction);
    }
    constexpr double least = 1.05; // less is no change
    if (v.brine.nitrite < least || v.brine.nitrite > most_nitrite)
        return {};
    return v;
}

std::optional<Variant> both(const Case& c, const cure::Pickle& now, const cure::Ingoing& ingoing,
                            int step) {
    const auto nitrite = with_most_nitrite(c, now, ingoing);
    if (!nitrite)
        return {};
    auto v = with_salt(nitrite->question, now, step);
    if (!v)
        return {};
    v->what += " and " + nitrite->what;
    v->flags.insert(v->flags.end(), nitrite->flags.begin(), nitrite->flags.end());
    v->brine.nitrite *= nitrite->brine.nitrite;
    return v;
}

std::optional<Variant> with_brine(const Case& c, const cure::Pickle& now, int step) {
    if (!std::isfinite(now.mass))
        return {};
    const double factor = step > 0 ? 1 + 0.5 * step : 1 - 0.25 * -step;
    if (factor < least_brine || factor > most_brine)
        return {};
    Variant v{"", c, {}, {}};
    Brine& b = v.question.brine;
    v.brine.water = factor;
    if (b.mass || b.volume) {
        auto& all = b.volume ? b.volume : b.mass;
        const double unit = b.volume ? 1e-3 : 1; // [m3 per L], [kg]
        const double amount = rounded(*all * factor / unit, 0.1, base::Rounding::nearest) * unit;
        v.brine.water = amount / *all;
        const std::string text = significant(amount / unit, 4) + (b.volume ? " L" : " kg");
        all = read(text, b.volume ? base::Dimension::volume : base::Dimension::mass);
        v.what = text + " of the same brine";
        v.flags = {{"brine", text}};
        return v;
    }
    const std::pair<const char*, std::optional<double> Brine::*> parts[] = {
        {"water", &Brine::water},
        {"ice", &Brine::ice},
        {"cold-water", &Brine::cold_water},
        {"salt", &Brine::salt_added},
        {"sugar", &Brine::sugar},
        {"premix", &Brine::premix},
        {"erythorbate", &Brine::erythorbate}};
    for (const auto& [flag, part] : parts)
        if (b.*part) {
            v.flags.push_back(
                {flag, amount_of(rounded(*(b.*part) * factor, 1e-3, base::Rounding::nearest))});
            b.*part = read(v.flags.back().text, base::Dimension::mass);
        }
    v.what = significant(factor, 3) + " times as much of the same brine";
    return v;
}

std::optional<Variant> thinner(const Case& c, int step) {
    const double now = c.piece.dimensions.thickness;
    if (c.piece.shape == "outline" || !(now > 0) || step >= 5)
        return {};
    constexpr double mm = 1e-3;
    const double thickness = rounded(now * (1 - step / 6.0), 5 * mm, base::Rounding::nearest);
    if (!(thickness < now) || !(thickness > 0))
        return {};
    Variant v{"a piece cut " + significant(thickness / mm, 3) + " mm thick", c, {}, {}};
    v.flags = {{"thickness", significant(thickness / mm, 4) + " mm"}};
    v.question.piece.dimensions.thickness = read(v.flags[0].text, base::Dimension::length);
    if (c.piece.weight > 0) {
        v.flags.push_back({"weight", amount_of(rounded(c.piece.weight * thickness / now, 1e-2,
                                                       base::Rounding::nearest))});
        v.question.piece.weight = read(v.flags[1].text, base::Dimension::mass);
    }
    return v;
}

} // namespace tidemark::inference
