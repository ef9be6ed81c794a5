// SPDX-License-Identifier: MIT
/// Splitting cells, and the cells of a line.
#include "geometry/mirror.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

namespace tidemark::geometry {

namespace {

/// Cotangent of the angle at c of a triangle.
double cotangent(const Point& a, const Point& b, const Point& c) {
    const double ux = a.x() - c.x(), uy = a.y() - c.y(), vx = b.x() - c.x(), vy = b.y() - c.y();
    return (ux * vx + uy * vy) / std::abs(ux * vy - uy * vx);
}

} // namespace

void make_delaunay(Mesh& mesh) {
    std::set<std::pair<int, int>> fixed;
    for (const CurveEdge& e : mesh.edges)
        fixed.insert(std::minmax(e.a, e.b));
    struct Side {
        int low, high;        // its nodes
        int triangle, corner; // the corner that faces it
    };
    std::vector<Side> sides(3 * mesh.triangles.size());
    std::vector<std::size_t> first_of;
    for (bool turned = true; turned;) {
        turned = false;
        // By the lower node each has its place, and among the few there the higher sorts them.
        first_of.assign(mesh.nodes.size() + 1, 0);
        const auto each = [&](const auto& use) {
            for (int t = 0; t < static_cast<int>(mesh.triangles.size()); ++t)
                for (int k = 0; k < 3; ++k) {
                    const auto [low, high] =
                        std::minmax(mesh.triangles[t][(k + 1) % 3], mesh.triangles[t][(k + 2) % 3]);
                    use({low, high, t, k});
                }
        };
        each([&](const Side& s) { ++first_of[s.low + 1]; });
        std::partial_sum(first_of.begin(), first_of.end(), first_of.begin());
        std::vector<std::size_t> next(first_of.begin(), first_of.end() - 1);
        each([&](const Side& s) {
            std::size_t at = next[s.low]++;
            for (; at > first_of[s.low] && sides[at - 1].high > s.high; --at)
                sides[at] = sides[at - 1];
            sides[at] = s;
        });
        std::vector<bool> stale(mesh.triangles.size(), false);
        for (std::size_t i = 1; i < sides.size(); ++i) {
            const Side &p = sides[i - 1], &q = sides[i];
            if (p.low != q.low || p.high != q.high ||
                mesh.region[p.triangle] != mesh.region[q.triangle] || stale[p.triangle] ||
                stale[q.triangle])
                continue;
            auto &first = mesh.triangles[p.triangle], &second = mesh.triangles[q.triangle];
            const int a = first[(p.corner + 1) % 3], b = first[(p.corner + 2) % 3],
                      c = first[p.corner], d = second[q.corner];
            const Point &A = mesh.nodes[a], &B = mesh.nodes[b];
            if (cotangent(A, B, mesh.nodes[c]) + cotangent(A, B, mesh.nodes[d]) > -1e-12 ||
                fixed.contains({p.low, p.high}))
                continue;
            first = {c, a, d};
            second = {d, b, c};
            stale[p.triangle] = stale[q.triangle] = turned = true;
        }
    }
}

Mesh refine(const Mesh& mesh) {
    if (mesh.half)
        return with_image(refine(*mesh.half), mesh.mirror, &mesh);
    if (mesh.halved)
        return *mesh.halved;
    Mesh fine;
    fine.spacing = mesh.spacing / 2;
    fine.kinds = mesh.kinds;
    fine.curves = mesh.curves;
    fine.nodes = mesh.nodes;
    fine.wet = mesh.wet;
    std::map<std::pair<int, int>, int> middle;
    for (const CurveEdge& e : mesh.edges) {
        const double s = 0.5 * (e.sa + e.sb);
        const int m = static_cast<int>(fine.nodes.size());
        fine.nodes.push_back(mesh.curves[e.curve].at(s));
        fine.wet.push_back(mesh.curves[e.curve].wet);
        middle[std::minmax(e.a, e.b)] = m;
        fine.edges.push_back({e.a, m, e.curve, e.sa, s});
        fine.edges.push_back({m, e.b, e.curve, s, e.sb});
    }
    const auto halfway = [&](int a, int b) {
        const auto [it, added] =
            middle.try_emplace(std::minmax(a, b), static_cast<int>(fine.nodes.size()));
        if (added) {
            fine.nodes.emplace_back((mesh.nodes[a].x() + mesh.nodes[b].x()) / 2,
                                    (mesh.nodes[a].y() + mesh.nodes[b].y()) / 2);
            fine.wet.push_back(false);
        }
        return it->second;
    };
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto [a, b, c] = mesh.triangles[t];
        const int ab = halfway(a, b), bc = halfway(b, c), ca = halfway(c, a);
        for (const auto& child : {std::array{a, ab, ca}, std::array{ab, b, bc},
                                  std::array{ca, bc, c}, std::array{ab, bc, ca}}) {
            fine.triangles.push_back(child);
            fine.region.push_back(mesh.region[t]);
        }
    }
    make_delaunay(fine);
    return fine;
}

Line line(const std::vector<Layer>& layers, int intervals, int power, bool wet_first,
          bool wet_last) {
    double total = 0;
    for (const Layer& l : layers)
        total += l.thickness;
    Line out;
    out.power = power;
    out.wet_first = wet_first;
    out.wet_last = wet_last;
    out.nodes.push_back(0);
    double start = 0;
    for (const Layer& l : layers) {
        const auto it = std::find(out.kinds.begin(), out.kinds.end(), l.kind);
        const int region = static_cast<int>(it - out.kinds.begin());
        if (it == out.kinds.end())
            out.kinds.push_back(l.kind);
        const int n = std::max(4, static_cast<int>(std::lround(intervals * l.thickness / total)));
        for (int i = 1; i <= n; ++i) {
            out.nodes.push_back(start + l.thickness * i / n);
            out.region.push_back(region);
        }
        start += l.thickness;
    }
    return out;
}

Line refine(const Line& line) {
    Line fine = line;
    fine.nodes = {line.nodes.front()};
    fine.region.clear();
    for (std::size_t i = 0; i < line.region.size(); ++i) {
        fine.nodes.push_back((line.nodes[i] + line.nodes[i + 1]) / 2);
        fine.nodes.push_back(line.nodes[i + 1]);
        fine.region.insert(fine.region.end(), 2, line.region[i]);
    }
    return fine;
}

} // namespace tidemark::geometry
