// SPDX-License-Identifier: MIT
#include "verification/fields.hpp"

#include <boost/math/tools/roots.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace tidemark::verification {

using geometry::Mesh;
using geometry::Point;
using geometry::Ring;

Ring ellipse(double cx, double cy, double a, double b, int points) {
    Ring ring;
    for (int i = 0; i < points; ++i) {
        const double angle = 2 * std::numbers::pi * i / points;
        ring.emplace_back(cx + a * std::cos(angle), cy + b * std::sin(angle));
    }
    return ring;
}

Ring rectangle(double width, double height, double angle) {
    Ring ring;
    const double c = std::cos(angle), s = std::sin(angle), x = width / 2, y = height / 2;
    for (const auto& [u, v] :
         {std::pair(-x, -y), std::pair(x, -y), std::pair(x, y), std::pair(-x, y)})
        ring.emplace_back(c * u - s * v, s * u + c * v);
    return ring;
}

geometry::Section section(Ring outline, std::vector<geometry::Region> regions,
                          std::vector<geometry::Seal> seals) {
    geometry::Section s;
    s.name = "test";
    double low[2] = {1e9, 1e9}, high[2] = {-1e9, -1e9};
    for (const Point& p : outline)
        for (int k = 0; k < 2; ++k) {
            const double v = k ? p.y() : p.x();
            low[k] = std::min(low[k], v);
            high[k] = std::max(high[k], v);
        }
    std::tie(s.thickness, s.width) = std::minmax(high[0] - low[0], high[1] - low[1]);
    s.outline = std::move(outline);
    s.regions = std::move(regions);
    s.seals = std::move(seals);
    return geometry::checked(std::move(s), "test");
}

Mesh refined(Mesh mesh, int times) {
    for (int i = 0; i < times; ++i)
        mesh = geometry::refine(mesh);
    return mesh;
}

int region_of(const std::vector<std::string>& kinds, const std::string& kind) {
    return static_cast<int>(std::find(kinds.begin(), kinds.end(), kind) - kinds.begin());
}

Eigen::VectorXd nodal(const transport::System& system, const Eigen::VectorXd& u) {
    return u(system.unknown);
}

Eigen::VectorXd begun(const transport::System& s, const Eigen::VectorXd& nodes, double value) {
    Eigen::VectorXd u = Eigen::VectorXd::Zero(s.capacity.size());
    double held = s.bath_capacity * value, room = s.bath_capacity;
    for (Eigen::Index i = 0; i < nodes.size(); ++i) {
        const int k = s.unknown[static_cast<std::size_t>(i)];
        double water = 0;
        for (const auto& region : s.region_water)
            water += region[i];
        if (k == s.bath()) {
            held += water * nodes[i];
            room += water;
        } else {
            u[k] = nodes[i];
        }
    }
    u[s.bath()] = s.held ? value : room > 0 ? held / room : 0;
    return u;
}

double Place::value(const Mesh& mesh, const Eigen::VectorXd& values) const {
    double sum = 0;
    for (int k = 0; k < 3; ++k)
        sum += weight[k] * values[mesh.triangles[triangle][k]];
    return sum;
}

Place locate(const Mesh& mesh, const Point& p) {
    Place best;
    double least = -std::numeric_limits<double>::infinity();
    for (std::size_t t = 0; t < mesh.triangles.size() && least < 0; ++t) {
        const auto& [i, j, k] = mesh.triangles[t];
        const Point &a = mesh.nodes[i], &b = mesh.nodes[j], &c = mesh.nodes[k];
        const auto cross = [](const Point& o, const Point& u, const Point& v) {
            return (u.x() - o.x()) * (v.y() - o.y()) - (u.y() - o.y()) * (v.x() - o.x());
        };
        const double all = cross(a, b, c);
        const double w[3] = {cross(p, b, c) / all, cross(p, c, a) / all, cross(p, a, b) / all};
        const double smallest = std::min({w[0], w[1], w[2]});
        if (smallest > least) {
            least = smallest;
            best = {p, static_cast<int>(t), {w[0], w[1], w[2]}};
        }
    }
    return best;
}

std::vector<Point> random_points(const Mesh& mesh, int n, unsigned seed) {
    std::mt19937 engine(seed);
    std::vector<double> area;
    for (const auto& [i, j, k] : mesh.triangles) {
        const Point &a = mesh.nodes[i], &b = mesh.nodes[j], &c = mesh.nodes[k];
        area.push_back((b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x()));
    }
    std::discrete_distribution<std::size_t> pick(area.begin(), area.end());
    std::uniform_real_distribution<double> unit;
    std::vector<Point> points;
    for (int m = 0; m < n; ++m) {
        const auto& t = mesh.triangles[pick(engine)];
        double u = unit(engine), v = unit(engine);
        if (u + v > 1) {
            u = 1 - u;
            v = 1 - v;
        }
        const Point &a = mesh.nodes[t[0]], &b = mesh.nodes[t[1]], &c = mesh.nodes[t[2]];
        points.emplace_back(a.x() + u * (b.x() - a.x()) + v * (c.x() - a.x()),
                            a.y() + u * (b.y() - a.y()) + v * (c.y() - a.y()));
    }
    return points;
}

double worst(const Mesh& mesh, const Eigen::VectorXd& values,
             const std::function<double(const Point&)>& exact, std::size_t nodes) {
    double error = 0;
    for (std::size_t i = 0; i < (nodes ? nodes : mesh.nodes.size()); ++i)
        error = std::max(error, std::abs(values[i] - exact(mesh.nodes[i])));
    return error;
}

double crossing(const transport::Spectrum& history, const Eigen::VectorXd& weights, double value,
                double from) {
    const auto follower = history.follow(weights);
    std::uintmax_t steps = 200;
    const auto r = boost::math::tools::toms748_solve(
        [&](double t) { return follower(t).first - value; }, from, history.last(),
        boost::math::tools::eps_tolerance<double>(45), steps);
    return (r.first + r.second) / 2;
}

} // namespace tidemark::verification
