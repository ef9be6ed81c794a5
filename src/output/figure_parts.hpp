// SPDX-License-Identifier: MIT
/// What stands on every figure: its title, the dangers above it, headings.
#pragma once

#include "judge/finding.hpp"
#include "output/drawing.hpp"

#include <string>

namespace tidemark::output {

constexpr double page_margin = 40; ///< left and right of what is drawn [pixels]

/// Lines of a paragraph from `y` down, about equally long, in the middle of the page; where they
/// end.
double paragraph(Drawing& d, double y, const std::string& text, double size, bool bold);

/// The dangers in a box, then the answer and what was asked; where they end.
double head(Drawing& d, const judge::Findings& findings, const std::string& answer,
            const std::string& asked);

/// A heading in as many lines as it needs within `where`; where what it heads begins.
double heading(Drawing& d, const Box& where, const std::string& text);

} // namespace tidemark::output
