// SPDX-License-Identifier: MIT
/// The cover brine worked out: strengths, amount and water, from either way of describing it.
/// Weighs what dissolves; does not follow the brine in time.
#pragma once

#include "base/record.hpp"
#include "cure/case.hpp"

namespace tidemark::cure {

struct Pickle {
    double salt = 0, nitrite = 0, sugar = 0, water = 0; ///< [kg per kg brine]
    double nitrate = 0, erythorbate = 0;                ///< [kg per kg brine]
    double mass = 0;                                    ///< [kg]; infinite if no amount was given
    double density = 0;                                 ///< at the cooler's temperature [kg/m3]
};

/// Strengths and amount of the brine at a temperature [K], all ice melted. Throws base::InputError
/// headed by the flag at fault: no strength given, more salt than dissolves, a brine that freezes.
Pickle make_pickle(const Brine& brine, double temperature, base::Records& records);

/// What a brine of a known strength and amount is weighed out as: water, salt and premix, all grams
/// of its mass [kg]. The brine as it is where that is known, or where its amount is not, or where
/// its premix brings more salt than it holds.
Brine weighed_out(const Brine& brine, const Pickle& pickle);

/// Checks that meat [kg], of a density [kg/m3], and a brine fit in a container [m3], to a
/// hundredth. Throws base::InputError if they do not, or if one of the two amounts is not known.
void check_room(double container, double meat, double density, const Pickle& pickle);

/// Meat that has taken up as much as it will, its water sharing the salt with that of the brine.
struct Balance {
    double meat = 0;      ///< [kg]
    double water = 0;     ///< of the meat [kg/kg]
    double partition = 1; ///< meat water over brine [1]
};

/// Salt of the meat at full balance [kg per kg cured meat], as the prediction of days reckons it.
double balance_salt(const Pickle& pickle, const Balance& balance);

/// Salt in all [kg] that brings it to `target` [kg per kg cured meat] with `water` [kg] in the
/// brine: balance_salt() turned round.
double salt_for_balance(double target, double water, const Balance& balance);

} // namespace tidemark::cure
