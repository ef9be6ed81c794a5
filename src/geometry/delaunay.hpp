// SPDX-License-Identifier: MIT
/// Delaunay triangulation of a point set, through Boost.Polygon's Voronoi builder.
#pragma once

#include "geometry/section.hpp"

#include <array>
#include <vector>

namespace tidemark::geometry {

/// Counter-clockwise Delaunay triangles over distinct points [indices]. Coordinates are rounded to
/// 1e-8 of the extent for the predicate only. Points that coincide after rounding are not used.
std::vector<std::array<int, 3>> delaunay(const std::vector<Point>& points);

} // namespace tidemark::geometry
