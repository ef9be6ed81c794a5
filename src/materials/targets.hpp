// SPDX-License-Identifier: MIT
/// What a cure is aimed at: taste, and the strength of premixes.
/// Labels differ: the strength printed on a premix outranks these figures.
#pragma once

#include "base/record.hpp"

#include <string>
#include <vector>

namespace tidemark::materials {

/// Mean salt that tastes cured but not too salty [kg/kg of meat].
struct Band {
    double low = 0;
    double high = 0;
};
Band taste_band(base::Records& records);

/// What is done to a piece after the cure: "eaten", "simmered", "soaked".
const std::vector<std::string>& ways_afterwards();
/// Salt that may leave the cure over the salt that is eaten [1], for one of them; a judgement.
double salt_afterwards(base::Records& records, const std::string& way);

/// Least salt at the core of a cure without nitrite [kg/kg of meat]; for taste, not for safety.
double salt_floor(base::Records& records);

/// Brine that drips from meat in a dry cure [kg per kg raw meat]; a judgement.
double purge(base::Records& records);

/// Depth [m] of the lean that is told as the surface; a judgement.
double surface_depth(base::Records& records);

/// Lack of cure [1] between needles, over the core's, from which on it is told; a judgement.
double told_between_needles(base::Records& records);

/// The trade's rules of days for each inch of the greatest thickness, as they are kept in the
/// records (`si()` in [m/s]), the quickest first; to be shown beside what the model says.
std::vector<base::Record> paces(base::Records& records);

/// What a curing premix holds [kg/kg], nitrite and nitrate as the sodium salts.
struct Premix {
    double salt = 0;
    double nitrite = 0;
    double nitrate = 0;
};
/// Throws InputError for an unknown premix.
Premix premix(base::Records& records, const std::string& name);
std::vector<std::string> premix_names(const base::Records& records);

} // namespace tidemark::materials
