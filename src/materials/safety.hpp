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
/// bacteria, by either alone.
struct Growth {
    std::string name;
    double temperature = 0;
    double water_phase_salt = 0;
};
std::vector<Growth> growth_limits(base::Records& records);

/// Days to toxin [s] in unsalted meat held at a temperature [K], at the nearest warmer temperature
/// tested (3, 4, 5 C); at 3 C for anything colder (graham1997). Throws InputError above 5 C.
double days_to_toxin(base::Records& records, double temperature);

} // namespace tidemark::materials
