// SPDX-License-Identifier: MIT
/// How fast solutes move in lean and fat, for the water-phase concentration, across the fibres.
/// Assumes a diffusivity that does not change with strength; not for cooked or frozen meat.
#pragma once

#include "base/record.hpp"

#include <string>
#include <vector>

namespace tidemark::materials {

/// `value` moved from one temperature [K] to another by an activation energy [J/mol], in its own
/// unit: value exp(E/R (1/T_ref - 1/T)).
double arrhenius(double value, double activation_energy, double reference_temperature,
                 double temperature);

/// Diffusivity of salt at a temperature [m2/s]. `tissue` is a muscle or "adipose". Valid from 0 to
/// 20 C. Throws InputError for an unknown tissue.
double salt_diffusivity(base::Records& records, const std::string& tissue, double temperature);

/// Diffusivity of free nitrite [m2/s], as salt_diffusivity; only beside an explicit loss.
double nitrite_diffusivity(base::Records& records, const std::string& tissue, double temperature);

/// Diffusivity of nitrate [m2/s], as salt_diffusivity.
double nitrate_diffusivity(base::Records& records, const std::string& tissue, double temperature);

/// Diffusivity gained by 1 kg of salt per kg of tissue water, over that without salt [1].
double salt_slope(base::Records& records);

/// The salt by which a brine [kg salt per kg] counts as stronger than the weak ones that a muscle's
/// diffusivity belongs to, for one that changes with the salt in the meat's water [kg per kg].
double beyond_weak_brine(double salt);

/// Diffusivity along the fibres over that across them [1].
double fibre_ratio(base::Records& records);

/// Factor on the diffusivity of lean for how it was kept [1]: "fresh" or "frozen-thawed". Throws
/// InputError for another word.
double handling_factor(base::Records& records, const std::string& handling);

/// Permeability of marbled lean over that of clean lean [1] at fat volume phi, fat as spheres that
/// nothing enters (Maxwell). 0 <= phi < 1.
double maxwell_permeability(double phi);
/// Diffusivity of marbled lean over that of clean lean [1]: the permeability over 1 - phi.
double maxwell_diffusivity(double phi);

/// The same two [1] for fat in particles of every size (Bruggeman); lower from phi = 0.1 up.
double bruggeman_permeability(double phi);
double bruggeman_diffusivity(double phi);

/// Diffusivity of a salt of two single-charged ions in free water [m2/s], 2 a b / (a + b)
/// (Nernst-Hartley).
double nernst_hartley(double cation, double anion);

/// Diffusivity of salt in free water at a temperature [m2/s], which no tissue can beat. Valid from
/// 0 to 25 C.
double free_diffusivity(base::Records& records, double temperature);

/// A warning [text] when a diffusivity [m2/s] beats free water at that temperature [K], else "".
std::string ceiling_warning(base::Records& records, double diffusivity, double temperature);

/// A diffusivity somebody reported [m2/s].
struct Reported {
    std::string name;
    double low = 0;
    double high = 0;
    std::string source;
    bool above_ceiling = false; ///< at the warmest temperature stated, or at 25 C if none is
};

/// The diffusivities reported in print [m2/s], for a table; nothing is computed from them.
std::vector<Reported> reported_diffusivities(const base::Records& records);

} // namespace tidemark::materials
