// SPDX-License-Identifier: MIT
/// The cross-section of a piece: its outline, the regions in it, and which stretches are sealed.
/// Coordinates in metres, x to the right, y up, counter-clockwise rings. Knows labels, not
/// materials.
#pragma once

#include "geometry/ring.hpp"

#include <string>
#include <vector>

namespace tidemark::geometry {

/// A named part of the section. `kind` is "lean", "fat" or "bone"; lean is what no region covers,
/// so a lean region only names a muscle.
struct Region {
    std::string name; ///< as the user wrote it, for messages: "fat cap", "rib 2"
    std::string kind;
    Ring ring; ///< [m] inside the outline; fat and lean may share stretches with it, bone may not
};

/// A sealed stretch of the outline: every outline point within the ring. No seals: all wet.
struct Seal {
    std::string name; ///< "top", "bottom", "left", "right" or a user's name
    Ring ring;        ///< [m] may reach beyond the outline
};

/// "top", "bottom", "left", "right".
const std::vector<std::string>& face_names();
/// The face that a straight stretch of a counter-clockwise outline belongs to: the side its outward
/// normal points to more than to any other; top or bottom at 45 degrees.
const std::string& facing(const Point& a, const Point& b);

/// The one of `faces` that the stretch after each point of an outline belongs to, or "". A short
/// way between two stretches of one face is a dent or a waver of a drawn outline and goes with
/// them.
std::vector<std::string> faces_along(const Ring& ring, const std::vector<std::string>& faces,
                                     double thickness);

/// A straight line that a half ends at, as its other half is its image beyond.
struct Mirror {
    bool upright = true; ///< x = at; else y = at
    double at = 0;       ///< [m]

    double depth(const Point& p) const { return (upright ? p.x() : p.y()) - at; } ///< [m]
    Point foot(const Point& p) const { return upright ? Point(at, p.y()) : Point(p.x(), at); }
    Point image(const Point& p) const {
        return upright ? Point(2 * at - p.x(), p.y()) : Point(p.x(), 2 * at - p.y());
    }
};

/// A cross-section, in metres. Lengths that are zero are taken from the outline by checked().
struct Section {
    std::string name; ///< "round", "block", "loin", "ham" or the file name
    Ring outline;
    std::vector<Region> regions;
    std::vector<Seal> seals;
    std::vector<std::string> faces =
        {};               ///< whose borders the mesh keeps, for with_sealed() to shut
    double thickness = 0; ///< [m] smaller extent, the one a cook measures; 2 mm to 600 mm
    double width = 0;     ///< [m] larger extent, at least the thickness, at most 3 m
    std::vector<Mirror> mirrors = {};    ///< of a half or a quarter (mirror.hpp): its cut sides
    std::vector<std::string> notes = {}; ///< what checked() moved, where and how far; for the user
};

/// Checks the section [m] and returns it ready for a mesher. What a shaky hand gets wrong by no
/// more than half a millimetre is mended (mend.hpp) and told in `notes`: loops and zigzags, fat and
/// lean that reach out of the outline, parts that touch. Throws base::InputError headed by `where`,
/// naming the part, the place, the rule and the remedy, unless then
///  - every ring has 3 to 5000 points, all numbers within 100 m, and does not cross or touch
///  itself;
///  - thickness and width are in the ranges above;
///  - every region is lean, fat or bone and lies inside the outline; bone keeps 0.5 % of the
///    thickness, 0.25 mm at most, away from the outline, and any two regions keep as much from each
///    other;
///  - lean is left on at least 1 % of the outline's area, and some stretch of the outline is wet;
///  - every seal covers part of the outline, and every face is one of face_names().
/// What comes back: rings run counter-clockwise; points within 1e-6 of the thickness of the one
/// before are gone; points of fat and lean within 1e-3 of the thickness of the outline lie exactly
/// on it and are points of the outline too, and along a shared stretch both rings have the same
/// points; the outline has a point where a seal begins or ends, so each of its edges is wet or
/// sealed whole (to 1e-3 of the thickness). These limits are the project's own: smaller gaps cost
/// many cells and change no answer a cook can use.
Section checked(Section section, const std::string& where);

/// Area of the outline less the bones, and of each kind [m2].
struct Areas {
    double total = 0, lean = 0, fat = 0, bone = 0;
};
/// Areas [m2] of a checked section; total = lean + fat.
Areas areas(const Section& section);

/// Whether a point [m] of the outline is wet: no seal covers it.
bool wet(const Section& section, const Point& p);

/// Share of the outline's length that is wet [1], 0 to 1; an outline edge counts by its middle.
double wet_share(const Section& section);

} // namespace tidemark::geometry
