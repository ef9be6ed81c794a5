// SPDX-License-Identifier: MIT
/// The lowest point of a field does not depend on rounding.
#include "geometry/field.hpp"
#include "geometry/shapes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace tidemark;

TEST_CASE("the lowest point is the same whatever the rounding", "[geometry]") {
    // What comes from two faces to a flat core (invented): steep upwards, nearly level sideways, so
    // that a quadratic fits it badly.
    const auto mesh = geometry::triangulate(
        geometry::block({.thickness = 0.07, .width = 0.12}, "test"), 0.07 / 24);
    const geometry::LowestPoint lowest(mesh, 0);
    double low = 1e9, high = 0;
    for (int k = 0; k < 40; ++k) {
        Eigen::VectorXd nodal(static_cast<Eigen::Index>(mesh.nodes.size()));
        for (Eigen::Index i = 0; i < nodal.size(); ++i) {
            const geometry::Point& p = mesh.nodes[static_cast<std::size_t>(i)];
            nodal[i] = (5 * std::cosh(p.y() / 0.006) + 180 * p.x() * p.x()) *
                       (1 + 1e-14 * std::sin(static_cast<double>((k + 1) * (i + 3))));
        }
        const double value = lowest(nodal).value;
        low = std::min(low, value);
        high = std::max(high, value);
    }
    CHECK(high - low < 1e-9);
    CHECK(low == Approx(5).epsilon(1e-9)); // a node lies there
}
