// SPDX-License-Identifier: MIT
/// The answer as one screen of text, the best day first.
#pragma once

#include "cure/picture.hpp"
#include "inference/answer.hpp"
#include "output/best_view.hpp"

#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters, metric first and kitchen units behind. `picture`
/// holds the section at the prediction's time. `more`: with tables, ranges and notes.
std::string report(const inference::Answer& answer, const cure::Picture& picture,
                   const std::string& change_command = "", const Shown& shown = {});

} // namespace tidemark::output
