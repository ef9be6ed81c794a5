// SPDX-License-Identifier: MIT
#include "geometry/mesh.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "geometry/delaunay.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <unordered_map>

namespace tidemark::geometry {

namespace {

constexpr double gradation = 0.35;  ///< growth of node distance per metre away from a fine place
constexpr double finest = 1.0 / 16; ///< of the nominal spacing, at wet-sealed changes
constexpr int halvings = 2;         ///< that the angles facing the curves must stand
constexpr int most_rounds = 60;
constexpr std::size_t most_nodes = 200000; ///< some minutes; a drawing takes a few thousand
constexpr double clearance = 0.6;          ///< of the local spacing, kept free around curve nodes

struct Place {
    Point p;
    double size;
};

/// Wanted node distance: a minimum over places, growing away from each. [m]
struct Sizing {
    double spacing;
    std::vector<Place> places;
    double operator()(const Point& p) const {
        double size = spacing;
        for (const Place& q : places) {
            const double dx = p.x() - q.p.x(), dy = p.y() - q.p.y(),
                         room = (size - q.size) / gradation;
            if (room > 0 && dx * dx + dy * dy < room * room)
                size = q.size + gradation * std::sqrt(dx * dx + dy * dy);
        }
        return size;
    }
};

Sizing sizing(const std::vector<Curve>& curves, double spacing) {
    struct Sample {
        Point p;
        double bend; // radius of curvature
        std::size_t curve;
    };
    std::vector<Sample> samples;
    for (std::size_t c = 0; c < curves.size(); ++c) {
        const int n = std::max(2, static_cast<int>(std::ceil(2 * curves[c].total() / spacing)));
        const double step = curves[c].total() / n;
        for (int i = 0; i < n; ++i) {
            const double s = (i + 0.5) * step;
            const Point a = curves[c].at(s - 0.5 * step), b = curves[c].at(s),
                        d = curves[c].at(s + 0.5 * step);
            const double sag = distance(b, Point((a.x() + d.x()) / 2, (a.y() + d.y()) / 2));
            samples.push_back({b, step * step / std::max(8 * sag, 1e-300), c});
        }
    }
    Sizing s{spacing, {}};
    for (const Sample& a : samples) {
        double gap = 1e300;
        for (const Sample& b : samples)
            if (a.curve != b.curve && !(curves[a.curve].outer && curves[b.curve].outer))
                gap = std::min(gap, distance(a.p, b.p));
        const double size =
            std::clamp(std::min(0.6 * gap, 0.5 * a.bend), finest * spacing, spacing);
        if (size < 0.95 * spacing)
            s.places.push_back({a.p, size});
    }
    for (std::size_t c = 0; c < curves.size();
         ++c) // where wet meets sealed or may, and ends of fat
        for (std::size_t d = 0; d < curves.size(); ++d) {
            if (c == d || curves[c].closed || !curves[c].outer)
                continue;
            for (const Point& p : {curves[c].points.front(), curves[c].points.back()})
                for (const Point& q : {curves[d].points.front(), curves[d].points.back()})
                    if (distance(p, q) < 1e-9 &&
                        (!curves[d].outer || curves[c].wet != curves[d].wet ||
                         curves[c].face != curves[d].face))
                        s.places.push_back(
                            {p, curves[d].outer ? finest * spacing : 0.25 * spacing});
        }
    return s;
}

struct Nodes {
    std::vector<Point> points;
    std::vector<CurveEdge> edges;
};

/// Nodes along every curve at equal shares of the sizing; shared end points are one node.
Nodes curve_nodes(const std::vector<Curve>& curves, const Sizing& size) {
    Nodes out;
    const auto node_at = [&](const Point& p) {
        for (std::size_t i = 0; i < out.points.size(); ++i)
            if (distance(out.points[i], p) < 1e-9)
                return static_cast<int>(i);
        out.points.push_back(p);
        return static_cast<int>(out.points.size() - 1);
    };
    for (std::size_t c = 0; c < curves.size(); ++c) {
        const Curve& curve = curves[c];
        const int fine = std::max(16, static_cast<int>(8 * curve.total() / size.spacing));
        std::vector<double> need(fine + 1, 0.0);
        for (int i = 0; i < fine; ++i) {
            const double ds = curve.total() / fine;
            need[i + 1] = need[i] + ds / size(curve.at((i + 0.5) * ds));
        }
        const int n =
            std::max(curve.closed ? 8 : 1, static_cast<int>(std::ceil(need.back() - 1e-6)));
        double before = 0;
        int a = node_at(curve.points.front());
        for (int k = 1, i = 0; k <= n; ++k) {
            const double goal = need.back() * k / n;
            while (i + 1 < fine && need[i + 1] < goal)
                ++i;
            const double s =
                k == n ? curve.total()
                       : curve.total() / fine * (i + (goal - need[i]) / (need[i + 1] - need[i]));
            int b = 0;
            if (k == n) {
                b = node_at(curve.points.back());
            } else {
                out.points.push_back(curve.at(s));
                b = static_cast<int>(out.points.size() - 1);
            }
            out.edges.push_back({a, b, static_cast<int>(c), before, s});
            a = b, before = s;
        }
    }
    return out;
}

/// Corners of a quadtree whose cells are as small as the sizing asks, clear of the curve edges.
void add_interior(Nodes& nodes, const Section& section, const Sizing& size) {
    const Box box = bounds(section.outline);
    // Cells of the nominal spacing, centred on the section, each split as needed.
    const double cell = size.spacing;
    const int nx = static_cast<int>(std::ceil(box.width() / cell)),
              ny = static_cast<int>(std::ceil(box.height() / cell));
    const double x0 = box.middle().x() - nx * cell / 2, y0 = box.middle().y() - ny * cell / 2;
    constexpr int depth = 6;
    const double unit = cell / (1 << depth);
    std::set<std::pair<int, int>> corners;
    const auto split = [&](auto&& self, int i, int j, int span) -> void {
        const Point centre(x0 + (i + 0.5 * span) * unit, y0 + (j + 0.5 * span) * unit);
        if (span > 1 && span * unit > 1.2 * size(centre)) {
            const int half = span / 2;
            for (int a : {0, half})
                for (int b : {0, half})
                    self(self, i + a, j + b, half);
        } else {
            for (int a : {0, span})
                for (int b : {0, span})
                    corners.insert({i + a, j + b});
        }
    };
    for (int i = 0; i < nx; ++i)
        for (int j = 0; j < ny; ++j)
            split(split, i << depth, j << depth, 1 << depth);

    const std::size_t on_curves = nodes.edges.size();
    for (const auto& [i, j] : corners) {
        const Point p(x0 + i * unit, y0 + j * unit);
        const double room = clearance * size(p);
        bool clear = true;
        for (std::size_t e = 0; clear && e < on_curves; ++e)
            clear =
                distance(p, nodes.points[nodes.edges[e].a], nodes.points[nodes.edges[e].b]) > room;
        if (clear) // a node outside or in bone makes triangles that are dropped with it
            nodes.points.push_back(p);
    }
}

std::uint64_t key(int a, int b) {
    return (static_cast<std::uint64_t>(std::min(a, b)) << 32) |
           static_cast<unsigned>(std::max(a, b));
}

/// Where to split an edge: its middle, but at a power of two from the end of a curve, so that edges
/// that leave one corner at a small angle end up equally long and stop splitting each other.
double split_at(const Curve& curve, const CurveEdge& edge) {
    const auto power = [](double length) { // the one in [length / 3, 2 length / 3)
        return std::exp2(std::ceil(std::log2(length / 3)));
    };
    const bool first = edge.sa == 0 && !curve.closed,
               last = edge.sb == curve.total() && !curve.closed;
    if (first != last)
        return first ? power(edge.sb) : edge.sb - power(edge.sb - edge.sa);
    return 0.5 * (edge.sa + edge.sb);
}

/// Whether the angle at c that faces the stretch of a curve from a to b, and those that face its
/// parts once the cells are halved, are at most 90 degrees.
bool faced_well(const Curve& curve, double sa, double sb, const Point& a, const Point& b,
                const Point& c, int depth = halvings) {
    const double dot = (a.x() - c.x()) * (b.x() - c.x()) + (a.y() - c.y()) * (b.y() - c.y());
    if (dot < 1e-9 * distance(a, c) * distance(b, c))
        return false;
    if (depth == 0)
        return true;
    const auto middle = [](const Point& p, const Point& q) {
        return Point((p.x() + q.x()) / 2, (p.y() + q.y()) / 2);
    };
    const double s = (sa + sb) / 2;
    const Point m = curve.at(s);
    return faced_well(curve, sa, s, a, m, middle(a, c), depth - 1) &&
           faced_well(curve, s, sb, m, b, middle(b, c), depth - 1);
}

/// Makes every curve edge a Delaunay edge that no angle above 90 degrees faces from within: splits
/// the edge, or takes the interior node that offends away. Returns the triangles.
std::vector<std::array<int, 3>> conform(Nodes& nodes, const std::vector<Curve>& curves,
                                        std::size_t fixed_edges_nodes) {
    std::vector<bool> on_curve(nodes.points.size(), false);
    for (std::size_t i = 0; i < fixed_edges_nodes; ++i)
        on_curve[i] = true;
    Point worst(0, 0);
    for (int round = 0; round < most_rounds && nodes.points.size() < most_nodes; ++round) {
        auto triangles = delaunay(nodes.points);
        std::unordered_map<std::uint64_t, std::size_t> edge_at;
        for (std::size_t e = 0; e < nodes.edges.size(); ++e)
            edge_at[key(nodes.edges[e].a, nodes.edges[e].b)] = e;
        std::vector<bool> seen(nodes.edges.size(), false);
        std::set<std::size_t> to_split;
        std::set<int> to_drop;
        for (const auto& t : triangles)
            for (int k = 0; k < 3; ++k) {
                const auto it = edge_at.find(key(t[k], t[(k + 1) % 3]));
                if (it == edge_at.end())
                    continue;
                seen[it->second] = true;
                const CurveEdge& edge = nodes.edges[it->second];
                const Curve& curve = curves[edge.curve];
                const int apex = t[(k + 2) % 3];
                if ((curve.outer &&
                     edge.a != t[k]) || // the outline runs with the piece on its left
                    faced_well(curve, edge.sa, edge.sb, nodes.points[edge.a], nodes.points[edge.b],
                               nodes.points[apex]))
                    continue;
                if (on_curve[apex])
                    to_split.insert(it->second);
                else
                    to_drop.insert(apex);
            }
        for (std::size_t e = 0; e < seen.size(); ++e)
            if (!seen[e])
                to_split.insert(e);
        if (to_split.empty() && to_drop.empty())
            return triangles;
        for (std::size_t e : to_split) {
            CurveEdge& edge = nodes.edges[e];
            const double middle = split_at(curves[edge.curve], edge);
            worst = curves[edge.curve].at(middle);
            nodes.points.push_back(worst);
            on_curve.push_back(true);
            const int m = static_cast<int>(nodes.points.size() - 1);
            nodes.edges.push_back({m, edge.b, edge.curve, middle, edge.sb});
            nodes.edges[e].b = m, nodes.edges[e].sb = middle;
        }
        if (to_drop.empty())
            continue;
        std::vector<int> renamed(nodes.points.size());
        Nodes kept;
        std::vector<bool> kept_on;
        for (std::size_t i = 0; i < nodes.points.size(); ++i) {
            renamed[i] = static_cast<int>(kept.points.size());
            if (to_drop.contains(static_cast<int>(i)))
                continue;
            kept.points.push_back(nodes.points[i]);
            kept_on.push_back(on_curve[i]);
        }
        for (CurveEdge e : nodes.edges) {
            e.a = renamed[e.a], e.b = renamed[e.b];
            kept.edges.push_back(e);
        }
        nodes = std::move(kept);
        on_curve = std::move(kept_on);
    }
    throw base::RunError(
        "lines that come close to each other near x " + base::significant(1e3 * worst.x(), 4) +
        " mm, y " + base::significant(1e3 * worst.y(), 4) +
        " mm cannot be cut into cells; draw them apart or let them share a stretch");
}

/// Region of each triangle by flooding between curve edges; -1 outside and in bone.
std::vector<int> label(const Nodes& nodes, const std::vector<std::array<int, 3>>& triangles,
                       const Section& section, double size, std::vector<std::string>& kinds) {
    std::set<std::uint64_t> walls;
    for (const CurveEdge& e : nodes.edges)
        walls.insert(key(e.a, e.b));
    std::unordered_map<std::uint64_t, std::vector<int>> across;
    for (std::size_t t = 0; t < triangles.size(); ++t)
        for (int k = 0; k < 3; ++k)
            across[key(triangles[t][k], triangles[t][(k + 1) % 3])].push_back(static_cast<int>(t));
    const auto kind_of = [&](const std::string& name) {
        const auto it = std::find(kinds.begin(), kinds.end(), name);
        if (it != kinds.end())
            return static_cast<int>(it - kinds.begin());
        kinds.push_back(name);
        return static_cast<int>(kinds.size() - 1);
    };
    std::vector<int> region(triangles.size(), -2);
    for (std::size_t seed = 0; seed < triangles.size(); ++seed) {
        if (region[seed] != -2)
            continue;
        std::vector<int> patch{static_cast<int>(seed)};
        region[seed] = -1;
        std::pair<double, std::size_t> largest{-1, seed};
        for (std::size_t i = 0; i < patch.size(); ++i) {
            const auto& t = triangles[patch[i]];
            const Point &a = nodes.points[t[0]], &b = nodes.points[t[1]], &c = nodes.points[t[2]];
            const double area =
                (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
            largest = std::max(largest, {area, static_cast<std::size_t>(patch[i])});
            for (int k = 0; k < 3; ++k) {
                const auto edge = key(t[k], t[(k + 1) % 3]);
                if (walls.contains(edge))
                    continue;
                for (int next : across[edge])
                    if (region[next] == -2)
                        region[next] = -1, patch.push_back(next);
            }
        }
        const auto& t = triangles[largest.second];
        Point centre((nodes.points[t[0]].x() + nodes.points[t[1]].x() + nodes.points[t[2]].x()) / 3,
                     (nodes.points[t[0]].y() + nodes.points[t[1]].y() + nodes.points[t[2]].y()) /
                         3);
        const double flat = 1e-9 * size * size; // between three nodes of a straight outline
        if (largest.first < flat || !inside(centre, section.outline))
            continue;
        std::string kind = "lean";
        double smallest = 1e300;
        for (const Region& r : section.regions) // the innermost region names the patch
            if (inside(centre, r.ring) && std::abs(ring_area(r.ring)) < smallest)
                kind = r.kind, smallest = std::abs(ring_area(r.ring));
        if (kind == "bone")
            continue;
        const int label = kind_of(kind);
        for (int i : patch)
            region[i] = label;
    }
    return region;
}

} // namespace

Mesh triangulate(const Section& section, double spacing) {
    Mesh mesh;
    mesh.spacing = spacing;
    mesh.curves = network(section);
    const Sizing size = sizing(mesh.curves, spacing);
    Nodes nodes = curve_nodes(mesh.curves, size);
    const std::size_t on_curves = nodes.points.size();
    add_interior(nodes, section, size);
    const auto triangles = conform(nodes, mesh.curves, on_curves);
    const auto region = label(nodes, triangles, section, spacing, mesh.kinds);

    std::vector<int> renamed(nodes.points.size(), -1);
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        if (region[t] < 0)
            continue;
        std::array<int, 3> nodes_of = triangles[t];
        for (int& i : nodes_of) {
            if (renamed[i] < 0) {
                renamed[i] = static_cast<int>(mesh.nodes.size());
                mesh.nodes.push_back(nodes.points[i]);
            }
            i = renamed[i];
        }
        mesh.triangles.push_back(nodes_of);
        mesh.region.push_back(region[t]);
    }
    mesh.wet.assign(mesh.nodes.size(), false);
    for (CurveEdge e : nodes.edges) {
        e.a = renamed[e.a], e.b = renamed[e.b];
        if (e.a < 0 || e.b < 0)
            continue;
        mesh.edges.push_back(e);
        if (mesh.curves[e.curve].wet)
            mesh.wet[e.a] = mesh.wet[e.b] = true;
    }
    return mesh;
}

} // namespace tidemark::geometry
