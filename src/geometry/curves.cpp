// SPDX-License-Identifier: MIT
#include "geometry/mesh.hpp"

#include "base/error.hpp"
#include "base/text.hpp"

#include <boost/algorithm/string/join.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::geometry {

namespace {

constexpr double on_curve = 1e-8; ///< [m] a snapped vertex is this near to the outline
constexpr double corner = 10 * std::numbers::pi / 180; ///< a sharper turn of a curve gets a node

Point between(const Point& a, const Point& b, double f) {
    return {a.x() + f * (b.x() - a.x()), a.y() + f * (b.y() - a.y())};
}

/// Where on a closed ring a point lies: segment index and fraction, with the distance [m].
struct Foot {
    std::size_t segment = 0;
    double fraction = 0;
    double distance = 1e300;
};

Foot foot(const std::vector<Point>& ring, const Point& p) {
    Foot best;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point &a = ring[i], &b = ring[(i + 1) % ring.size()];
        double f = 0;
        const double d = distance(p, a, b, &f);
        if (d < best.distance)
            best = {i, f, d};
    }
    return best;
}

Curve make_curve(std::vector<Point> points) {
    Curve c;
    c.length.resize(points.size(), 0.0);
    for (std::size_t i = 1; i < points.size(); ++i)
        c.length[i] = c.length[i - 1] + distance(points[i - 1], points[i]);
    c.closed = distance(points.front(), points.back()) < on_curve;
    c.points = std::move(points);
    return c;
}

/// The part of a ring that runs away from the outline, as open curves; the whole ring if it is
/// free.
std::vector<Curve> seams(const Ring& region, const std::vector<Point>& outline, double near) {
    const std::size_t n = region.size();
    std::vector<bool> touches(n), shared(n);
    for (std::size_t i = 0; i < n; ++i)
        touches[i] = foot(outline, region[i]).distance < on_curve;
    std::size_t start = n;
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t j = (i + 1) % n;
        shared[i] = touches[i] && touches[j] &&
                    foot(outline, between(region[i], region[j], 0.5)).distance < near;
        if (shared[i] && start == n)
            start = i;
    }
    if (start == n) { // never along the outline; cut where it touches, if it does
        const auto touch = std::find(touches.begin(), touches.end(), true);
        start = touch == touches.end() ? 0 : static_cast<std::size_t>(touch - touches.begin());
    }
    std::vector<Curve> curves;
    std::vector<Point> run;
    for (std::size_t k = 0; k <= n; ++k) {
        const std::size_t i = (start + k) % n;
        if (!run.empty() || (k < n && !shared[i]))
            run.push_back(region[i]);
        const bool ends = k == n || shared[i] || (touches[i] && run.size() > 1);
        if (ends && run.size() > 1)
            curves.push_back(make_curve(run));
        if (ends) {
            run.clear();
            if (k < n && !shared[i])
                run.push_back(region[i]);
        }
    }
    return curves;
}

double turn(const Point& a, const Point& b, const Point& c) {
    const double h =
        std::atan2(c.y() - b.y(), c.x() - b.x()) - std::atan2(b.y() - a.y(), b.x() - a.x());
    return std::abs(std::remainder(h, 2 * std::numbers::pi));
}

/// Cuts a closed or open polyline at the flagged points.
std::vector<Curve> cut(const std::vector<Point>& ring, const std::vector<bool>& breaks,
                       const std::vector<bool>& wet, const std::vector<std::string>& faces,
                       const std::vector<int>& mirrors) {
    const std::size_t n = ring.size();
    const auto first = std::find(breaks.begin(), breaks.end(), true);
    const std::size_t start =
        first == breaks.end() ? 0 : static_cast<std::size_t>(first - breaks.begin());
    std::vector<Curve> curves;
    std::vector<Point> run{ring[start]};
    for (std::size_t k = 1; k <= n; ++k) {
        const std::size_t i = (start + k) % n;
        run.push_back(ring[i]);
        if (breaks[i] || k == n) {
            Curve c = make_curve(run);
            c.outer = true;
            c.wet = wet[(i + n - 1) % n];
            c.face = faces[(i + n - 1) % n];
            c.mirror = mirrors[(i + n - 1) % n];
            curves.push_back(std::move(c));
            run = {ring[i]};
        }
    }
    return curves;
}

/// Whether the section's own seals leave the stretch from a to b of its outline open.
bool open(const Section& section, const Point& a, const Point& b) {
    const Point middle = between(a, b, 0.5);
    return std::ranges::none_of(section.seals,
                                [&](const Seal& seal) { return inside(middle, seal.ring); });
}

} // namespace

Point Curve::at(double s) const {
    const auto it = std::upper_bound(length.begin(), length.end(), s);
    const std::size_t i = std::clamp<std::size_t>(static_cast<std::size_t>(it - length.begin()), 1,
                                                  points.size() - 1);
    const double f = (s - length[i - 1]) / (length[i] - length[i - 1]);
    return between(points[i - 1], points[i], std::clamp(f, 0.0, 1.0));
}

std::vector<Curve> network(const Section& section) {
    std::vector<Point> ring(section.outline.begin(), section.outline.end());
    std::vector<Curve> inner;
    for (const Region& region : section.regions)
        for (Curve& c : seams(region.ring, ring, 1e-3 * section.thickness))
            inner.push_back(std::move(c));

    // Junctions become outline vertices.
    std::vector<Point> junctions;
    for (const Curve& c : inner)
        for (const Point& p : {c.points.front(), c.points.back()}) {
            const Foot f = foot(ring, p);
            if (f.distance > on_curve)
                continue;
            junctions.push_back(p);
            const std::size_t next = (f.segment + 1) % ring.size();
            if (distance(p, ring[f.segment]) > on_curve && distance(p, ring[next]) > on_curve)
                ring.insert(ring.begin() + static_cast<std::ptrdiff_t>(f.segment) + 1, p);
        }

    const std::size_t n = ring.size();
    std::vector<std::string> faces =
        faces_along({ring.begin(), ring.end()}, section.faces, section.thickness);
    std::vector<bool> wet(n, true), breaks(n, false);
    std::vector<int> mirrors(n, 0);
    for (std::size_t i = 0; i < n; ++i) {
        wet[i] = open(section, ring[i], ring[(i + 1) % n]);
        for (const Mirror& m : section.mirrors)
            if (m.depth(ring[i]) == 0 && m.depth(ring[(i + 1) % n]) == 0) {
                mirrors[i] = m.upright + 1;
                wet[i] = false;
                faces[i].clear();
            }
    }
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t before = (i + n - 1) % n;
        breaks[i] = wet[i] != wet[before] || faces[i] != faces[before] ||
                    mirrors[i] != mirrors[before] ||
                    turn(ring[before], ring[i], ring[(i + 1) % n]) > corner;
        for (const Point& j : junctions)
            breaks[i] = breaks[i] || distance(ring[i], j) <= on_curve;
    }
    std::vector<Curve> curves = cut(ring, breaks, wet, faces, mirrors);
    for (Curve& c : inner) { // corners inside a seam
        std::vector<Point> run{c.points.front()};
        for (std::size_t i = 1; i < c.points.size(); ++i) {
            run.push_back(c.points[i]);
            const bool sharp = i + 1 < c.points.size() &&
                               turn(c.points[i - 1], c.points[i], c.points[i + 1]) > corner;
            if (sharp || i + 1 == c.points.size()) {
                curves.push_back(make_curve(run));
                run = {c.points[i]};
            }
        }
    }
    return curves;
}

Mesh with_sealed(Mesh mesh, const Section& section, const std::vector<std::string>& names,
                 const std::string& where) {
    for (const std::string& name : names)
        if (std::ranges::find(mesh.curves, name, &Curve::face) == mesh.curves.end() ||
            name.empty()) {
            const std::string meant = base::nearest(name, section.faces);
            throw base::InputError(where, name, "is not a face that this piece can have shut",
                                   meant.empty() || meant == name
                                       ? "use " + boost::join(section.faces, " or ")
                                       : "did you mean " + meant + "?");
        }
    for (Curve& c : mesh.curves)
        c.wet = c.outer && open(section, c.points[0], c.points[1]) &&
                std::ranges::find(names, c.face) == names.end();
    mesh.halved.reset();
    mesh.wet.assign(mesh.nodes.size(), false);
    for (const CurveEdge& e : mesh.edges)
        if (mesh.curves[e.curve].wet)
            mesh.wet[e.a] = mesh.wet[e.b] = true;
    return mesh;
}

} // namespace tidemark::geometry
