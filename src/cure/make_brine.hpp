// SPDX-License-Identifier: MIT
/// From what the meat should hold to what goes into the pot: pickle.hpp turned round.
/// For meat left until balance in a brine that covers it; not for pumping.
#pragma once

#include "base/record.hpp"
#include "cure/pickle.hpp"

#include <optional>

namespace tidemark::cure {

/// What is wanted.
struct Targets {
    double salt = 0;                 ///< of the meat at balance [kg per kg cured meat]
    double nitrite = 0;              ///< ingoing, over meat and brine [kg/kg]; 0: none
    Balance balance;                 ///< the meat, and how it shares
    double meat_density = 0;         ///< [kg/m3]; for the container
    std::optional<double> container; ///< [m3] that meat and brine fill together
    Brine brine; ///< the premix's strengths, sugar and erythorbate; mass or volume if no container
};

/// The recipe [kg] that meets the targets exactly at a temperature [K], in water, salt and premix.
/// Throws InputError if the meat fills the container, if no amount of brine is given, or if the
/// premix alone brings too much salt.
Brine make_brine(const Targets& targets, double temperature, base::Records& records);

/// The recipe as scales of a step [kg] can weigh it: water, salt and the rest to the nearest step,
/// premix down, so that no limit is passed by rounding.
Brine rounded(const Brine& brine, double step);

} // namespace tidemark::cure
