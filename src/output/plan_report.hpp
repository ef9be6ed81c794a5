// SPDX-License-Identifier: MIT
/// A schedule that was run as one screen of text.
#pragma once

#include "cure/picture.hpp"
#include "inference/answer.hpp"
#include "output/screen.hpp"

#include <optional>
#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters, the chance of the schedule first, and the line that
/// shows the change advised. `more`: with the ranges, the section at the end, and the plane across
/// the needles at its picture's time.
std::string plan_report(const inference::Answer& answer, const std::string& change_command,
                        const Shown& shown, const cure::Picture& section,
                        const std::optional<cure::Picture>& across);

} // namespace tidemark::output
