// SPDX-License-Identifier: MIT
/// In which units quantities are shown: those of quantity.hpp and these.
#pragma once

#include <string>

namespace tidemark::base {

enum class Units { both, metric, us };

/// Sets what the functions of quantity.hpp show: for the edge of a program, before anything is
/// shown. Both at first.
void show_in(Units units);
/// What was set.
Units shown_units();

/// A mass [kg], a temperature [K] or a volume [m3] in units that do not depend on what was set.
std::string show_mass(double kilograms, Units units);
std::string show_temperature(double kelvin, Units units);
std::string show_volume(double cubic_metres, Units units);

/// A mass [kg] as it is read off a scale in the units that were set, to be typed again: "215 g" or
/// "7.5 oz"; from a kilogram, or two pounds, on in the larger unit. Ounces are rounded down, to a
/// hundredth below three and else to a tenth.
std::string on_scales(double kilograms);

} // namespace tidemark::base
