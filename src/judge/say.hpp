// SPDX-License-Identifier: MIT
/// Amounts as they stand in messages.
#pragma once

#include "base/text.hpp"

#include <string>

namespace tidemark::judge {

/// A mass [kg] as "24.6 g".
inline std::string grams(double kilograms) {
    return base::significant(1e3 * kilograms, 3) + " g";
}

/// A proportion [1] as "6.25 %".
inline std::string percent(double share) {
    return base::significant(100 * share, 3) + " %";
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
