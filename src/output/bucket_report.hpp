// SPDX-License-Identifier: MIT
/// Several pieces in one bath as one screen of text.
#pragma once

#include "inference/answer.hpp"
#include "output/screen.hpp"

#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters, in the order of taking out, and the line that shows
/// the change advised. `more`: with the state of each piece and the notes.
std::string bucket_report(const inference::Answer& answer, const std::string& change_command,
                          const Shown& shown);

} // namespace tidemark::output
