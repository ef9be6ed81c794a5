// SPDX-License-Identifier: MIT
#include "geometry/mirror.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tidemark::geometry {

namespace {

/// Whether a ring is its own image, or that of another: point by point, the other way round.
bool images(const Ring& a, const Ring& b, const Mirror& mirror, double tolerance) {
    const std::size_t n = a.size();
    if (b.size() != n)
        return false;
    const Point first = mirror.image(a[0]);
    const auto near =
        std::ranges::min_element(b, {}, [&](const Point& p) { return distance(p, first); });
    const auto start = static_cast<std::size_t>(near - b.begin());
    for (std::size_t i = 0; i < n; ++i)
        if (distance(mirror.image(a[i]), b[(start + n - i) % n]) > tolerance)
            return false;
    return true;
}

/// The part of a ring in front of the mirror; empty if there is none. None where it meets the
/// mirror in more than two points.
std::optional<Ring> in_front(const Ring& ring, const Mirror& mirror, double tolerance) {
    Ring front;
    int met = 0;
    const auto side = [&](const Point& p) {
        const double d = mirror.depth(p);
        return std::abs(d) < tolerance ? 0 : d > 0 ? 1 : -1;
    };
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point &a = ring[i], &b = ring[(i + 1) % ring.size()];
        if (side(a) == 0) {
            ++met;
            front.push_back(mirror.foot(a));
        } else if (side(a) > 0) {
            front.push_back(a);
        }
        if (side(a) * side(b) < 0) {
            ++met;
            const double f = mirror.depth(a) / (mirror.depth(a) - mirror.depth(b));
            front.push_back(
                mirror.foot({a.x() + f * (b.x() - a.x()), a.y() + f * (b.y() - a.y())}));
        }
    }
    if (met != 0 && met != 2)
        return std::nullopt;
    return front;
}

bool sealed_alike(const Section& s, const Mirror& mirror) {
    const Ring& ring = s.outline;
    for (std::size_t i = 0; !s.seals.empty() && i < ring.size(); ++i) {
        const Point &a = ring[i], &b = ring[(i + 1) % ring.size()];
        const Point middle((a.x() + b.x()) / 2, (a.y() + b.y()) / 2);
        if (wet(s, middle) != wet(s, mirror.image(middle)))
            return false;
    }
    return true;
}

std::optional<Section> half_in(const Section& s, const Mirror& mirror) {
    const double tolerance = 1e-7 * s.thickness;
    const auto turns = [&](const std::string& face) {
        return std::ranges::find(s.faces, face) != s.faces.end();
    };
    if (mirror.upright ? turns("left") || turns("right") : turns("top") || turns("bottom"))
        return std::nullopt;
    if (!images(s.outline, s.outline, mirror, tolerance) || !sealed_alike(s, mirror))
        return std::nullopt;
    Section half = s;
    half.regions.clear();
    for (const Region& r : s.regions) {
        if (std::ranges::none_of(s.regions, [&](const Region& other) {
                return other.kind == r.kind && images(r.ring, other.ring, mirror, tolerance);
            }))
            return std::nullopt;
        const auto ring = in_front(r.ring, mirror, tolerance);
        if (!ring)
            return std::nullopt;
        if (!ring->empty())
            half.regions.push_back({r.name, r.kind, *ring});
    }
    const auto outline = in_front(s.outline, mirror, tolerance);
    if (!outline || outline->empty())
        return std::nullopt;
    half.outline = *outline;
    half.mirrors.push_back(mirror);
    return half;
}

} // namespace

std::optional<Section> half_of(const Section& s) {
    const Point middle = bounds(s.outline).middle();
    for (const bool upright : {true, false}) {
        if (std::ranges::any_of(s.mirrors, [&](const Mirror& m) { return m.upright == upright; }))
            continue;
        if (auto half = half_in(s, {upright, upright ? middle.x() : middle.y()}))
            return half;
    }
    return std::nullopt;
}

Mesh with_image(Mesh half, const Mirror& mirror, const Mesh* coarse) {
    Mesh m;
    m.spacing = half.spacing;
    m.kinds = half.kinds;
    m.mirror = mirror;
    const std::size_t nodes = half.nodes.size(), known = coarse ? coarse->own.size() : 0;
    std::vector<bool> on_mirror(nodes, false);
    const auto cut = [&](const Curve& c) { return c.mirror == mirror.upright + 1; };
    for (const CurveEdge& e : half.edges)
        if (cut(half.curves[e.curve]))
            on_mirror[e.a] = on_mirror[e.b] = true;
    int count = coarse ? static_cast<int>(coarse->nodes.size()) : 0;
    for (std::size_t i = 0; i < nodes; ++i)
        m.own.push_back(i < known ? coarse->own[i] : count++);
    for (std::size_t i = 0; i < nodes; ++i)
        m.image.push_back(on_mirror[i] ? m.own[i] : i < known ? coarse->image[i] : count++);
    m.nodes.resize(static_cast<std::size_t>(count));
    m.wet.resize(m.nodes.size());
    m.twin.resize(m.nodes.size());
    for (std::size_t i = 0; i < nodes; ++i)
        for (const bool as_image : {true, false}) { // on the mirror the node itself
            const auto at = static_cast<std::size_t>(as_image ? m.image[i] : m.own[i]);
            m.nodes[at] = as_image ? mirror.image(half.nodes[i]) : half.nodes[i];
            m.wet[at] = half.wet[i];
            m.twin[at] = m.own[half.twin.empty() ? i : static_cast<std::size_t>(half.twin[i])];
        }
    for (const auto& [a, b, c] : half.triangles)
        m.triangles.push_back({m.own[a], m.own[b], m.own[c]});
    for (const auto& [a, b, c] : half.triangles)
        m.triangles.push_back({m.image[a], m.image[c], m.image[b]});
    m.region = half.region;
    m.region.insert(m.region.end(), half.region.begin(), half.region.end());
    std::vector<int> kept(half.curves.size(), -1);
    for (const bool as_image : {false, true}) {
        for (std::size_t c = 0; c < half.curves.size(); ++c) {
            Curve curve = half.curves[c];
            if (cut(curve))
                continue;
            if (as_image)
                for (Point& p : curve.points)
                    p = mirror.image(p);
            kept[c] = static_cast<int>(m.curves.size());
            m.curves.push_back(std::move(curve));
        }
        for (const CurveEdge& e : half.edges)
            if (kept[e.curve] >= 0)
                m.edges.push_back({as_image ? m.image[e.a] : m.own[e.a],
                                   as_image ? m.image[e.b] : m.own[e.b], kept[e.curve], e.sa,
                                   e.sb});
    }
    m.half = std::make_shared<const Mesh>(std::move(half));
    return m;
}

} // namespace tidemark::geometry
