// SPDX-License-Identifier: MIT
#include "geometry/ring.hpp"

#include <boost/geometry/algorithms/area.hpp>
#include <boost/geometry/algorithms/within.hpp>
#include <boost/geometry/strategies/strategies.hpp>

#include <algorithm>

namespace tidemark::geometry {

double distance(const Point& p, const Point& a, const Point& b, double* fraction) {
    const double dx = b.x() - a.x(), dy = b.y() - a.y();
    const double f =
        std::clamp(((p.x() - a.x()) * dx + (p.y() - a.y()) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
    if (fraction)
        *fraction = f;
    return distance(p, Point(a.x() + f * dx, a.y() + f * dy));
}

bool inside(const Point& p, const Ring& ring) {
    return boost::geometry::within(p, ring);
}

double ring_area(const Ring& ring) {
    return boost::geometry::area(ring);
}

Box bounds(const Ring& ring) {
    Box box{ring.front(), ring.front()};
    for (const Point& p : ring) {
        box.low = Point(std::min(box.low.x(), p.x()), std::min(box.low.y(), p.y()));
        box.high = Point(std::max(box.high.x(), p.x()), std::max(box.high.y(), p.y()));
    }
    return box;
}

} // namespace tidemark::geometry
