// SPDX-License-Identifier: MIT
/// A recipe is added up; a strength is taken as it stands. Both meet the same checks.
#include "cure/pickle.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "cure/ingoing.hpp"
#include "cure/say.hpp"
#include "materials/brine.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tidemark::cure {
namespace {

Pickle add_up(const Brine& brine) {
    const double premix = brine.premix.value_or(0), sugar = brine.sugar.value_or(0),
                 erythorbate = brine.erythorbate.value_or(0);
    const double nitrite = nitrite_in(premix, brine.premix_strength);
    const double nitrate = nitrite_in(premix, brine.premix_nitrate);
    const double salt = brine.salt_added.value_or(0) + premix - nitrite - nitrate;
    if (!(salt > 0)) {
        throw base::InputError("--water", "", "the recipe has no salt in it",
                               "add --salt \"450 g\" or --premix \"30 g\"");
    }
    const double mass = brine.water.value_or(0) + brine.ice.value_or(0) +
                        brine.cold_water.value_or(0) + salt + nitrite + nitrate + sugar +
                        erythorbate;
    Pickle p;
    p.salt = salt / mass;
    p.nitrite = nitrite / mass;
    p.nitrate = nitrate / mass;
    p.sugar = sugar / mass;
    p.erythorbate = erythorbate / mass;
    p.mass = brine.mass.value_or(mass);
    return p;
}

Pickle by_strength(const Brine& brine) {
    if (brine.salt_added || brine.sugar || brine.premix || brine.erythorbate || brine.ice ||
        brine.cold_water) {
        throw base::InputError("--water", "", "is missing from the recipe",
                               "give it as --water \"6 L\"");
    }
    if (!brine.salt) {
        throw base::InputError("--brine-salt", "", "the strength of the brine is not given",
                               "add --brine-salt \"6 %\", or a recipe with --water and --salt");
    }
    Pickle p;
    p.salt = *brine.salt;
    p.nitrite = brine.nitrite.value_or(0);
    p.nitrate = brine.nitrate.value_or(0);
    p.mass = brine.mass.value_or(std::numeric_limits<double>::infinity());
    return p;
}

} // namespace

Pickle make_pickle(const Brine& brine, double temperature, base::Records& records) {
    Pickle p = brine.water ? add_up(brine) : by_strength(brine);
    p.water = 1 - p.salt - p.nitrite - p.nitrate - p.sugar - p.erythorbate;
    const double most = materials::solubility(records, temperature);
    // Salt dissolves in the water; sugar only makes the whole heavier.
    if (const double cold = p.salt / (p.salt + p.water); cold > most) {
        const char* const flag = brine.water ? "--salt" : "--brine-salt";
        throw base::InputError(brine.where.empty() ? flag : brine.where, percent(cold),
                               "is more salt than dissolves at this temperature, " + percent(most),
                               "use less salt or more water");
    }
    const double freezes =
        materials::freezing_point(records, std::min(p.salt, records.si("brine.eutectic.salt")));
    if (temperature < freezes) {
        throw base::InputError("--cooler", base::show_temperature(temperature),
                               "colder than the freezing point of this brine, " +
                                   base::show_temperature(freezes),
                               "keep the cooler warmer or the brine stronger");
    }
    p.density = materials::brine_density(records, p.salt, temperature);
    if (brine.volume) {
        p.mass = *brine.volume * p.density;
    }
    return p;
}

void check_room(double container, double meat, double density, const Pickle& p) {
    const std::string said = base::show_volume(container);
    if (!(meat > 0))
        throw base::InputError("--container", said, "cannot be compared with meat of no weight",
                               "add --weight \"2.5 kg\"");
    if (!std::isfinite(p.mass))
        throw base::InputError("--container", said, "cannot be compared with a brine of no amount",
                               "add --brine \"4 L\"");
    constexpr double rounding = 1.01;
    const double of_meat = meat / density, of_brine = p.mass / p.density;
    if (of_meat + of_brine > container * rounding)
        throw base::InputError(
            "--container", said,
            "is too small: the meat takes up " + base::show_volume(of_meat) + ", the brine " +
                base::show_volume(of_brine),
            "take one of " + base::show_volume(of_meat + of_brine) +
                (container > of_meat
                     ? ", or at most " + base::show_volume(container - of_meat) + " of brine"
                     : std::string()));
}

Brine weighed_out(const Brine& brine, const Pickle& p) {
    Brine b = brine;
    if (b.water || b.salt_added || !std::isfinite(p.mass) || !(p.mass > 0))
        return b;
    const double premix = p.mass * p.nitrite / b.premix_strength,
                 salt = p.mass * p.salt - premix * (1 - b.premix_strength - b.premix_nitrate);
    if (salt < 0)
        return b;
    b.water = p.mass * p.water;
    b.salt_added = salt;
    const auto given = [](double mass) { return mass > 0 ? std::optional(mass) : std::nullopt; };
    b.premix = given(premix);
    b.sugar = given(p.mass * p.sugar);
    b.erythorbate = given(p.mass * p.erythorbate);
    return b;
}

// At balance the salt per kg of water in the meat is `partition` times that in the brine.

double balance_salt(const Pickle& pickle, const Balance& b) {
    const double strength = // [kg per kg water of the brine]
        std::isfinite(pickle.mass)
            ? pickle.salt * pickle.mass /
                  (pickle.water * pickle.mass + b.partition * b.water * b.meat)
            : pickle.salt / pickle.water;
    const double taken = b.partition * strength * b.water; // [kg per kg raw meat]
    return taken / (1 + taken);
}

double salt_for_balance(double target, double water, const Balance& b) {
    const double strength = target / (1 - target) / b.water / b.partition;
    return strength * (water + b.partition * b.water * b.meat);
}

} // namespace tidemark::cure
