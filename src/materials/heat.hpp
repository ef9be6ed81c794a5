// SPDX-License-Identifier: MIT
/// Heat of water, ice and brine, for cooling a brine with ice.
/// One figure each, as near 0 to 30 C: not for steam, nor for heat given off as salt dissolves.
#pragma once

#include "base/record.hpp"

namespace tidemark::materials {

/// Heat that melts ice at 0 C [J/kg].
double heat_of_fusion(base::Records& records);

/// Heat that warms water [J/(kg K)].
double water_heat(base::Records& records);

/// Heat that warms ice [J/(kg K)].
double ice_heat(base::Records& records);

/// Heat that warms brine of a salt fraction [J/(kg K)] (ashrae). Throws InputError outside 0 to
/// 29 %.
double brine_heat(base::Records& records, double salt);

} // namespace tidemark::materials
