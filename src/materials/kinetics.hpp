// SPDX-License-Identifier: MIT
/// How fast nitrite is used up in raw lean and in brine, as a first-order loss.
/// Known to a factor of two; not for fat tissue, cooked meat or fermented cures.
#pragma once

#include "base/record.hpp"

namespace tidemark::materials {

/// Loss of free nitrite [1/s] at a temperature [K] and pH, with or without ascorbate (or
/// erythorbate). Valid from 0 to 20 C and pH 5.4 to 6.8.
double loss_rate(base::Records& records, double temperature, double ph, bool ascorbate);

/// The same in the brine itself [1/s], away from meat. Valid from 0 to 20 C.
double brine_loss_rate(base::Records& records, double temperature, bool ascorbate);

/// Share of the ascorbate's work that waits until ascorbate has come to a spot [1].
double ascorbate_spread(base::Records& records);

} // namespace tidemark::materials
