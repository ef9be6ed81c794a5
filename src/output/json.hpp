// SPDX-License-Identifier: MIT
/// A prediction as one JSON object, for other programs. Units stand in the names of the members.
#pragma once

#include "cure/prediction.hpp"
#include "inference/ranges.hpp"
#include "output/best_view.hpp"

#include <optional>
#include <string>

namespace tidemark::output {

/// The object as text, two spaces deep, doubles with all their digits (days, percent by mass, ppm
/// by mass, mm, kg). What is not finite or not known is null. Records keep the unit they have in
/// the records. Without ranges "range" is null; a day that is never reached is null in it.
std::string json(const cure::Prediction& prediction,
                 const std::optional<inference::Ranges>& ranges = {}, const Advised& advised = {});

} // namespace tidemark::output
