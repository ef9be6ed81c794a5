// SPDX-License-Identifier: MIT
/// A brine sheet as one screen of text, or as one JSON object for other programs.
#pragma once

#include "cure/brine_sheet.hpp"
#include "output/screen.hpp"

#include <string>

namespace tidemark::output {

/// What the line to type next says of the meat, as the cook has told it.
struct AskedMeat {
    std::string flags;     ///< " --case rib.ini" or " --muscle collar --weight \"5 lb\""
    bool measured = false; ///< the thickness is among them
    bool several = false;  ///< other pieces are
};

/// The screen, lines of at most 80 characters, metric first and kitchen units behind.
std::string brine_report(const cure::BrineSheet& sheet, const Shown& shown, const AskedMeat& meat);

/// The words by which another command takes up a recipe for targets as it stands; where the meat is
/// not measured, its shape and thickness are to be added.
std::string next_command(const cure::BrineSheet& sheet, const AskedMeat& meat);

/// The object as text, two spaces deep; SI units, except where a member's name tells another.
std::string brine_json(const cure::BrineSheet& sheet, const AskedMeat& meat);

} // namespace tidemark::output
