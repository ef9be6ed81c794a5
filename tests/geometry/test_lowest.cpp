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

TEST_CASE("what lies below a level is closed rings, holes running the other way", "[geometry]") {
    const auto mesh = geometry::triangulate(
        geometry::block({.thickness = 0.07, .width = 0.12}, "test"), 0.07 / 24);
    const auto area = [&](double level, auto field) { // of the rings, by the shoelace rule
        Eigen::VectorXd nodal(static_cast<Eigen::Index>(mesh.nodes.size()));
        for (Eigen::Index i = 0; i < nodal.size(); ++i)
            nodal[i] = field(mesh.nodes[static_cast<std::size_t>(i)]);
        double sum = 0;
        const auto rings = geometry::below(mesh, nodal, level, [](int) { return true; });
        for (const geometry::Ring& ring : rings)
            for (std::size_t k = 0; k < ring.size(); ++k) {
                const geometry::Point &a = ring[k], &b = ring[(k + 1) % ring.size()];
                sum += (a.x() * b.y() - b.x() * a.y()) / 2;
            }
        return std::pair(rings.size(), sum);
    };
    const auto across = [](const geometry::Point& p) { return p.x(); };
    // A straight field is exact: the part left of x = 0.02, the rim closing it; all of it; nothing.
    CHECK(area(0.02, across).first == 1);
    CHECK(area(0.02, across).second == Approx(0.08 * 0.07).epsilon(1e-9));
    CHECK(area(1, across).second == Approx(0.12 * 0.07).epsilon(1e-9));
    CHECK(area(-1, across).first == 0);
    // High in the middle: the rest is the block less a disc of 20 mm, to the chords of its cells.
    const auto inwards = [](const geometry::Point& p) { return -std::hypot(p.x(), p.y()); };
    const auto [rings, size] = area(-0.02, inwards);
    CHECK(rings == 2);
    CHECK(size == Approx(0.12 * 0.07 - 3.14159265 * 4e-4).epsilon(2e-3));
}
