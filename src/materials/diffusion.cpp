// SPDX-License-Identifier: MIT
/// Each diffusivity is a record at 4 C moved to the temperature asked for; obstruction is exact and
/// carries no record.
#include "materials/diffusion.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "materials/lookup.hpp"
#include "materials/meat.hpp"
#include "materials/solutes.hpp"

#include <cmath>

namespace tidemark::materials {
namespace {

constexpr double gas_constant = 8.314462618; // [J/(mol K)], exact since 2019 (SI)

} // namespace

double arrhenius(double value, double activation_energy, double reference_temperature,
                 double temperature) {
    return value * std::exp(activation_energy / gas_constant *
                            (1 / reference_temperature - 1 / temperature));
}

double salt_diffusivity(base::Records& records, const std::string& tissue, double temperature) {
    const std::string key =
        tissue == "adipose" ? tissue : "muscle." + known("muscle", tissue, muscle_names(records));
    return arrhenius(records.si(key + ".diffusivity"), records.si("diffusion.activation-energy"),
                     records.si("diffusion.reference-temperature"), temperature);
}

double nitrite_diffusivity(base::Records& records, const std::string& tissue, double temperature) {
    return diffusivity_ratio(records, "nitrite") * salt_diffusivity(records, tissue, temperature);
}

double beyond_weak_brine(double salt) {
    // Uptake goes as (5/3) of the integral of u^(2/3) D(u): a straight D counts at 5/8 [crank1975].
    constexpr double as_absorbed = 5. / 8;
    constexpr double weak = 0.04; ///< of a brine, where the diffusivities of models/ belong
    const auto in_water = [](double share) { return share / (1 - share); };
    return as_absorbed * (in_water(salt) - in_water(weak));
}

double salt_slope(base::Records& records) {
    return records.si("diffusion.salt-slope");
}

double fibre_ratio(base::Records& records) {
    return records.si("diffusion.fibre-ratio");
}

double handling_factor(base::Records& records, const std::string& handling) {
    known("handling", handling, {"fresh", "frozen-thawed"});
    return handling == "fresh" ? 1 : records.si("diffusion." + handling);
}

double maxwell_diffusivity(double phi) {
    return 2 / (2 + phi);
}

double free_diffusivity(base::Records& records, double temperature) {
    return arrhenius(records.si("diffusion.ceiling"), records.si("diffusion.ceiling-energy"),
                     records.si("diffusion.reference-temperature"), temperature);
}

std::string ceiling_warning(base::Records& records, double diffusivity, double temperature) {
    const double ceiling = free_diffusivity(records, temperature);
    if (diffusivity <= ceiling) {
        return "";
    }
    return "a diffusivity of " + base::significant(diffusivity * 1e9, 3) +
           "e-9 m2/s is faster than salt in plain water at " + base::show_temperature(temperature) +
           " (" + base::significant(ceiling * 1e9, 3) + "e-9 m2/s); no meat can do that";
}

} // namespace tidemark::materials
