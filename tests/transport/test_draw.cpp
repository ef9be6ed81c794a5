// SPDX-License-Identifier: MIT
#include "geometry/shapes.hpp"
#include "transport/draw.hpp"
#include "transport/spectrum.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace tidemark;

namespace {

constexpr double pi = std::numbers::pi, omega = 780, D = 2.5e-10;

} // namespace

TEST_CASE("what a corner lacks", "[unit]") {
    // Right angle: the product of two complementary error functions over the corner, 4 D t / pi.
    CHECK(transport::corner_lack(pi / 2) == Approx(4 / pi).epsilon(1e-8));
    CHECK(std::abs(transport::corner_lack(pi)) < 1e-12);
    // A slit and a bend worked out by hand: -4 int dx / cosh(2 pi x) = -1, and 1/2 per radian, of
    // which a disc has pi (Crank 1975, eq. 5.27: 2 pi a (2 sqrt(D t / pi)) - pi D t).
    CHECK(transport::corner_lack(2 * pi) == Approx(-1).epsilon(1e-8));
    CHECK(transport::corner_lack(pi - 1e-4) == Approx(0.5e-4).epsilon(1e-3));
}

TEST_CASE("the draw of a section is that of its faces, less its corners", "[unit]") {
    geometry::Dimensions d;
    d.thickness = 0.06;
    d.width = 0.1;
    d.faces = geometry::face_names();
    const auto section = geometry::block(d, "test");
    auto mesh = geometry::triangulate(section, 0.005);
    const double root = omega * std::sqrt(D), right = 4 / pi * omega * D;
    auto draw = transport::draw(mesh, {{omega, D}});
    CHECK(draw.face.sum() == Approx(0.32 * root).epsilon(1e-12));
    CHECK(draw.corner.sum() == Approx(4 * right).epsilon(1e-8));
    // A corner with one shut face is half of a straight one.
    mesh = geometry::with_sealed(mesh, section, {"bottom"}, "test");
    draw = transport::draw(mesh, {{omega, D}});
    CHECK(draw.face.sum() == Approx(0.22 * root).epsilon(1e-12));
    CHECK(draw.corner.sum() == Approx(2 * right).epsilon(1e-8));
    // Fibres along x: faces that cut them draw by the root of the ratio more.
    draw = transport::draw(mesh, {{omega, D, 4, 0}});
    CHECK(draw.face.sum() == Approx((0.1 + 2 * 0.12 / 2 * 2) * root).epsilon(1e-12));
}

TEST_CASE("faces draw what the solved stage takes, to the second order in the root of time",
          "[unit]") {
    // Too short for faces to meet; a third term, of (D t)^1.5, is left, and the cells.
    for (const int power : {0, 1, 2}) {
        const double a = 0.03, t = 0.002 * a * a / D;
        const auto line = geometry::line({{"lean", a}}, 2000, power, false, true);
        transport::Bath bath;
        bath.concentration = 1;
        const auto system = transport::assemble(line, {{omega, D}}, bath);
        const transport::Spectrum solved(system, t / 50, t);
        const double taken = solved.influx(t); // and besides, what the wall node took at once
        double wall = 0;
        for (std::size_t i = 0; i < system.unknown.size(); ++i)
            if (system.unknown[i] == system.bath())
                wall += system.region_water[0][static_cast<Eigen::Index>(i)];
        const auto draw = transport::draw(line, {{omega, D}});
        const double skin = 2 * std::sqrt(t / pi) * draw.face.sum() - t * draw.corner.sum();
        CAPTURE(power);
        CHECK(taken + wall == Approx(skin).epsilon(5e-4));
    }
}
