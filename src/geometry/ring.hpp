// SPDX-License-Identifier: MIT
/// Points and rings, and the few questions asked of them. Kept apart from the algorithms of
/// Boost.Geometry, which only the .cpp files that use them include.
#pragma once

#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/ring.hpp>

#include <cmath>

namespace tidemark::geometry {

/// A place in the section [m].
using Point = boost::geometry::model::d2::point_xy<double>;
/// Open ring (first point not repeated), counter-clockwise [m].
using Ring = boost::geometry::model::ring<Point, false, false>;

/// Smallest upright box around something [m].
struct Box {
    Point low{0, 0}, high{0, 0};
    double width() const { return high.x() - low.x(); }
    double height() const { return high.y() - low.y(); }
    bool holds(const Point& p) const {
        return p.x() >= low.x() && p.x() <= high.x() && p.y() >= low.y() && p.y() <= high.y();
    }
    Point middle() const { return {(low.x() + high.x()) / 2, (low.y() + high.y()) / 2}; }
};

/// Distance between two points [m].
inline double distance(const Point& a, const Point& b) {
    const double dx = a.x() - b.x(), dy = a.y() - b.y();
    return std::sqrt(dx * dx + dy * dy);
}
/// Distance from a point to the stretch from a to b [m]; `fraction` is where the nearest place
/// lies.
double distance(const Point& p, const Point& a, const Point& b, double* fraction = nullptr);
/// Is the point inside the ring; the rim does not count.
bool inside(const Point& p, const Ring& ring);
/// Area of a counter-clockwise ring [m2].
double ring_area(const Ring& ring);
/// Box around a ring [m].
Box bounds(const Ring& ring);

} // namespace tidemark::geometry
