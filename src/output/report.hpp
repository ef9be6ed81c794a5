// SPDX-License-Identifier: MIT
/// The answer as one screen of text, the pull window first.
#pragma once

#include "cure/prediction.hpp"
#include "inference/ranges.hpp"

#include <optional>
#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters, metric first and kitchen units behind. `picture`
/// holds the section at the prediction's time. With ranges the advised day, the late one, stands
/// first, and where the spread comes from.
std::string report(const cure::Prediction& prediction, const cure::Picture& picture,
                   const std::optional<inference::Ranges>& ranges = {});

} // namespace tidemark::output
