// SPDX-License-Identifier: MIT
/// Where things go in the figure, and which colour stands for how much. Page layout only; lengths
/// on the page are in pixels from the bottom left.
#pragma once

#include "cure/picture.hpp"

#include <string>
#include <vector>

namespace tidemark::output {

/// A rectangle on the page [pixels].
struct Box {
    double left = 0, right = 0, bottom = 0, top = 0;
};

/// The page for one section: title, map, scale bar, key and colour bar from top to bottom.
struct Layout {
    /// `band` [pixels] is left free along the upper edge.
    Layout(const cure::Picture& picture, const std::string& heading, double band = 0);

    double width = 1080, height = 0; ///< [pixels]
    double top = 0;                  ///< where the title begins [pixels]
    Box map;
    double key = 0;                        ///< top of the key [pixels]
    double colourbar = 0;                  ///< bottom of the bar [pixels]
    double x0 = 0, x1 = 0, y0 = 0, y1 = 0; ///< what the map shows [m]
    double pixels_per_metre = 0;
    double bar = 0; ///< length of the scale bar, a round number of millimetres [m]
    std::vector<std::string> title;
};

/// Amounts to steps of the palette: 0 is nothing, 1 the target, then lasting colour and round
/// numbers up to the most there is. Straight in between, so that low amounts are seen beside high.
class ColourScale {
public:
    ColourScale(bool nitrite, double target, double lasting, const cure::Picture& picture);

    int steps() const { return static_cast<int>(levels_.size()) - 1; }
    /// The amount, and on a second line (after a backslash and an n) what is reached there.
    std::string label(int step) const;
    /// The picture's field in steps; NaN outside lean and fat.
    std::vector<double> raster(const cure::Picture& picture) const;

private:
    bool nitrite_;
    bool lasting_ = false;       ///< step 2 is the level of lasting colour
    std::vector<double> levels_; ///< rising, in ppm or percent
};

/// "day 4" and where its middle is [m].
struct PlacedLabel {
    std::string text;
    geometry::Point at{0, 0};
};

/// One label on each front, within the map, where it hides least of the other fronts and touches no
/// other label, no bone and not the core; a front with no such place gets none.
std::vector<PlacedLabel> place_labels(const cure::Picture& picture, const Layout& layout);

} // namespace tidemark::output
