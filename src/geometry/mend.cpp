// SPDX-License-Identifier: MIT
#include "geometry/mend.hpp"

#include "geometry/shared_outline.hpp"

#include <boost/geometry.hpp>

#include <algorithm>
#include <cmath>
#include <set>

namespace tidemark::geometry {
namespace {

namespace bg = boost::geometry;
using Polygon = bg::model::polygon<Point, false, false>;
using Polygons = bg::model::multi_polygon<Polygon>;

constexpr double little = farthest_mend / 5;
constexpr int most_knots = 300; // crossings undone in one ring
// A zigzag: a turn this sharp (cosine) next to a stretch this short.
constexpr double zigzag_cosine = 0.87, zigzag_stretch = 0.3e-3; // 30 degrees; [m]

double far_from(const Point& p, const Ring& ring) {
    double least = 1e300;
    for (std::size_t i = 0; i < ring.size(); ++i)
        least = std::min(least, distance(p, ring[i], ring[after(i, ring)]));
    return least;
}

Point along(const Point& a, const Point& b, double share) {
    return {std::lerp(a.x(), b.x(), share), std::lerp(a.y(), b.y(), share)};
}

using Ends = std::pair<std::pair<double, double>, std::pair<double, double>>;
Ends ends(const Ring& ring, std::size_t i) {
    const Point &a = ring[i], &b = ring[after(i, ring)];
    return std::minmax(std::pair(a.x(), a.y()), std::pair(b.x(), b.y()));
}

/// The farthest that the stretches which only `from` has stray from the other ring.
void widen(Shift& shift, const Ring& from, const Ring& to, const Ring& outline) {
    std::set<Ends> known;
    for (std::size_t i = 0; i < to.size(); ++i)
        known.insert(ends(to, i));
    for (std::size_t i = 0; i < from.size(); ++i) {
        if (known.contains(ends(from, i)))
            continue;
        const Point &a = from[i], &b = from[after(i, from)];
        const int parts = std::clamp(static_cast<int>(distance(a, b) / little), 1, 64);
        for (int k = 0; k < parts; ++k) {
            const Point p = along(a, b, double(k) / parts);
            if (const double d = std::min(far_from(p, to), far_from(p, outline));
                d > shift.distance)
                shift = {d, p};
        }
    }
}

double side(const Point& a, const Point& b, const Point& p) {
    return (b.x() - a.x()) * (p.y() - a.y()) - (b.y() - a.y()) * (p.x() - a.x());
}

/// Whether the stretches a-b and c-d share a point, without the arithmetic of where.
bool meet(const Point& a, const Point& b, const Point& c, const Point& d) {
    const auto apart = [](double p, double q, double r, double s) {
        return std::max(p, q) < std::min(r, s) || std::max(r, s) < std::min(p, q);
    };
    return !apart(a.x(), b.x(), c.x(), d.x()) && !apart(a.y(), b.y(), c.y(), d.y()) &&
           side(a, b, c) * side(a, b, d) <= 0 && side(c, d, a) * side(c, d, b) <= 0;
}

/// Joins two stretches that cross the other way round; false if that moves a line too far.
bool swap(Ring& ring, std::size_t i, std::size_t j) {
    const Point a = ring[i], b = ring[i + 1], c = ring[j], d = ring[after(j, ring)];
    if (distance(a, c) + distance(b, d) < (1 - 1e-12) * (distance(a, b) + distance(c, d))) {
        Shift moved;
        for (int k = 0; k <= 8; ++k) {
            const Point p = along(a, c, k / 8.0), q = along(b, d, k / 8.0);
            for (const Point& r : {p, q})
                moved.distance =
                    std::max(moved.distance, std::min(distance(r, a, b), distance(r, c, d)));
        }
        if (moved.distance > farthest_mend)
            return false;
        std::reverse(ring.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                     ring.begin() + static_cast<std::ptrdiff_t>(j) + 1);
        return true;
    }
    // They touch: the point that lies on the other stretch is taken back between its neighbours.
    std::size_t touching = i;
    double least = 1e300;
    for (const auto& [point, other] : {std::pair{i, j}, {i + 1, j}, {j, i}, {after(j, ring), i}})
        if (const double to = distance(ring[point], ring[other], ring[after(other, ring)]);
            to < least)
            least = to, touching = point;
    const Point p = ring[touching], before = ring[(touching + ring.size() - 1) % ring.size()],
                behind = ring[after(touching, ring)], aim = along(before, behind, 0.5);
    const double room = distance(p, aim);
    if (room < little)
        ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(touching));
    else
        ring[touching] = along(p, aim, little / room);
    return true;
}

Polygons grown(const Ring& ring, double by) {
    Polygons all;
    Polygon polygon;
    polygon.outer() = ring;
    bg::buffer(polygon, all, bg::strategy::buffer::distance_symmetric<double>(by),
               bg::strategy::buffer::side_straight(), bg::strategy::buffer::join_miter(2),
               bg::strategy::buffer::end_flat(), bg::strategy::buffer::point_circle(16));
    return all;
}

Ring largest(const Polygons& parts) {
    Ring best;
    for (const Polygon& part : parts)
        if (best.empty() || bg::area(part) > bg::area(best))
            best = part.outer();
    return best;
}

} // namespace

Shift shift(const Ring& before, const Ring& after, const Ring& outline) {
    Shift most;
    widen(most, before, after, outline);
    widen(most, after, before, {});
    return most;
}

Ring untangled(Ring ring) {
    drop_spikes(ring, farthest_mend);
    int knots = 0;
    for (bool again = true; again;) {
        again = false; // a knot undone can cross what was passed before it
        for (std::size_t i = 0; i + 2 < ring.size();) {
            std::size_t j = i + 2;
            while (j < ring.size() && (after(j, ring) == i ||
                                       !meet(ring[i], ring[i + 1], ring[j], ring[after(j, ring)])))
                ++j;
            if (j == ring.size()) {
                ++i;
                continue;
            }
            if (++knots > most_knots || !swap(ring, i, j))
                return ring;
            drop_spikes(ring, farthest_mend);
            again = true;
        }
    }
    return ring;
}

Ring thinned(const Ring& ring) {
    const std::size_t n = ring.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Point &a = ring[(i + n - 1) % n], &b = ring[i], &c = ring[after(i, ring)];
        const double u = distance(a, b), v = distance(b, c);
        const double dot = (b.x() - a.x()) * (c.x() - b.x()) + (b.y() - a.y()) * (c.y() - b.y());
        if (std::min(u, v) >= zigzag_stretch || dot >= zigzag_cosine * u * v)
            continue;
        bg::model::ring<Point, false, true> closed(ring.begin(), ring.end()), thin;
        closed.push_back(ring.front());
        bg::simplify(closed, thin, little);
        return thin.size() > 3 ? Ring(thin.begin(), thin.end() - 1) : ring;
    }
    return ring;
}

Ring drawn_in(const Ring& region, Ring& outline) {
    double out = 0;
    for (const Point& p : region)
        if (!bg::covered_by(p, outline))
            out = std::max(out, far_from(p, outline));
    for (const Point& p : outline)
        if (bg::within(p, region))
            out = std::max(out, far_from(p, region));
    if (out > farthest_mend)
        return region;
    Ring drawn = region;
    share(outline, drawn, out);
    drop_duplicates(drawn, 0);
    Polygons within;
    bg::intersection(drawn, outline, within);
    return largest(within);
}

Ring kept_within(const Ring& ring, const Ring& other, double clearance) {
    Polygons kept;
    bg::intersection(ring, grown(other, -clearance), kept);
    return largest(kept);
}

Ring kept_off(const Ring& ring, const Ring& other, double clearance) {
    Polygons kept;
    bg::difference(ring, grown(other, clearance), kept);
    return largest(kept);
}

} // namespace tidemark::geometry
