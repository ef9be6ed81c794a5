// SPDX-License-Identifier: MIT
#include "inference/front_band.hpp"

#include <cmath>

namespace tidemark::inference {

std::optional<std::pair<double, double>> fronts_between(const Answer& a, double time) {
    const std::optional<double> typical = a.outcome.first().cured;
    if (!a.ranges || a.still || !typical || !std::isfinite(a.ranges->pull.late))
        return std::nullopt;
    return std::pair{time * *typical / a.ranges->pull.late, time * *typical / a.ranges->pull.early};
}

} // namespace tidemark::inference
