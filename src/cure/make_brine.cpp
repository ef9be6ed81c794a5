// SPDX-License-Identifier: MIT
/// With a given water everything else follows, in proportion, so a given mass of brine gives the
/// water; for a given volume the density is found in a few rounds.
#include "cure/make_brine.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/say.hpp"
#include "materials/brine.hpp"
#include "materials/targets.hpp"

#include <algorithm>
#include <array>
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

double waters(const Brine& b) {
    return b.water.value_or(0) + b.ice.value_or(0) + b.cold_water.value_or(0);
}

double total(const Brine& b) {
    return waters(b) + *b.salt_added + b.premix.value_or(0) + b.sugar.value_or(0) +
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

void check_premix(const Targets& t, const Brine& brine) {
    if (!(*brine.salt_added > 0)) {
        throw base::InputError("--target-salt", percent(t.salt),
                               "is passed by the salt of the premix alone",
                               "ask for more salt or less nitrite, or use a stronger premix");
    }
}

/// Salt besides the premix's own [kg] for the salt aimed at, with all else as it is.
double salt_beside(const Targets& t, const Brine& b, double temperature, base::Records& records) {
    const double own = premix_salt(b);
    if (dry(t.way)) {
        return t.balance.meat * dry_salt(t.salt, t.way, t.balance, temperature, records) - own;
    }
    if (t.way == Way::needles) {
        const double strength = needle_salt(t.salt, t.gain);
        Brine others = b;
        others.salt_added = 0;
        return (strength * total(others) - own) / (1 - strength);
    }
    return salt_for_balance(t.salt, waters(b), t.balance) - own;
}

/// For meat left in it until balance.
Brine cover_brine(const Targets& t, double temperature, base::Records& records) {
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
        check_premix(t, brine);
        before = std::exchange(density, make_pickle(brine, temperature, records).density);
    }
    return brine;
}

/// For needles: so much of it goes in that its strength alone decides.
Brine needle_brine(const Targets& t, double temperature, base::Records& records) {
    Brine b = t.brine;
    const double salt = needle_salt(t.salt, t.gain), nitrite = t.nitrite / t.gain;
    const double most = materials::solubility(records, temperature);
    if (!(salt < most)) {
        throw base::InputError("--target-salt", percent(t.salt),
                               "takes a brine of " + percent(salt) + " salt at this gain, and " +
                                   percent(most) + " is the most that dissolves",
                               "pump more, or cover it with brine as well");
    }
    double mass = b.mass.value_or(t.gain * t.balance.meat);
    if (b.volume) {
        mass = *b.volume * materials::brine_density(records, salt, temperature);
    }
    b.mass.reset();
    b.volume.reset();
    if (nitrite > 0) {
        b.premix = nitrite * mass / b.premix_strength;
    }
    b.salt_added = salt * mass - premix_salt(b);
    b.water = mass - total(b);
    return b;
}

Brine dry_cure(const Targets& t, double temperature, base::Records& records) {
    Brine b = t.brine;
    if (t.nitrite > 0) {
        b.premix = t.nitrite * t.balance.meat / b.premix_strength;
    }
    b.salt_added = salt_beside(t, b, temperature, records);
    return b;
}

} // namespace

double dry_salt(double mean, Way way, const Balance& meat, double temperature,
                base::Records& records) {
    const double purge = materials::purge(records),
                 saturated = materials::solubility(records, temperature),
                 lost = purge * (1 - saturated); // water
    const double in_meat = mean * (1 - lost) / (1 - mean);
    return way == Way::rub ? in_meat + purge * saturated
                           : in_meat * (1 + lost / (meat.partition * (meat.water - lost)));
}

double needle_salt(double mean, double gain) {
    return mean * (1 + gain) / gain;
}

Brine make_brine(const Targets& t, double temperature, base::Records& records) {
    const auto make = dry(t.way) ? dry_cure : t.way == Way::needles ? needle_brine : cover_brine;
    const Brine brine = make(t, temperature, records);
    check_premix(t, brine);
    return brine;
}

std::vector<Brine> weighable(const Targets& t, const Brine& exact, double step, double temperature,
                             base::Records& records) {
    const auto shown = [&](double mass, bool up = false) { // in three digits, as it is printed
        const double digits = std::pow(10, std::floor(std::log10(mass)) - 2);
        return base::rounded(mass, std::max(step, digits),
                             up ? base::Rounding::up : base::Rounding::nearest);
    };
    Brine fixed = exact;
    for (std::optional<double> Brine::*amount :
         {&Brine::water, &Brine::ice, &Brine::sugar, &Brine::erythorbate}) {
        if ((fixed.*amount).value_or(0) > 0) {
            fixed.*amount = shown(*(fixed.*amount), amount == &Brine::ice);
        }
    }
    std::vector<Brine> list;
    const double premix = exact.premix.value_or(0), below = step * std::floor(premix / step + 1e-9);
    for (const double p : premix > below + step / 2 ? std::array{below + step, below}
                                                    : std::array{below, below + step}) {
        Brine b = fixed;
        if (exact.premix) {
            b.premix = base::rounded(p, step, base::Rounding::nearest);
        }
        const double salt = salt_beside(t, b, temperature, records);
        if (salt > 0 && (p > 0 || !exact.premix)) {
            b.salt_added = shown(salt);
            list.push_back(b);
        }
    }
    return list;
}

} // namespace tidemark::cure
