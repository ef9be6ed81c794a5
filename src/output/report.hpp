// SPDX-License-Identifier: MIT
/// The answer as one screen of text, the pull window first.
#pragma once

#include "cure/prediction.hpp"

#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters, metric first and kitchen units behind. `picture`
/// holds the section at the prediction's time.
std::string report(const cure::Prediction& prediction, const cure::Picture& picture);

} // namespace tidemark::output
