// SPDX-License-Identifier: MIT
/// One function for each rule. A new rule is written beside its kind and named in the list of
/// judge.cpp; no command has to be told.
#pragma once

#include "base/text.hpp"
#include "judge/judge.hpp"

namespace tidemark::judge {

using Rule = void(const Weighed&, const Law&, base::Records&, Findings&);

Rule over_limit, without_a_limit, unknown_weights, nitrate, too_little, erythorbate; // law.cpp
Rule mistaken_premix, warmth, poison, no_nitrite;                                    // safety.cpp

/// A mass [kg] as "24.6 g".
inline std::string grams(double kilograms) {
    return base::significant(1e3 * kilograms, 3) + " g";
}
/// A proportion [1] as "150 ppm".
inline std::string ppm(double share, int digits = 3) {
    return base::significant(1e6 * share, digits) + " ppm";
}
/// ppm() with as many digits as it takes to tell the share from a limit it misses.
inline std::string ppm_beside(double share, double limit) {
    return ppm(share, ppm(share) == ppm(limit) ? 5 : 3);
}

} // namespace tidemark::judge
