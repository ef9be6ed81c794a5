// SPDX-License-Identifier: MIT
/// Splitting cells, and the cells of a line.
#include "geometry/mesh.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

namespace tidemark::geometry {

Mesh refine(const Mesh& mesh) {
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
        const auto [it, added] = middle.try_emplace(std::minmax(a, b), static_cast<int>(fine.nodes.size()));
        if (added) {
            fine.nodes.emplace_back((mesh.nodes[a].x() + mesh.nodes[b].x()) / 2,
                                    (mesh.nodes[a].y() + mesh.nodes[b].y()) / 2);
            fine.wet.push_back(false);
        }
        return it->second;
    };
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        auto [a, b, c] = mesh.triangles[t];
        const auto obtuse_at = [&](int i, int j, int k) {
            const Point &p = mesh.nodes[i], &q = mesh.nodes[j], &r = mesh.nodes[k];
            return (q.x() - p.x()) * (r.x() - p.x()) + (q.y() - p.y()) * (r.y() - p.y()) < 0;
        };
        if (obtuse_at(b, c, a))
            std::tie(a, b, c) = std::tuple{b, c, a};
        else if (obtuse_at(c, a, b))
            std::tie(a, b, c) = std::tuple{c, a, b};
        const int ab = halfway(a, b), bc = halfway(b, c), ca = halfway(c, a);
        // An obtuse corner is split by its median, so that the children stay Delaunay.
        const bool obtuse = obtuse_at(a, b, c);
        for (const auto& child :
             {std::array{ab, b, bc}, std::array{ca, bc, c},
              obtuse ? std::array{a, ab, bc} : std::array{a, ab, ca},
              obtuse ? std::array{a, bc, ca} : std::array{ab, bc, ca}}) {
            fine.triangles.push_back(child);
            fine.region.push_back(mesh.region[t]);
        }
    }
    return fine;
}

Line line(const std::vector<Layer>& layers, int intervals, int power, bool wet_first, bool wet_last) {
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
