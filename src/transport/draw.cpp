// SPDX-License-Identifier: MIT
#include "transport/draw.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>

#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <utility>

namespace tidemark::transport {

using Eigen::VectorXd;
using geometry::Point;

namespace {

constexpr double pi = std::numbers::pi;

Point side(const geometry::Mesh& mesh, int from, int to) {
    const Point &a = mesh.nodes[from], &b = mesh.nodes[to];
    return {b.x() - a.x(), b.y() - a.y()};
}

} // namespace

double corner_lack(double angle) {
    angle = std::min(angle, 2 * pi);
    // 4 sinh((pi - angle) x) / (sinh(pi x) cosh(angle x)) over 0 to infinity, in falling
    // exponentials.
    return boost::math::quadrature::gauss_kronrod<double, 31>::integrate(
        [&](double x) {
            return 8 * (std::exp(-2 * angle * x) - std::exp(-2 * pi * x)) /
                   (-std::expm1(-2 * pi * x) * (1 + std::exp(-2 * angle * x)));
        },
        0.0, std::numeric_limits<double>::infinity(), 8, 1e-9);
}

Draw draw(const geometry::Mesh& mesh, const std::vector<Medium>& media) {
    std::map<std::pair<int, int>, bool> wet; // sides of triangles that lie on a wet face
    const auto nodes = static_cast<Eigen::Index>(mesh.nodes.size());
    VectorXd faces = VectorXd::Zero(nodes); // wet ones at each node
    for (const geometry::CurveEdge& e : mesh.edges)
        if (mesh.curves[e.curve].wet) {
            wet[{e.a, e.b}] = wet[{e.b, e.a}] = true;
            ++faces[e.a];
            ++faces[e.b];
        }
    Draw d{VectorXd::Zero(nodes), VectorXd::Zero(nodes)};
    VectorXd angle = VectorXd::Zero(nodes);
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        const Medium& m = media[mesh.region[t]];
        const double co = std::cos(m.angle), si = std::sin(m.angle);
        for (int k = 0; k < 3; ++k) {
            const int a = mesh.triangles[t][k], b = mesh.triangles[t][(k + 1) % 3];
            const Point ab = side(mesh, a, b), ac = side(mesh, a, mesh.triangles[t][(k + 2) % 3]);
            if (faces[a] > 0) { // the tissue at a corner counts by the angle it fills
                const double here = std::atan2(ab.x() * ac.y() - ab.y() * ac.x(),
                                               ab.x() * ac.x() + ab.y() * ac.y());
                angle[a] += here;
                d.corner[a] += here * m.water * m.diffusivity * std::sqrt(m.ratio);
            }
            if (!wet.contains({a, b}))
                continue;
            // The normal is the side turned: its length times the root of n.D n.
            const double along = co * -ab.y() + si * ab.x(), across = si * ab.y() + co * ab.x();
            const double rate =
                m.water * std::sqrt(m.diffusivity * (m.ratio * along * along + across * across));
            d.face[a] += rate / 2;
            d.face[b] += rate / 2;
        }
    }
    for (Eigen::Index i = 0; i < nodes; ++i)
        if (faces[i] > 0) // beside a shut face the tissue is as good as mirrored in it
            d.corner[i] *=
                (faces[i] > 1 ? corner_lack(angle[i]) : corner_lack(2 * angle[i]) / 2) / angle[i];
    return d;
}

Draw draw(const geometry::Line& line, const std::vector<Medium>& media) {
    const auto nodes = static_cast<Eigen::Index>(line.nodes.size());
    Draw d{VectorXd::Zero(nodes), VectorXd::Zero(nodes)};
    const auto end = [&](Eigen::Index i, double r, const Medium& m) {
        const double area[] = {1, 2 * pi * r, 4 * pi * r * r}, bend[] = {0, pi, 4 * pi * r};
        d.face[i] = area[line.power] * m.water * std::sqrt(m.diffusivity);
        d.corner[i] = bend[line.power] * m.water * m.diffusivity;
    };
    if (line.wet_first)
        end(0, line.nodes.front(), media[line.region.front()]);
    if (line.wet_last)
        end(nodes - 1, line.nodes.back(), media[line.region.back()]);
    return d;
}

Draw draw(const Draw& faces, const System& section, const std::vector<Medium>& media,
          const Along& along, bool ends) {
    const Eigen::Index nodes = faces.face.size();
    Draw all{(faces.face * along.weight.transpose()).reshaped(),
             (faces.corner * along.weight.transpose()).reshaped()};
    if (!ends)
        return all;
    // Of a metre of the section the water is that of its face; where a face meets an end at a right
    // angle, the edge is as long as the face is wide.
    VectorXd water = VectorXd::Zero(nodes), rate = water;
    for (std::size_t r = 0; r < media.size(); ++r) {
        water += section.region_water[r];
        rate += std::sqrt(media[r].diffusivity * media[r].along) * section.region_water[r];
    }
    const VectorXd speed = (water.array() > 0).select(rate.cwiseQuotient(water), 0.0);
    all.face.tail(nodes) += along.sides * rate;
    all.corner.tail(nodes) += along.sides * corner_lack(pi / 2) * faces.face.cwiseProduct(speed);
    return all;
}

} // namespace tidemark::transport
