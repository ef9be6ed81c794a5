// SPDX-License-Identifier: MIT
#include "geometry/mesh.hpp"

#include "base/recent.hpp"
#include "geometry/conform.hpp"
#include "geometry/mirror.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <unordered_map>

namespace tidemark::geometry {

namespace {

constexpr double gradation = 0.35;  ///< growth of node distance per metre away from a fine place
constexpr double finest = 1.0 / 16; ///< of the nominal spacing, at wet-sealed changes
constexpr int most_rounds = 20;     ///< of edges split because of what halving makes of them
constexpr double clearance = 0.6;   ///< of the local spacing, kept free around curve nodes

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
        for (const Sample& b : samples) {
            const Curve &one = curves[a.curve], &other = curves[b.curve];
            if (a.curve == b.curve || (one.outer && other.outer) || one.mirror > 0)
                continue;
            if (other.mirror == 0)
                gap = std::min(gap, distance(a.p, b.p));
            else if (one.closed) // and its image beyond the mirror
                gap = std::min(gap, 2 * distance(a.p, b.p));
        }
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
                    if (curves[c].mirror == 0 && curves[d].mirror == 0 && distance(p, q) < 1e-9 &&
                        (!curves[d].outer || curves[c].wet != curves[d].wet ||
                         curves[c].face != curves[d].face))
                        s.places.push_back(
                            {p, curves[d].outer ? finest * spacing : 0.25 * spacing});
        }
    return s;
}

/// The node at a place, a new one if there is none.
int node_at(Nodes& nodes, const Point& p) {
    for (std::size_t i = 0; i < nodes.points.size(); ++i)
        if (distance(nodes.points[i], p) < 1e-9)
            return static_cast<int>(i);
    nodes.points.push_back(p);
    return static_cast<int>(nodes.points.size() - 1);
}

/// Nodes along every curve but mirrors at equal shares of the sizing; shared end points are one
/// node.
Nodes curve_nodes(const std::vector<Curve>& curves, const Sizing& size) {
    Nodes out;
    for (std::size_t c = 0; c < curves.size(); ++c) {
        const Curve& curve = curves[c];
        if (curve.mirror > 0)
            continue;
        const int fine = std::max(16, static_cast<int>(8 * curve.total() / size.spacing));
        std::vector<double> need(fine + 1, 0.0);
        for (int i = 0; i < fine; ++i) {
            const double ds = curve.total() / fine;
            need[i + 1] = need[i] + ds / size(curve.at((i + 0.5) * ds));
        }
        const int n =
            std::max(curve.closed ? 8 : 1, static_cast<int>(std::ceil(need.back() - 1e-6)));
        double before = 0;
        int a = node_at(out, curve.points.front());
        for (int k = 1, i = 0; k <= n; ++k) {
            const double goal = need.back() * k / n;
            while (i + 1 < fine && need[i + 1] < goal)
                ++i;
            const double s =
                k == n ? curve.total()
                       : curve.total() / fine * (i + (goal - need[i]) / (need[i + 1] - need[i]));
            int b = 0;
            if (k == n) {
                b = node_at(out, curve.points.back());
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
/// Those on a mirror become its nodes, so that cells go on in their images.
void add_interior(Nodes& nodes, const Section& section, const std::vector<Curve>& curves,
                  const Sizing& size) {
    const Box box = bounds(section.outline);
    // Cells of the nominal spacing, from a mirror or centred on the section, each split as needed.
    const double cell = size.spacing;
    const int nx = static_cast<int>(std::ceil(box.width() / cell)),
              ny = static_cast<int>(std::ceil(box.height() / cell));
    double x0 = box.middle().x() - nx * cell / 2, y0 = box.middle().y() - ny * cell / 2;
    for (const Mirror& m : section.mirrors)
        (m.upright ? x0 : y0) = m.at;
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

    std::vector<std::vector<std::pair<double, Point>>> on_mirror(curves.size());
    const auto mirror_of = [&](const Point& p) {
        return std::ranges::find_if(curves, [&](const Curve& c) {
            return c.mirror > 0 &&
                   (c.mirror == 2 ? p.x() == c.points.front().x()
                                  : p.y() == c.points.front().y()) &&
                   distance(p, c.points.front()) < c.total() &&
                   distance(p, c.points.back()) < c.total();
        });
    };
    const std::size_t on_curves = nodes.edges.size();
    for (const auto& [i, j] : corners) {
        const Point p(x0 + i * unit, y0 + j * unit);
        const double room = clearance * size(p);
        bool clear = true;
        for (std::size_t e = 0; clear && e < on_curves; ++e)
            clear =
                distance(p, nodes.points[nodes.edges[e].a], nodes.points[nodes.edges[e].b]) > room;
        if (!clear)
            continue;
        if (const auto mirror = mirror_of(p); mirror != curves.end())
            on_mirror[static_cast<std::size_t>(mirror - curves.begin())].emplace_back(
                distance(p, mirror->points.front()), p);
        else // a node outside or in bone makes triangles that are dropped with it
            nodes.points.push_back(p);
    }
    for (std::size_t c = 0; c < curves.size(); ++c) {
        if (curves[c].mirror == 0)
            continue;
        std::ranges::sort(on_mirror[c], {}, &std::pair<double, Point>::first);
        on_mirror[c].emplace_back(curves[c].total(), curves[c].points.back());
        int a = node_at(nodes, curves[c].points.front());
        double before = 0;
        for (const auto& [s, p] : on_mirror[c]) {
            const int b = node_at(nodes, p);
            nodes.edges.push_back({a, b, static_cast<int>(c), before, s});
            a = b;
            before = s;
        }
    }
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
    kind_of("lean"); // lean first, whichever patch is found first
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

/// The triangles within the section, with their nodes numbered as they come.
Mesh assemble(const Nodes& nodes, const std::vector<std::array<int, 3>>& triangles,
              const Section& section, const std::vector<Curve>& curves, double spacing) {
    Mesh mesh;
    mesh.spacing = spacing;
    mesh.curves = curves;
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
    make_delaunay(mesh);
    return mesh;
}

Mesh made(const Section& section, double spacing, bool whole) {
    if (const auto half = whole ? std::nullopt : half_of(section))
        return with_image(made(*half, spacing, false), half->mirrors.back());
    const std::vector<Curve> curves = network(section);
    const Sizing size = sizing(curves, spacing);
    Nodes nodes = curve_nodes(curves, size);
    add_interior(nodes, section, curves, size);
    for (int round = 0;; ++round) {
        const auto triangles = conform(nodes, curves);
        Mesh mesh = assemble(nodes, triangles, section, curves, spacing);
        auto halved = std::make_shared<const Mesh>(refine(mesh));
        const auto bad = faced_badly(*halved, nodes);
        if (bad.empty() || round == most_rounds) {
            mesh.halved = std::move(halved);
            return mesh;
        }
        split(nodes, curves, bad);
    }
}

/// Whether two checked sections have the same cells: all but their names and notes.
bool same_lines(const Section& a, const Section& b) {
    const auto ring = [](const Ring& r, const Ring& s) {
        return std::ranges::equal(
            r, s, [](const Point& p, const Point& q) { return p.x() == q.x() && p.y() == q.y(); });
    };
    return ring(a.outline, b.outline) && a.faces == b.faces && a.thickness == b.thickness &&
           a.mirrors.empty() && b.mirrors.empty() &&
           std::ranges::equal(a.regions, b.regions,
                              [&](const Region& r, const Region& s) {
                                  return r.name == s.name && r.kind == s.kind &&
                                         ring(r.ring, s.ring);
                              }) &&
           std::ranges::equal(a.seals, b.seals, [&](const Seal& r, const Seal& s) {
               return r.name == s.name && ring(r.ring, s.ring);
           });
}

} // namespace

Mesh triangulate(const Section& section, double spacing, bool whole) {
    // A change, a way and a draw ask for the cells of one piece again and again.
    struct Kept {
        Section section;
        double spacing;
        bool whole;
        std::shared_ptr<const Mesh> mesh;
    };
    static base::Recent<Kept, 6> last;
    const auto same = [&](const Kept& k) {
        return k.spacing == spacing && k.whole == whole && same_lines(k.section, section);
    };
    if (const auto known = last.find(same, &Kept::mesh))
        return **known;
    Mesh mesh = made(section, spacing, whole);
    last.keep({section, spacing, whole, std::make_shared<const Mesh>(mesh)});
    return mesh;
}

} // namespace tidemark::geometry
