// SPDX-License-Identifier: MIT
/// The cross-section of a piece: its outline, the regions in it, and which stretches are sealed.
/// Coordinates in metres, x to the right, y up, counter-clockwise rings. Knows labels, not
/// materials.
#pragma once

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>

#include <string>
#include <vector>

namespace tidemark::geometry {

using Point = boost::geometry::model::d2::point_xy<double>;
/// Open ring (first point not repeated), counter-clockwise.
using Ring = boost::geometry::model::ring<Point, false, false>;

/// A named part of the section. `kind` is "lean", "fat" or "bone"; lean is what no region covers.
struct Region {
    std::string name; ///< as the user wrote it, for messages: "fat cap", "rib 2"
    std::string kind;
    Ring ring; ///< inside the outline; may share stretches with it (a fat cap does)
};

/// A sealed stretch of the outline: every outline point within the ring. Empty list: all wet.
struct Seal {
    std::string name; ///< "top", "bottom", "left", "right" or a user's name
    Ring ring;
};

struct Section {
    std::string name; ///< "round", "block", "loin", ... or the file name
    Ring outline;
    std::vector<Region> regions;
    std::vector<Seal> seals;
    double thickness = 0; ///< [m] smaller extent, the one a cook measures
    double width = 0;     ///< [m] larger extent
};

/// Checks the section: finite points, outline simple and of positive area, regions inside the
/// outline (within `1e-3` of the thickness, and then snapped), not crossing each other, bone not
/// filling the section, some lean left, some wet stretch left. Throws base::InputError headed by
/// `where`, naming the region, the rule and the remedy. Returns the section with rings made
/// counter-clockwise and duplicate points removed.
Section checked(Section section, const std::string& where);

/// Area of the outline less the bones, and of each kind [m2].
struct Areas {
    double total = 0, lean = 0, fat = 0, bone = 0;
};
Areas areas(const Section& section);

/// Whether a point of the outline is wet: no seal covers it.
bool wet(const Section& section, const Point& p);

/// Share of the outline's length that is wet [1], 0 to 1; an outline edge counts by its middle.
double wet_share(const Section& section);

} // namespace tidemark::geometry
