// SPDX-License-Identifier: MIT
/// The cross-section on a page: three flat tones of cure (grey, pink, lasting; more cured is never
/// paler), fat and bone in colours of their own, the fronts by day with their labels on them.
#pragma once

#include "cure/picture.hpp"
#include "inference/answer.hpp"
#include "output/drawing.hpp"

#include <array>
#include <string>
#include <vector>

namespace tidemark::output {

/// One entry of a key: a patch of colour, a stroke or a dot, and what it means.
struct KeyEntry {
    enum class Kind { patch, stroke, dot };
    Kind kind = Kind::patch;
    std::string colour, text;
    Dash dash = Dash::none;
    bool operator==(const KeyEntry&) const = default;
};
/// Draws a key from `where.top` down, as many entries beside each other as fit. Where it ends.
double draw_key(Drawing& drawing, const Box& where, const std::vector<KeyEntry>& entries);

/// What is drawn besides the tones.
struct SectionMarks {
    std::vector<cure::Picture::Front> fronts = {}; ///< with labels
    std::vector<cure::Picture::Front> between =
        {}; ///< slow and fast: 90 of 100 fronts lie between; the fast one may have no lines left
    std::vector<std::array<Point, 2>> seen = {}; ///< where the pink was seen to end [m]
    bool core = true;
    bool bar = true; ///< the scale bar, below
};

/// Draws the section of a piece as large as `where` allows, in the middle of its width, and adds
/// what it used to the key. Where it ends.
double draw_section(Drawing& drawing, const Box& where, const cure::Outcome& outcome,
                    std::size_t piece, const cure::Picture& picture, const SectionMarks& marks,
                    std::vector<KeyEntry>& key);

/// How high a section drawn so wide is [pixels], without its scale bar.
double section_height(const cure::Picture& picture, double wide);

/// The section of a picture with its key, as one <svg> element to stand in a page of HTML.
std::string section_svg(const inference::Answer& answer, const cure::Picture& picture);

/// "Day 5: grey in the middle".
std::string section_heading(const cure::Outcome& outcome, const cure::Picture& picture);

} // namespace tidemark::output
