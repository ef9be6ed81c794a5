// SPDX-License-Identifier: MIT
/// From the cook's words to coefficients: tissues, bath and cells of a case.
/// This is the one place where a region label meets a material.
#pragma once

#include "base/record.hpp"
#include "cure/case.hpp"
#include "cure/pickle.hpp"
#include "geometry/mesh.hpp"
#include "transport/stepper.hpp"
#include "transport/system.hpp"

#include <map>
#include <optional>
#include <string>

namespace tidemark::cure {

/// One tissue with both solutes.
struct Tissue {
    double density = 0;        ///< raw [kg/m3]
    double water_fraction = 0; ///< [kg water per kg raw tissue]
    transport::Medium salt, nitrite;
};

/// Everything the solve needs.
struct Setup {
    std::map<std::string, Tissue> tissues; ///< "lean", "fat"
    Pickle pickle;
    transport::Bath salt_bath, nitrite_bath;
    std::optional<transport::Clock> clock; ///< of a cooler with a log
    std::optional<geometry::Section> section;  ///< 2-D shapes
    std::vector<geometry::Layer> layers;       ///< 1-D shapes
    int power = 0;
    bool wet_first = false, wet_last = true;
    double half_thickness = 0; ///< [m]
    double weight = 0;         ///< of one piece [kg]; 0 unknown
    double length = 0;         ///< [m]; 0 unknown
};

/// Applies the case's overrides to `records`, then works out the coefficients. Throws
/// base::InputError for a case that makes no sense.
Setup make_setup(const Case& question, base::Records& records);

} // namespace tidemark::cure
