// SPDX-License-Identifier: MIT
/// Salt brine: density, saturation, freezing point and salometer degrees, from printed tables.
/// Sodium chloride alone: sugar and spice are left out. Strength is always per kg of brine.
#pragma once

#include "base/record.hpp"

namespace tidemark::materials {

/// Density of brine [kg/m3] at a salt fraction [kg/kg] and temperature [K] (poradnik1974,
/// carried on from 26 % to saturation). Throws InputError outside 0 to 26.395 % and 0 to 25 C.
double brine_density(base::Records& records, double salt, double temperature);

/// Salt in saturated brine [kg/kg] at a temperature [K] (saltinstitute). Throws InputError outside
/// -21.1 to 100 C.
double solubility(base::Records& records, double temperature);

/// Freezing point of brine [K] at a salt fraction [kg/kg] (lange15). Throws InputError outside 0 to
/// 23.31 %, where the brine that freezes last lies.
double freezing_point(base::Records& records, double salt);

/// Degrees salometer [degrees, 100 at saturation, read at 60 F] of a salt fraction [kg/kg]. Throws
/// InputError outside 0 to saturation.
double salometer(base::Records& records, double salt);

/// Salt fraction [kg/kg] of degrees salometer, 0 to 100. Throws InputError outside.
double salt_of_salometer(base::Records& records, double degrees);

} // namespace tidemark::materials
