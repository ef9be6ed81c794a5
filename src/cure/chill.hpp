// SPDX-License-Identifier: MIT
/// Hot brine, ice and cold water put together: how cold, how strong, and how much ice it takes.
/// Well mixed, no heat to or from pot and room, and none from dissolving; the pot asks for more.
#pragma once

#include "base/record.hpp"
#include "cure/pickle.hpp"

#include <optional>

namespace tidemark::cure {

/// What is put together.
struct Chill {
    double brine = 0;                ///< hot brine [kg]
    double salt = 0;                 ///< in the hot brine [kg/kg]
    double hot = 363.15;             ///< its temperature [K]
    double cold_water = 0;           ///< [kg]
    double cold_temperature = 0;     ///< [K]; unused without cold water
    double ice = 0;                  ///< [kg]
    double ice_temperature = 273.15; ///< [K]
};

/// What comes of it.
struct Chilled {
    double temperature = 0; ///< [K]
    double melted = 0;      ///< [kg] of the ice
    double salt = 0;        ///< in the liquid, at this temperature [kg/kg]
};

/// The whole pot of a recipe of which all was heated but its ice and cold water.
Chill pot(const Brine& recipe, const Pickle& pickle);

/// Throws InputError for ice above its melting point, and for so much cold ice that the brine
/// freezes through.
Chilled chill(const Chill& mix, base::Records& records);

/// Ice [kg] that brings brine and cold water of `mix` to `target` [K], all of it melted; none
/// (zero) if they are colder. `mix.ice` is not looked at.
double ice_for(const Chill& mix, double target, base::Records& records);

/// How much of the water of a finished brine must be kept back as ice [kg] so that its hot part,
/// at mix.hot, comes to `target` [K] at full strength. `mix.brine` and `mix.salt` describe the
/// finished brine; cold water is not looked at. None if even a hot part that holds all the salt it
/// can is too much.
std::optional<double> ice_in_place_of_water(const Chill& mix, double target,
                                            base::Records& records);

} // namespace tidemark::cure
