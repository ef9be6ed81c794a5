// SPDX-License-Identifier: MIT
#include "geometry/field.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

namespace tidemark::geometry {

LowestPoint::LowestPoint(const Mesh& mesh, int region) : mesh_(&mesh) {
    triangles_.resize(mesh.nodes.size());
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
        if (mesh.region[t] == region)
            for (int i : mesh.triangles[t])
                triangles_[i].push_back(static_cast<int>(t));
    for (std::size_t i = 0; i < triangles_.size(); ++i)
        if (!triangles_[i].empty())
            nodes_.push_back(static_cast<int>(i));
}

LowestPoint::LowestPoint(const Line& line, int region) : line_(&line) {
    for (std::size_t i = 0; i < line.nodes.size(); ++i)
        if ((i > 0 && line.region[i - 1] == region) ||
            (i < line.region.size() && line.region[i] == region))
            nodes_.push_back(static_cast<int>(i));
}

Lowest LowestPoint::operator()(const Eigen::VectorXd& nodal) const {
    const int lowest = *std::min_element(nodes_.begin(), nodes_.end(),
                                         [&](int a, int b) { return nodal[a] < nodal[b]; });
    return mesh_ ? fit_plane(nodal, lowest) : fit_line(nodal, lowest);
}

Lowest LowestPoint::fit_line(const Eigen::VectorXd& nodal, int lowest) const {
    const auto& x = line_->nodes;
    const auto position = std::find(nodes_.begin(), nodes_.end(), lowest);
    // Three neighbours in the region, one-sided at its ends.
    const auto first = std::clamp<std::ptrdiff_t>(position - nodes_.begin() - 1, 0,
                                                  static_cast<std::ptrdiff_t>(nodes_.size()) - 3);
    const int i = nodes_[first];
    if (x[i] == 0 && line_->power > 0) // the centre of a round or ball is an extremum by symmetry
        return {nodal[lowest], Point(x[lowest], 0)};
    const double d1 = (nodal[i + 1] - nodal[i]) / (x[i + 1] - x[i]),
                 d2 = (nodal[i + 2] - nodal[i + 1]) / (x[i + 2] - x[i + 1]),
                 bend = (d2 - d1) / (x[i + 2] - x[i]);
    if (!(bend > 0))
        return {nodal[lowest], Point(x[lowest], 0)};
    const double at = std::clamp((x[i] + x[i + 1]) / 2 - d1 / (2 * bend), x[i], x[i + 2]);
    return {nodal[i] + (at - x[i]) * (d1 + bend * (at - x[i + 1])), Point(at, 0)};
}

Lowest LowestPoint::fit_plane(const Eigen::VectorXd& nodal, int lowest) const {
    const Point o = mesh_->nodes[lowest];
    std::set<int> around{lowest};
    for (int ring = 0; ring < 2; ++ring)
        for (int i : std::set<int>(around))
            for (int t : triangles_[i])
                around.insert(mesh_->triangles[t].begin(), mesh_->triangles[t].end());
    Lowest best{nodal[lowest], o};
    if (around.size() < 8)
        return best;
    double size = 0;
    for (int i : around)
        size = std::max(size, distance(o, mesh_->nodes[i]));
    Eigen::MatrixXd A(around.size(), 5);
    Eigen::VectorXd b(around.size());
    Eigen::Index row = 0;
    for (int i : around) {
        const double x = (mesh_->nodes[i].x() - o.x()) / size,
                     y = (mesh_->nodes[i].y() - o.y()) / size;
        const double weight = 1 / (0.1 + std::hypot(x, y)); // and exactly through the lowest node
        A.row(row) << weight * x, weight * y, weight * x * x, weight * x * y, weight * y * y;
        b[row++] = weight * (nodal[i] - nodal[lowest]);
    }
    const Eigen::VectorXd c = (A.transpose() * A).ldlt().solve(A.transpose() * b);
    const auto value = [&](const Point& p) {
        const double x = (p.x() - o.x()) / size, y = (p.y() - o.y()) / size;
        return nodal[lowest] + c[0] * x + c[1] * y + c[2] * x * x + c[3] * x * y + c[4] * y * y;
    };
    const auto consider = [&](const Point& p) {
        if (const double v = value(p); v < best.value)
            best = {v, p};
    };
    // Inside the cells at the node, if the quadratic has its least value there, else on their edges
    // that leave the node: on those beyond, the fit may pass below nodes that are higher.
    const double det = 4 * c[2] * c[4] - c[3] * c[3];
    const Point bottom(o.x() + size * (c[3] * c[1] - 2 * c[4] * c[0]) / det,
                       o.y() + size * (c[3] * c[0] - 2 * c[2] * c[1]) / det);
    for (int t : triangles_[lowest]) {
        const auto& k = mesh_->triangles[t];
        bool inside = det > 0 && c[2] > 0;
        for (int e = 0; e < 3; ++e) {
            const Point &p = mesh_->nodes[k[e]], &q = mesh_->nodes[k[(e + 1) % 3]];
            const double dx = q.x() - p.x(), dy = q.y() - p.y();
            inside = inside && dx * (bottom.y() - p.y()) - dy * (bottom.x() - p.x()) >= 0;
            if (k[e] != lowest && k[(e + 1) % 3] != lowest)
                continue;
            // Along the edge the quadratic is a parabola through three known values.
            const Point m((p.x() + q.x()) / 2, (p.y() + q.y()) / 2);
            const double f0 = value(p), f1 = value(m), f2 = value(q), bend = 2 * (f0 - 2 * f1 + f2);
            const double s = bend > 0 ? (3 * f0 - 4 * f1 + f2) / (2 * bend) : -1;
            if (s > 0 && s < 1)
                consider(Point(p.x() + s * dx, p.y() + s * dy));
        }
        if (inside)
            consider(bottom);
    }
    return best;
}

std::vector<std::vector<Point>> level_lines(const Mesh& mesh, const Eigen::VectorXd& nodal,
                                            double level, const std::function<bool(int)>& wanted) {
    using Edge = std::pair<int, int>;
    std::map<Edge, Point> crossing;
    std::map<Edge, std::vector<Edge>> next;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        if (!wanted(mesh.region[t]))
            continue;
        std::vector<Edge> cut;
        for (int e = 0; e < 3; ++e) {
            const int a = mesh.triangles[t][e], b = mesh.triangles[t][(e + 1) % 3];
            if ((nodal[a] < level) == (nodal[b] < level))
                continue;
            const Edge edge = std::minmax(a, b);
            const Point &p = mesh.nodes[edge.first], &q = mesh.nodes[edge.second];
            const double f = (level - nodal[edge.first]) / (nodal[edge.second] - nodal[edge.first]);
            crossing.insert_or_assign(
                edge, Point(p.x() + f * (q.x() - p.x()), p.y() + f * (q.y() - p.y())));
            cut.push_back(edge);
        }
        if (cut.size() == 2) {
            next[cut[0]].push_back(cut[1]);
            next[cut[1]].push_back(cut[0]);
        }
    }
    std::vector<std::vector<Point>> lines;
    std::set<Edge> done;
    const auto walk = [&](Edge from) {
        std::vector<Point> points;
        for (bool on = true; on;) {
            done.insert(from);
            points.push_back(crossing.at(from));
            on = false;
            for (const Edge& to : next[from])
                if (!done.contains(to)) {
                    from = to;
                    on = true;
                    break;
                }
        }
        return std::pair(points, from);
    };
    for (const bool ends_only : {true, false}) // open lines first, from an end; then closed ones
        for (const auto& [edge, links] : next) {
            if (done.contains(edge) || (ends_only && links.size() != 1))
                continue;
            auto [points, last] = walk(edge);
            if (!ends_only)
                points.push_back(points.front());
            lines.push_back(std::move(points));
        }
    return lines;
}

std::vector<Ring> below(const Mesh& mesh, const Eigen::VectorXd& nodal, double level,
                        const std::function<bool(int)>& wanted) {
    using Corner = std::pair<int, int>; // a node twice, or the edge that is cut
    struct Side {
        Corner low, high; // ordered
        bool forward;
        bool same(const Side& other) const { return low == other.low && high == other.high; }
    };
    // The low part of every triangle, side by side; sides of two neighbours cancel.
    std::vector<Side> sides;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        if (!wanted(mesh.region[t]))
            continue;
        std::array<Corner, 4> part;
        std::size_t count = 0;
        for (int e = 0; e < 3; ++e) {
            const int a = mesh.triangles[t][e], b = mesh.triangles[t][(e + 1) % 3];
            if (nodal[a] < level)
                part[count++] = {a, a};
            if ((nodal[a] < level) != (nodal[b] < level))
                part[count++] = std::minmax(a, b);
        }
        for (std::size_t k = 0; k < count; ++k) {
            const Corner &from = part[k], &to = part[(k + 1) % count];
            sides.push_back({std::min(from, to), std::max(from, to), from < to});
        }
    }
    std::ranges::sort(sides, [](const Side& a, const Side& b) {
        return std::tie(a.low, a.high) < std::tie(b.low, b.high);
    });
    std::multimap<Corner, Corner> next;
    for (std::size_t k = 0; k < sides.size(); ++k)
        if (k + 1 < sides.size() && sides[k].same(sides[k + 1]))
            ++k;
        else if (sides[k].forward)
            next.emplace(sides[k].low, sides[k].high);
        else
            next.emplace(sides[k].high, sides[k].low);
    const auto place = [&](const Corner& c) {
        const Point &p = mesh.nodes[c.first], &q = mesh.nodes[c.second];
        if (c.first == c.second)
            return p;
        const double f = (level - nodal[c.first]) / (nodal[c.second] - nodal[c.first]);
        return Point(p.x() + f * (q.x() - p.x()), p.y() + f * (q.y() - p.y()));
    };
    std::vector<Ring> rings;
    while (!next.empty()) {
        Ring ring;
        for (auto at = next.begin(); at != next.end();) {
            const Corner to = at->second;
            ring.push_back(place(at->first));
            next.erase(at);
            at = next.find(to);
        }
        rings.push_back(std::move(ring));
    }
    return rings;
}

namespace {

/// Weights of the corners of a triangle at (x, y), all at least -1e-9 within it.
std::array<double, 3> weights_at(const Point& a, const Point& b, const Point& c, double x,
                                 double y) {
    const double area = (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
    const double wa = ((b.x() - x) * (c.y() - y) - (b.y() - y) * (c.x() - x)) / area,
                 wb = ((c.x() - x) * (a.y() - y) - (c.y() - y) * (a.x() - x)) / area;
    return {wa, wb, 1 - wa - wb};
}

bool within(const std::array<double, 3>& weights) {
    return *std::ranges::min_element(weights) >= -1e-9;
}

} // namespace

std::optional<Spot> spot(const Mesh& mesh, const Point& p) {
    for (const auto& k : mesh.triangles) {
        const Point &a = mesh.nodes[k[0]], &b = mesh.nodes[k[1]], &c = mesh.nodes[k[2]];
        const double near = 4 * mesh.spacing; // no cell is as wide
        if (std::abs(a.x() - p.x()) > near || std::abs(a.y() - p.y()) > near)
            continue;
        if (const auto w = weights_at(a, b, c, p.x(), p.y()); within(w))
            return Spot{k, w};
    }
    return std::nullopt;
}

void rasterise(const Mesh& mesh, const Raster& raster,
               const std::function<void(int, int, const std::array<double, 3>&)>& visit) {
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const auto& k = mesh.triangles[t];
        const Point &a = mesh.nodes[k[0]], &b = mesh.nodes[k[1]], &c = mesh.nodes[k[2]];
        const auto [xl, xh] = std::minmax({a.x(), b.x(), c.x()});
        const auto [yl, yh] = std::minmax({a.y(), b.y(), c.y()});
        const auto first = [&](double v, double origin) {
            return std::max(0, static_cast<int>(std::floor((v - origin) / raster.step)));
        };
        const auto last = [&](double v, double origin, int count) {
            return std::min(count - 1, static_cast<int>(std::ceil((v - origin) / raster.step)));
        };
        for (int j = first(yl, raster.y0); j <= last(yh, raster.y0, raster.ny); ++j)
            for (int i = first(xl, raster.x0); i <= last(xh, raster.x0, raster.nx); ++i) {
                const double x = raster.x0 + i * raster.step, y = raster.y0 + j * raster.step;
                if (const auto w = weights_at(a, b, c, x, y); within(w))
                    visit(j * raster.nx + i, static_cast<int>(t), w);
            }
    }
}

} // namespace tidemark::geometry
