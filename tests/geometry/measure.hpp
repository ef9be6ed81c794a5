// SPDX-License-Identifier: MIT
/// Sizes that several tests of shapes and meshes take.
#pragma once

#include "geometry/mesh.hpp"

#include <boost/geometry.hpp>

namespace tidemark::geometry {

/// Of triangle t, less than 0 where it runs clockwise.
inline double area(const Mesh& m, std::size_t t) {
    const auto& [i, j, k] = m.triangles[t];
    const Point &a = m.nodes[i], &b = m.nodes[j], &c = m.nodes[k];
    return ((b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x())) / 2;
}

/// From a point to a ring's line.
inline double to_wall(const Ring& ring, const Point& p) {
    boost::geometry::model::linestring<Point> wall(ring.begin(), ring.end());
    wall.push_back(ring.front());
    return boost::geometry::distance(p, wall);
}

} // namespace tidemark::geometry
