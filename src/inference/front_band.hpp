// SPDX-License-Identifier: MIT
/// Where the edge of the cure lies in most pieces on a day, told by two days of the typical piece.
#pragma once

#include "inference/answer.hpp"

#include <optional>
#include <utility>

namespace tidemark::inference {

/// The days [s] on which a typical piece looks on day `time` [s] as the slow and the fast end of 90
/// in 100 pieces do then, by how much sooner or later their cores are cured. For one piece in a
/// brine without an end, whose ranges are known; exact where all times scale together, that is
/// without loss of nitrite.
std::optional<std::pair<double, double>> fronts_between(const Answer& answer, double time);

} // namespace tidemark::inference
