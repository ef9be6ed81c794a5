// SPDX-License-Identifier: MIT
/// Shares as they stand in the messages of this folder.
#pragma once

#include "base/text.hpp"

#include <string>

namespace tidemark::cure {

/// A proportion [1] as "6.25 %".
inline std::string percent(double share) {
    return base::significant(100 * share, 3) + " %";
}

/// A proportion [1] as "150 ppm".
inline std::string ppm(double share) {
    return base::significant(1e6 * share, 3) + " ppm";
}

} // namespace tidemark::cure
