// SPDX-License-Identifier: MIT
/// What a level spoon or cup of salt, premix or sugar weighs.
/// A spoon of salt is uncertain by a fifth: not for weighing out nitrite.
#pragma once

#include "base/record.hpp"

#include <string>
#include <vector>

namespace tidemark::materials {

/// Names of the things measured by the spoon [text], sorted.
std::vector<std::string> measure_names(const base::Records& records);

/// Mass of a volume [m3] of a thing [kg], filled by teaspoons below a tablespoon, by tablespoons
/// below a cup and by cups above. Throws InputError for an unknown thing or a volume below zero.
double measured_mass(base::Records& records, const std::string& item, double volume);

/// The nearest volume that spoons and cups can measure [m3] for a mass of a thing [kg]: quarters of
/// a teaspoon below a tablespoon, halves of a tablespoon below a cup, quarters of a cup above.
double spoon_volume(base::Records& records, const std::string& item, double mass);

} // namespace tidemark::materials
