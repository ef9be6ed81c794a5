// SPDX-License-Identifier: MIT
/// The half-life at the reference is a judgement; temperature and pH follow the printed guide.
#include "materials/kinetics.hpp"

#include "materials/diffusion.hpp"

#include <cmath>
#include <numbers>

namespace tidemark::materials {

double loss_rate(base::Records& records, double temperature, double ph, bool ascorbate) {
    const double half_life =
        records.si(ascorbate ? "kinetics.half-life-ascorbate" : "kinetics.half-life") *
        std::pow(records.si("kinetics.ph-factor"), ph - records.si("kinetics.reference-ph"));
    return arrhenius(std::numbers::ln2 / half_life, records.si("kinetics.activation-energy"),
                     records.si("kinetics.reference-temperature"), temperature);
}

double brine_loss_rate(base::Records& records, double temperature, bool ascorbate) {
    return arrhenius(
        records.si(ascorbate ? "kinetics.brine-loss-ascorbate" : "kinetics.brine-loss"),
        records.si("kinetics.activation-energy"),
        records.si("kinetics.brine-reference-temperature"), temperature);
}

double ascorbate_spread(base::Records& records) {
    return records.si("kinetics.ascorbate-spread");
}

} // namespace tidemark::materials
