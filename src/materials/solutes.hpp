// SPDX-License-Identifier: MIT
/// Salt and nitrite: balance with the brine, mobility beside salt, weights of a mole.
/// A solute is "salt" or "nitrite"; a substance is a name under molar-mass in models/.
#pragma once

#include "base/record.hpp"

#include <string>

namespace tidemark::materials {

/// Concentration in meat water over that in the brine at balance [1]. Valid from 1.5 % salt up.
/// Throws InputError for an unknown solute.
double partition(base::Records& records, const std::string& solute);

/// Diffusivity over that of salt [1]; one for salt itself. For nitrite only beside an explicit
/// loss. Throws InputError for an unknown solute.
double diffusivity_ratio(base::Records& records, const std::string& solute);

/// Kilograms of `to` that hold as many moles as one of `from` [kg/kg], as in "nitrite-ion" to
/// "sodium-nitrite". Throws InputError for an unknown substance.
double equivalent(base::Records& records, const std::string& from, const std::string& to);

} // namespace tidemark::materials
