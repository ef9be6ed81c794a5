// SPDX-License-Identifier: MIT
/// The answer as one screen of text, the best day first.
#pragma once

#include "cure/prediction.hpp"
#include "inference/ranges.hpp"
#include "output/best_view.hpp"

#include <optional>
#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters, metric first and kitchen units behind. `picture`
/// holds the section at the prediction's time. `more`: with tables, ranges and notes.
std::string report(const cure::Prediction& prediction, const cure::Picture& picture,
                   const std::optional<inference::Ranges>& ranges = {}, const Advised& advised = {},
                   bool more = false);

} // namespace tidemark::output
