// SPDX-License-Identifier: MIT
/// The cross-section drawn in characters: what is cured, what is not, fat, bone and the core.
/// A sketch to be read at a glance, in ASCII; the figure is for measuring.
#pragma once

#include "cure/picture.hpp"

#include <string>
#include <vector>

namespace tidemark::output {

/// What the characters of lean stand for, as amounts [kg per kg] on the day of the picture.
struct MapScale {
    bool nitrite = true; ///< compare arrived nitrite; otherwise salt
    double target = 0;   ///< from here on it is cured
    double lasting = 0;  ///< from here on the colour lasts; 0: no such level
};

/// That of a piece.
MapScale map_scale(const cure::Outcome& outcome);

/// A drawing and what its characters mean, both as lines.
struct SectionMap {
    std::vector<std::string> lines; ///< all of the same length
    std::vector<std::string> legend;
};

/// Draws the picture at most `columns` wide and `rows` high; a character is twice as high as wide.
SectionMap section_map(const cure::Picture& picture, const MapScale& scale, int columns, int rows);

} // namespace tidemark::output
