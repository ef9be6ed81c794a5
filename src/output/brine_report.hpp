// SPDX-License-Identifier: MIT
/// A brine sheet as one screen of text, or as one JSON object for other programs.
#pragma once

#include "cure/brine_sheet.hpp"
#include "output/screen.hpp"

#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters, metric first and kitchen units behind. `piece` are
/// flags that the line to type next takes besides the brine's.
std::string brine_report(const cure::BrineSheet& sheet, const Shown& shown,
                         const std::string& piece = "");

/// The words by which another command takes up a recipe for targets as it stands, the shape and the
/// thickness of the meat to be added.
std::string next_command(const cure::BrineSheet& sheet);

/// The object as text, two spaces deep; SI units, except where a member's name tells another.
std::string brine_json(const cure::BrineSheet& sheet);

} // namespace tidemark::output
