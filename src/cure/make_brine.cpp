// SPDX-License-Identifier: MIT
/// With a given water everything else follows, in proportion, so a given mass of brine gives the
/// water; for a given volume the density is found in a few rounds.
#include "cure/make_brine.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "cure/say.hpp"
#include "materials/brine.hpp"

#include <cmath>
#include <utility>

namespace tidemark::cure {
namespace {

double premix_salt(const Brine& brine) {
    return brine.premix.value_or(0) * (1 - brine.premix_strength - brine.premix_nitrate);
}

/// The recipe with `water` [kg] in it. Its salt may come out below zero.
Brine with_water(const Targets& t, double water) {
    Brine brine = t.brine;
    brine.mass.reset();
    brine.volume.reset();
    brine.water = water;
    const double salt = salt_for_balance(t.salt, water, t.balance);
    // The premix brings salt that is part of `salt`; nitrite and nitrate come on top of it.
    const double extra = 1 + brine.premix_nitrate / brine.premix_strength;
    const double rest = water + salt + brine.sugar.value_or(0) + brine.erythorbate.value_or(0);
    const double nitrite = t.nitrite * (t.balance.meat + rest) / (1 - t.nitrite * extra);
    if (t.nitrite > 0) {
        brine.premix = nitrite / brine.premix_strength;
    }
    brine.salt_added = salt - premix_salt(brine);
    return brine;
}

double total(const Brine& b) {
    return *b.water + *b.salt_added + b.premix.value_or(0) + b.sugar.value_or(0) +
           b.erythorbate.value_or(0);
}

double volume_of(const Targets& t) {
    if (!t.container) {
        return t.brine.volume.value_or(0);
    }
    const double meat = t.balance.meat / t.meat_density;
    if (!(*t.container > meat)) {
        throw base::InputError("--container", base::show_volume(*t.container),
                               "is filled by the meat, which takes up " + base::show_volume(meat),
                               "take a larger container");
    }
    return *t.container - meat;
}

} // namespace

Brine make_brine(const Targets& t, double temperature, base::Records& records) {
    const double volume = volume_of(t), mass = t.brine.mass.value_or(0);
    if (!(volume > 0 || mass > 0)) {
        throw base::InputError("--container", "", "is missing",
                               "give --container \"8 L\", which meat and brine fill together, or "
                               "the brine alone as --brine \"4 L\"");
    }
    const double none = total(with_water(t, 0)), slope = total(with_water(t, 1)) - none;
    Brine brine;
    // The density depends little on the water, so each round brings many digits.
    double density = 1000, before = 0;
    for (int round = 0; round < 50 && std::abs(density - before) > 1e-12 * density; ++round) {
        const double water = ((volume > 0 ? density * volume : mass) - none) / slope;
        brine = with_water(t, water);
        const double salt = *brine.salt_added + premix_salt(brine);
        const double most = materials::solubility(records, temperature);
        if (!(water > 0) || salt / (salt + water) > most) {
            throw base::InputError("--target-salt", percent(t.salt),
                                   "takes more salt than so little brine can hold",
                                   "ask for less salt or make more brine");
        }
        if (!(*brine.salt_added > 0)) {
            throw base::InputError("--target-salt", percent(t.salt),
                                   "is passed by the salt of the premix alone",
                                   "ask for more salt or less nitrite, or use a stronger premix");
        }
        before = std::exchange(density, make_pickle(brine, temperature, records).density);
    }
    return brine;
}

Brine rounded(const Brine& brine, double step) {
    constexpr double slack = 1e-9; // 3.0000000001 steps are 3
    Brine r = brine;
    for (std::optional<double>* amount :
         {&r.water, &r.ice, &r.cold_water, &r.salt_added, &r.sugar, &r.erythorbate}) {
        if (*amount) {
            **amount = step * std::round(**amount / step);
        }
    }
    if (r.premix) {
        *r.premix = step * std::floor(*r.premix / step + slack);
    }
    return r;
}

} // namespace tidemark::cure
