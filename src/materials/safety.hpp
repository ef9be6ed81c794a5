// SPDX-License-Identifier: MIT
/// How cold the cure must be kept, and where bacteria stop growing.
/// For warnings only: none of these numbers makes a process safe by itself.
#pragma once

#include "base/record.hpp"

#include <string>
#include <vector>

namespace tidemark::materials {

/// A warning [text] when a cooler temperature [K] is above the limit or freezes lean, else "".
std::string cooler_warning(base::Records& records, double temperature);

/// The coldest growth [K] and the water-phase salt that stops growth [kg/kg] of one kind of
/// bacteria, by either alone. The Clostridium botulinum that grows cold goes by toxin_times().
struct Growth {
    std::string name;
    double temperature = 0;
    double water_phase_salt = 0;
};
std::vector<Growth> growth_limits(base::Records& records);

/// Shortest time to toxin [s] seen at a temperature [K], without the salt and nitrite of a cure
/// (graham1997): cold alone is no hard floor.
struct ToxinTime {
    double temperature = 0;
    double duration = 0;
};
std::vector<ToxinTime> toxin_times(const base::Records& records);
/// The shortest time to toxin [s] at a temperature [K], between the points on a line; below the
/// coldest of them it never comes, above the warmest it is taken as there.
double time_to_toxin(const std::vector<ToxinTime>& points, double temperature);

/// Sodium nitrite that can kill an adult [kg] (gras1972), and that begins to make one ill
/// (who2011). A child's doses are smaller in proportion to its weight.
double fatal_dose(base::Records& records);
double harmful_dose(base::Records& records);

} // namespace tidemark::materials
