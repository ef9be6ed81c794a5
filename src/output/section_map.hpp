// SPDX-License-Identifier: MIT
/// The cross-section drawn in characters: what is cured, what is not, fat, bone and the core.
/// A sketch to be read at a glance, in ASCII; the figure is for measuring.
#pragma once

#include "cure/picture.hpp"

#include <string>
#include <vector>

namespace tidemark::output {

/// What the characters or tones of lean stand for, as amounts [kg per kg] on the day of the
/// picture.
struct MapScale {
    bool nitrite = true; ///< compare arrived nitrite; otherwise salt
    double target = 0;   ///< from here on it is cured
    double lasting = 0;  ///< from here on the colour lasts; 0: no such level
    bool numbers = true; ///< tell them; they differ from muscle to muscle
};

/// That of a piece; where there are several, without numbers.
MapScale map_scale(const cure::Outcome& outcome, std::size_t piece = 0);

/// What is drawn, in every key: "cured, 9.9 ppm or more", "lasting colour, 25 ppm or more".
std::string cured_tone(const MapScale& scale);
std::string lasting_tone(const MapScale& scale);
constexpr const char* core_mark = "core, the last place to cure";

/// A drawing and what its characters mean, both as lines.
struct SectionMap {
    std::vector<std::string> lines; ///< all of the same length
    std::vector<std::string> legend;
};

/// Draws the picture at most `columns` wide and `rows` high; a character is twice as high as wide.
SectionMap section_map(const cure::Picture& picture, const MapScale& scale, int columns, int rows);

} // namespace tidemark::output
