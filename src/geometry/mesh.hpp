// SPDX-License-Identifier: MIT
/// Cells: a conforming triangulation of a section, or a line of nodes for the 1-D shapes.
/// Every outline, bone wall and fat seam is a chain of cell edges that follows the curve when the
/// mesh is refined, so no wall is a staircase. Knows region labels, not materials.
#pragma once

#include "geometry/section.hpp"

#include <array>
#include <memory>
#include <string>
#include <vector>

namespace tidemark::geometry {

/// A polyline with its running length; nodes on it are placed by arc length.
struct Curve {
    std::vector<Point> points;
    std::vector<double> length; ///< [m] from the first point, same size as `points`
    bool closed = false;        ///< last point equals the first
    bool outer = false;         ///< part of the outline
    bool wet = false;           ///< outer and not sealed
    std::string face = {};      ///< the one of Section::faces it belongs to, or ""
    int mirror = 0;             ///< of a half, its cut side: 1 level, 2 upright

    double total() const { return length.back(); }
    Point at(double s) const; ///< point at arc length s [m], 0 <= s <= total()
};

/// A mesh edge that lies on a curve, between arc lengths `sa` and `sb`.
struct CurveEdge {
    int a = 0, b = 0;
    int curve = 0;
    double sa = 0, sb = 0;
};

/// Triangles over a section. `region[t]` indexes `kinds`; bone is left out.
struct Mesh {
    std::vector<Point> nodes;                  ///< [m]
    std::vector<std::array<int, 3>> triangles; ///< counter-clockwise
    std::vector<int> region;
    std::vector<std::string> kinds;
    std::vector<Curve> curves;
    std::vector<CurveEdge> edges; ///< every outline, wall and seam edge
    std::vector<bool> wet;        ///< per node: touches a wet stretch of the outline
    double spacing = 0;           ///< [m] nominal node distance
    std::vector<int> twin = {}; ///< per node the one it is an image of, or itself; empty: no images
    /// Of images, the part that has been meshed, and where each of its nodes and the image of that
    /// stands.
    std::shared_ptr<const Mesh> half = {};
    Mirror mirror = {};
    std::vector<int> own = {}, image = {};
    /// What refine() makes of it, where triangulate() has made that already.
    std::shared_ptr<const Mesh> halved = {};
};

/// A line of nodes for sheet (power 0), long round (1) and ball (2), the coordinate running from
/// the centre or the far face to the last face. `region` has one entry per interval.
struct Line {
    std::vector<double> nodes; ///< [m] ascending; starts at 0 for power 1 and 2
    std::vector<int> region;
    std::vector<std::string> kinds;
    int power = 0;
    bool wet_first = false;
    bool wet_last = true;
};

/// The section's curves, cut at corners, at junctions, where wet meets sealed and where a face
/// ends.
std::vector<Curve> network(const Section& section);

/// Triangulates a checked section with nominal node distance `spacing` [m], finer at bone walls,
/// seams, where wet meets sealed and where a face ends. Delaunay, with no obtuse angle facing a
/// curve edge, which makes the discrete maximum principle hold for isotropic tissue. A section
/// whose halves are images of each other gets such cells, and twins, unless it is to be `whole`.
/// Throws base::RunError if the section's curves come closer to each other than the mesher can
/// resolve.
Mesh triangulate(const Section& section, double spacing, bool whole = false);

/// The mesh of the section (or a refinement of it) with the named faces shut besides the section's
/// own seals; no names: as meshed, all of them: nothing wet, a rest. What was shut by an earlier
/// call opens again. Throws base::InputError headed by `where` for a name that is not among the
/// section's faces, or that no stretch of the outline bears.
Mesh with_sealed(Mesh mesh, const Section& section, const std::vector<std::string>& names,
                 const std::string& where);

/// Turns the edges within a region that two angles of more than 180 degrees together face; children
/// of an obtuse triangle, and cells whose wall moved, have some.
void make_delaunay(Mesh& mesh);

/// Splits every triangle into four; new nodes on a curve are moved onto it.
Mesh refine(const Mesh& mesh);

/// A line of n intervals of equal length over layers given from the far face (or centre) outwards.
struct Layer {
    std::string kind;
    double thickness = 0; ///< [m]
};
Line line(const std::vector<Layer>& layers, int intervals, int power, bool wet_first,
          bool wet_last);
/// Halves every interval.
Line refine(const Line& line);

} // namespace tidemark::geometry
