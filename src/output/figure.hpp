// SPDX-License-Identifier: MIT
/// The cross-section as a picture: how far the cure has come, day by day, with bone and fat.
/// Draws through gnuplot, which must be installed; nothing else here needs it.
#pragma once

#include "cure/picture.hpp"
#include "inference/ranges.hpp"
#include "output/gnuplot.hpp"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::output {

/// Draws `picture` to `path`: amounts in ppm or percent by mass, lengths in mm and inches,
/// the pull day with its range in the title, and where the pink was `seen` to end on a slice, as
/// strokes [m]. Throws RunError if gnuplot is not installed or fails; then no file is left.
void draw_figure(const cure::Outcome& prediction, const cure::Picture& picture,
                 const std::string& path, const std::optional<inference::Ranges>& ranges = {},
                 const std::vector<std::array<geometry::Point, 2>>& seen = {});

} // namespace tidemark::output
