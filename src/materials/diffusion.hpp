// SPDX-License-Identifier: MIT
/// How fast solutes move in lean and fat, for the water-phase concentration, across the fibres.
/// Assumes a diffusivity that does not change with strength; not for cooked or frozen meat.
#pragma once

#include "base/record.hpp"

#include <string>

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

/// Diffusivity of marbled lean over that of clean lean [1] at fat volume phi, fat as spheres that
/// nothing enters (Maxwell): its permeability over 1 - phi. 0 <= phi < 1.
double maxwell_diffusivity(double phi);

/// Diffusivity of salt in free water at a temperature [m2/s], which no tissue can beat. Valid from
/// 0 to 25 C.
double free_diffusivity(base::Records& records, double temperature);

/// A warning [text] when a diffusivity [m2/s] beats free water at that temperature [K], else "".
std::string ceiling_warning(base::Records& records, double diffusivity, double temperature);

} // namespace tidemark::materials
