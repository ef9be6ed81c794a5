// SPDX-License-Identifier: MIT
/// From what the meat should hold to what is weighed out: brine for meat left until balance
/// (pickle.hpp turned round), brine for needles, or a dry cure.
#pragma once

#include "base/record.hpp"
#include "cure/pickle.hpp"

#include <optional>
#include <vector>

namespace tidemark::cure {

/// How a cure goes in.
enum class Way { brine, needles, rub, bag };
inline bool dry(Way way) {
    return way == Way::rub || way == Way::bag;
}

/// What is wanted.
struct Targets {
    Way way = Way::brine;
    double salt = 0;    ///< of the meat with all of it in, or at balance [kg per kg cured meat]
    double nitrite = 0; ///< ingoing, as the law counts it for the way [kg/kg]; 0: none
    double gain = 0;    ///< needles: brine that goes in, over the raw weight [1]
    Balance balance;    ///< the meat, and how it shares; dry: one piece
    double meat_density = 0;         ///< [kg/m3]; for the container
    std::optional<double> container; ///< [m3] that meat and brine fill together
    Brine brine; ///< the premix's strengths, sugar and erythorbate; mass or volume if no container
};

/// Salt [kg per kg raw meat] of a dry cure that comes to a mean [kg per kg cured meat] with all of
/// it in: what drips off a rub takes its salt along, in a bag it stays and shares the salt.
double dry_salt(double mean, Way way, const Balance& meat, double temperature,
                base::Records& records);

/// Salt of a brine [kg/kg] that comes to a mean [kg per kg cured meat] pumped to a gain [1].
double needle_salt(double mean, double gain);

/// The recipe [kg] that meets the targets exactly at a temperature [K], in water, salt and premix.
/// Throws InputError if the meat fills the container, if no amount of brine is given, or if the
/// premix alone brings too much salt.
Brine make_brine(const Targets& targets, double temperature, base::Records& records);

/// The recipe as scales of a step [kg] can weigh it and three digits show it: the premix to the
/// step above or below, the nearer first, and salt to meet its target with it.
std::vector<Brine> weighable(const Targets& targets, const Brine& exact, double step,
                             double temperature, base::Records& records);

} // namespace tidemark::cure
