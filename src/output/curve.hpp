// SPDX-License-Identifier: MIT
/// Lines as the eye wants them: without the kinks of the cells they were read from, and with words
/// that stand on them. All in pixels of the page.
#pragma once

#include "output/drawing.hpp"

namespace tidemark::output {

/// A line through cells made smooth: moved by about a pixel, corners kept. `closed`: the last point
/// runs on to the first, which is not repeated.
Points smoothed(const Points& line, bool closed);

/// A line without the points that a tenth of a pixel tells from a straight way.
Points thinned(const Points& line, bool closed);

/// Places words on one of `lines` so that they keep clear of `others` [points along what must not
/// be covered] and of what was placed before; none where they have no room.
class LinePlaces {
public:
    explicit LinePlaces(Points others) : others_(std::move(others)) {}
    /// The words with place and angle filled in; empty text if there is none.
    Words place(const std::vector<Points>& lines, const std::vector<Points>& other_lines,
                const std::string& text, double size);
    /// Level words inside `frame` as near to one of `lines` as they have room, with `pointer` the
    /// way from them to it where that is not plain to see; empty text if the frame is full.
    Words beside(const std::vector<Points>& lines, const std::vector<Points>& other_lines,
                 const Box& frame, const std::string& text, double size, Points& pointer);

private:
    /// What is placed later keeps clear of these words.
    void taken(const Words& words);
    Points others_;
};

/// Points along a line, at most `step` [pixels] apart.
Points dense(const Points& line, bool closed, double step);

} // namespace tidemark::output
