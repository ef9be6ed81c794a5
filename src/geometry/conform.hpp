// SPDX-License-Identifier: MIT
/// Cells that respect the curves of a section: for triangulate().
#pragma once

#include "geometry/mesh.hpp"

#include <cstdint>
#include <set>

namespace tidemark::geometry {

/// Nodes of a mesh in the making, and the edges between those that lie on a curve.
struct Nodes {
    std::vector<Point> points; ///< [m]
    std::vector<CurveEdge> edges;
};

/// One number for an edge, whichever way it runs.
inline std::uint64_t key(int a, int b) {
    return (static_cast<std::uint64_t>(std::min(a, b)) << 32) |
           static_cast<unsigned>(std::max(a, b));
}

/// Puts one more node into each of these edges.
void split(Nodes& nodes, const std::vector<Curve>& curves, const std::set<std::size_t>& edges);

/// Makes every curve edge a Delaunay edge that no angle above 90 degrees faces from within: splits
/// the edge, or takes the interior node that offends away. Returns the triangles. Throws
/// base::RunError that names the place where this does not come to an end.
std::vector<std::array<int, 3>> conform(Nodes& nodes, const std::vector<Curve>& curves);

/// The edges that such an angle faces in `halved`, of a mesh made of these nodes: a node put into
/// one curve can come near another.
std::set<std::size_t> faced_badly(const Mesh& halved, const Nodes& nodes);

} // namespace tidemark::geometry
