// SPDX-License-Identifier: MIT
/// Several pieces in one bath as one screen of text.
#pragma once

#include "inference/answer.hpp"

#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters, in the order of taking out. `more`: with the state
/// of each piece and the notes.
std::string bucket_report(const inference::Answer& answer, bool more = false);

} // namespace tidemark::output
