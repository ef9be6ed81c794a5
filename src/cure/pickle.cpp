// SPDX-License-Identifier: MIT
#include "cure/pickle.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "materials/brine.hpp"

#include <cmath>
#include <limits>

namespace tidemark::cure {

namespace {

std::string percent(double fraction) { return base::significant(100 * fraction, 3) + " %"; }

} // namespace

Pickle make_pickle(const Brine& brine, double temperature, base::Records& records) {
    Pickle p;
    p.mass = std::numeric_limits<double>::infinity();
    std::string flag = "--brine-salt";
    if (brine.water) {
        flag = "--water";
        const double premix = brine.premix.value_or(0), sugar = brine.sugar.value_or(0);
        const double nitrite = premix * brine.premix_strength;
        const double salt = brine.salt_added.value_or(0) + premix - nitrite;
        const double mass = *brine.water + salt + nitrite + sugar;
        p.salt = salt / mass;
        p.nitrite = nitrite / mass;
        p.sugar = sugar / mass;
        p.mass = brine.mass.value_or(mass);
        if (!(salt > 0))
            throw base::InputError("--water", "", "the recipe has no salt in it",
                                   "add --salt \"450 g\" or --premix \"30 g\"");
    } else {
        if (brine.salt_added || brine.sugar || brine.premix)
            throw base::InputError("--salt", "", "the recipe has no water in it",
                                   "add --water \"6 L\"");
        if (!brine.salt)
            throw base::InputError("--brine-salt", "", "the strength of the brine is not given",
                                   "add --brine-salt \"6 %\", or a recipe with --water and --salt");
        p.salt = *brine.salt;
        p.nitrite = brine.nitrite.value_or(0);
        if (brine.mass)
            p.mass = *brine.mass;
    }
    p.water = 1 - p.salt - p.nitrite - p.sugar;
    const double most = materials::solubility(records, temperature);
    if (p.salt > most)
        throw base::InputError(flag, percent(p.salt),
                               "more salt than dissolves at this temperature, " + percent(most),
                               "use less salt or more water");
    const double freezes = materials::freezing_point(records, p.salt);
    if (temperature < freezes)
        throw base::InputError("--cooler", base::show_temperature(temperature),
                               "colder than the freezing point of this brine, " +
                                   base::show_temperature(freezes),
                               "keep the cooler warmer or the brine stronger");
    p.density = materials::brine_density(records, p.salt, temperature);
    if (brine.volume)
        p.mass = *brine.volume * p.density;
    return p;
}

double whole_system_nitrite(const Pickle& pickle, double meat) {
    if (!std::isfinite(pickle.mass))
        return pickle.nitrite; // the limit of very much brine
    return pickle.nitrite * pickle.mass / (meat + pickle.mass);
}

} // namespace tidemark::cure
