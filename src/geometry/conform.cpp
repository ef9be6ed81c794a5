// SPDX-License-Identifier: MIT
#include "geometry/conform.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "geometry/delaunay.hpp"

#include <algorithm>
#include <cmath>
#include <unordered_map>

namespace tidemark::geometry {

namespace {

constexpr int halvings = 2; ///< that the angles facing the curves must stand
constexpr int most_rounds = 60;
/// Nodes that conforming may come to: a drawing has a few thousand from the start, and a fine one
/// may have so many times more.
constexpr std::size_t most_nodes = 20000, most_times = 4;

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

/// Whether the angle at c is 90 degrees or more; to rounding.
bool obtuse(const Point& a, const Point& b, const Point& c) {
    const double dot = (a.x() - c.x()) * (b.x() - c.x()) + (a.y() - c.y()) * (b.y() - c.y());
    return dot < 1e-9 * distance(a, c) * distance(b, c);
}

/// Whether the angle at c that faces the stretch of a curve from a to b, and those that face its
/// parts once the cells are halved, are at most 90 degrees.
bool faced_well(const Curve& curve, double sa, double sb, const Point& a, const Point& b,
                const Point& c, int depth = halvings) {
    if (obtuse(a, b, c))
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

} // namespace

void split(Nodes& nodes, const std::vector<Curve>& curves, const std::set<std::size_t>& edges) {
    for (std::size_t e : edges) {
        CurveEdge& edge = nodes.edges[e];
        const double middle = split_at(curves[edge.curve], edge);
        nodes.points.push_back(curves[edge.curve].at(middle));
        const int m = static_cast<int>(nodes.points.size() - 1);
        const CurveEdge rest{m, edge.b, edge.curve, middle, edge.sb};
        edge.b = m, edge.sb = middle;
        nodes.edges.push_back(rest);
    }
}

std::vector<std::array<int, 3>> conform(Nodes& nodes, const std::vector<Curve>& curves) {
    Point worst(0, 0);
    const std::size_t most = std::max(most_nodes, most_times * nodes.points.size());
    for (int round = 0; round < most_rounds && nodes.points.size() < most; ++round) {
        auto triangles = delaunay(nodes.points);
        std::vector<bool> on_curve(nodes.points.size(), false);
        std::unordered_map<std::uint64_t, std::size_t> edge_at;
        for (std::size_t e = 0; e < nodes.edges.size(); ++e)
            edge_at[key(nodes.edges[e].a, nodes.edges[e].b)] = e, on_curve[nodes.edges[e].a] =
                                                                      on_curve[nodes.edges[e].b] =
                                                                          true;
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
        split(nodes, curves, to_split);
        if (!to_split.empty())
            worst = nodes.points.back();
        if (to_drop.empty())
            continue;
        std::vector<int> renamed(nodes.points.size());
        Nodes kept;
        for (std::size_t i = 0; i < nodes.points.size(); ++i) {
            renamed[i] = static_cast<int>(kept.points.size());
            if (to_drop.contains(static_cast<int>(i)))
                continue;
            kept.points.push_back(nodes.points[i]);
        }
        for (CurveEdge e : nodes.edges) {
            e.a = renamed[e.a], e.b = renamed[e.b];
            kept.edges.push_back(e);
        }
        nodes = std::move(kept);
    }
    throw base::RunError(
        "lines that come close to each other near x " + base::significant(1e3 * worst.x(), 4) +
        " mm, y " + base::significant(1e3 * worst.y(), 4) +
        " mm cannot be cut into cells; draw them apart or let them share a stretch");
}

std::set<std::size_t> faced_badly(const Mesh& fine, const Nodes& nodes) {
    std::unordered_map<std::uint64_t, const CurveEdge*> edge_at;
    for (const CurveEdge& e : fine.edges)
        edge_at[key(e.a, e.b)] = &e;
    std::set<std::size_t> bad;
    for (const auto& t : fine.triangles)
        for (int k = 0; k < 3; ++k) {
            const auto it = edge_at.find(key(t[k], t[(k + 1) % 3]));
            if (it == edge_at.end())
                continue;
            const Point &a = fine.nodes[t[k]], &b = fine.nodes[t[(k + 1) % 3]],
                        &c = fine.nodes[t[(k + 2) % 3]];
            if (obtuse(a, b, c))
                bad.insert(static_cast<std::size_t>(
                    std::ranges::find_if(nodes.edges,
                                         [&](const CurveEdge& e) {
                                             return e.curve == it->second->curve &&
                                                    e.sa <= it->second->sa &&
                                                    e.sb >= it->second->sb;
                                         }) -
                    nodes.edges.begin()));
        }
    return bad;
}

} // namespace tidemark::geometry
