// SPDX-License-Identifier: MIT
/// A brine as the cook describes it: by its strength, or by what goes into the pot.
/// One description for every command; pickle.hpp works it out.
#pragma once

#include <optional>
#include <string>

namespace tidemark::cure {

/// The brine; the recipe wins where strength and recipe are both given.
struct Brine {
    std::string where;             ///< heads messages about its strength; none: the flag of it
    std::optional<double> salt;    ///< [kg per kg brine]
    std::optional<double> nitrite; ///< sodium nitrite [kg per kg brine]
    /// Sodium nitrate [kg per kg brine]: what the premix brings along with that nitrite.
    std::optional<double> nitrate;
    std::optional<double> mass;   ///< [kg] in all
    std::optional<double> volume; ///< [m3] in all
    /// The recipe [kg]. Ice and cold water count as water, whenever they go in.
    std::optional<double> water, ice, cold_water, salt_added, sugar, premix, erythorbate;
    double premix_strength = 0.0625; ///< sodium nitrite in the premix [1]
    double premix_nitrate = 0;       ///< sodium nitrate in the premix [1]
    bool ascorbate = false;          ///< erythorbate or ascorbate in the brine
    std::optional<double> film;      ///< film coefficient of still brine [m/s]; none: well stirred
    /// How a brine that was heated is cooled.
    struct Cooling {
        double hot = 373.15;              ///< of the brine when the ice goes in [K]
        double ice_temperature = 273.15;  ///< [K]
        double cold_temperature = 288.15; ///< of cold water [K]
        bool told = true; ///< the cook has said how hot; else it is taken as boiling
    };
    std::optional<Cooling> cooling;
    /// Factor by which an amount may be off either way [1]; 1 for what was weighed.
    struct Spread {
        double ice = 1, salt = 1, sugar = 1, premix = 1;
    } spread;
};

} // namespace tidemark::cure
