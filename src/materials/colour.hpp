// SPDX-License-Identifier: MIT
/// How much nitrite must have arrived for a muscle to cook pink, and to stay so.
/// Colour only: it says nothing about safety.
#pragma once

#include "base/record.hpp"

#include <string>

namespace tidemark::materials {

/// Ingoing nitrite for visible pink [kg NaNO2 per kg meat] at a myoglobin content [kg/kg]
/// (heaton2000, read per myoglobin). Measured from 0.0005 to 0.004; darker meat is extrapolated.
double pink_threshold(base::Records& records, double myoglobin);

/// Ingoing nitrite for a colour that lasts [kg NaNO2 per kg meat] in "pork" or "beef". Throws
/// InputError for another species.
double stable_threshold(base::Records& records, const std::string& species);

/// Ingoing nitrite at which a cook calls it cured [as the ends]: between first pink and lasting,
/// where colour.eye puts it, in logarithms.
double cured_threshold(base::Records& records, double pink, double lasting);

} // namespace tidemark::materials
