// SPDX-License-Identifier: MIT
/// Nearest places on an outline, and rings rewritten to follow it; quadratic, for a few thousand
/// points.
#include "geometry/shared_outline.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tidemark::geometry {
namespace {

/// Cheap test that rules out most stretches before distance() is asked.
bool beside(const Point& p, const Point& a, const Point& b, double reach) {
    const auto clear = [&](double v, double from, double to) {
        return std::abs(2 * v - from - to) > std::abs(to - from) + 2 * reach;
    };
    return clear(p.x(), a.x(), b.x()) || clear(p.y(), a.y(), b.y());
}

std::size_t find(const Ring& ring, const Point& p) {
    const auto found = std::find_if(
        ring.begin(), ring.end(), [&](const Point& q) { return q.x() == p.x() && q.y() == p.y(); });
    return static_cast<std::size_t>(found - ring.begin());
}

/// Puts a point of the outline into the stretch of the region that passes it, away from its ends.
void pass_through(Ring& region, const Point& q, double reach) {
    for (std::size_t i = 0; i < region.size(); ++i) {
        const Point &a = region[i], &b = region[after(i, region)];
        if (!beside(q, a, b, reach) && distance(q, a) > reach && distance(q, b) > reach &&
            distance(q, a, b) <= reach) {
            region.insert(region.begin() + static_cast<std::ptrdiff_t>(i) + 1, q);
            ++i;
        }
    }
}

/// The outline's points between two of its own, or none if one strays from the straight line.
Ring between(const Ring& outline, std::size_t from, std::size_t to, double reach) {
    Ring passed;
    for (std::size_t k = after(from, outline); k != to; k = after(k, outline)) {
        if (distance(outline[k], outline[from], outline[to]) > reach) {
            return {};
        }
        passed.push_back(outline[k]);
    }
    return passed;
}

} // namespace

void drop_duplicates(Ring& ring, double reach) {
    const auto same = [&](const Point& a, const Point& b) { return distance(a, b) <= reach; };
    ring.erase(std::unique(ring.begin(), ring.end(), same), ring.end());
    while (ring.size() > 1 && same(ring.front(), ring.back())) {
        ring.pop_back();
    }
}

void drop_spikes(Ring& ring, double reach) {
    for (std::size_t i = 0; i < ring.size() && ring.size() > 3;) {
        const Point &a = ring[(i + ring.size() - 1) % ring.size()], &b = ring[i],
                    &c = ring[after(i, ring)];
        const double u = distance(a, b), v = distance(b, c);
        const double dot = (b.x() - a.x()) * (c.x() - b.x()) + (b.y() - a.y()) * (c.y() - b.y());
        if (std::min(u, v) <= reach && dot <= -(1 - 1e-9) * u * v) {
            ring.erase(ring.begin() + static_cast<std::ptrdiff_t>(i));
            i = i > 1 ? i - 2 : 0;
        } else {
            ++i;
        }
    }
}

std::optional<Point> join(Ring& outline, const Point& p, double reach) {
    double least = reach;
    std::optional<Point> foot;
    std::size_t at = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[after(i, outline)];
        if (beside(p, a, b, reach)) {
            continue;
        }
        double share = 0;
        if (const double d = distance(p, a, b, &share); d <= least) {
            least = d;
            foot = Point(std::lerp(a.x(), b.x(), share), std::lerp(a.y(), b.y(), share));
            at = i;
        }
    }
    if (!foot) {
        return foot;
    }
    const Point &a = outline[at], &b = outline[after(at, outline)];
    const Point& end = distance(*foot, a) < distance(*foot, b) ? a : b;
    if (distance(*foot, end) <= reach) {
        return end;
    }
    outline.insert(outline.begin() + static_cast<std::ptrdiff_t>(at) + 1, *foot);
    return foot;
}

void share(Ring& outline, Ring& region, double reach) {
    for (Point& p : region) {
        p = join(outline, p, reach).value_or(p);
    }
    for (const Point& q : outline) {
        pass_through(region, q, reach);
    }
    Ring followed;
    for (std::size_t i = 0; i < region.size(); ++i) {
        followed.push_back(region[i]);
        const std::size_t from = find(outline, region[i]);
        const std::size_t to = find(outline, region[after(i, region)]);
        if (from != to && from < outline.size() && to < outline.size()) {
            const Ring passed = between(outline, from, to, reach);
            followed.insert(followed.end(), passed.begin(), passed.end());
        }
    }
    region = std::move(followed);
    drop_spikes(region, std::numeric_limits<double>::infinity());
}

} // namespace tidemark::geometry
