// SPDX-License-Identifier: MIT
/// Cells: a conforming triangulation of a section, or a graded line for the 1-D shapes.
/// Every outline, bone wall and fat seam is a chain of cell edges, so no wall is a staircase.
#pragma once

#include "geometry/section.hpp"

#include <array>
#include <string>
#include <vector>

namespace tidemark::geometry {

/// A boundary edge of the mesh, from node `a` to node `b` with the section on its left.
struct Wall {
    int a = 0, b = 0;
    bool wet = true; ///< false: sealed stretch or bone
};

/// Triangles over a section. `region[t]` indexes `kinds`.
struct Mesh {
    std::vector<Point> nodes; ///< [m]
    std::vector<std::array<int, 3>> triangles; ///< counter-clockwise
    std::vector<int> region;
    std::vector<std::string> kinds; ///< e.g. {"lean", "fat"}
    std::vector<Wall> walls;
    double spacing = 0; ///< [m] largest nominal node distance
};

/// A line of nodes for sheet (power 0), long round (1) and ball (2), the coordinate running from the
/// centre or the far face to the wet surface. `region` has one entry per interval.
struct Line {
    std::vector<double> nodes; ///< [m] ascending
    std::vector<int> region;
    std::vector<std::string> kinds;
    int power = 0;
    bool wet_first = false; ///< is the face at nodes.front() wet
    bool wet_last = true;
};

/// Triangulates a checked section with nominal node distance `spacing` [m], finer at bone walls,
/// seams and where wet meets sealed.
Mesh triangulate(const Section& section, double spacing);

/// Splits every triangle into four; new boundary nodes are moved onto the section's own curves, so a
/// refined mesh converges to the section and not to the coarse polygon.
Mesh refine(const Mesh& mesh, const Section& section);

} // namespace tidemark::geometry
