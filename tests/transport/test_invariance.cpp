// SPDX-License-Identifier: MIT
/// What must not change the answer, or must change it in a known way: mirrors and turns, twice the
/// size, limits of loss, bath and film, and seams between equal tissues.
#include "common.hpp"
#include "geometry/field.hpp"
#include "geometry/shapes.hpp"
#include "transport/spectrum.hpp"

#include <boost/math/tools/roots.hpp>
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace tidemark;
using geometry::Point;
using test::day;

namespace {

transport::Bath bath_of(double water) {
    transport::Bath bath;
    bath.concentration = 0.2;
    bath.partition = 0.95;
    bath.water = water;
    return bath;
}

std::vector<transport::Medium> media(const std::vector<std::string>& kinds, double ratio = 1,
                                     double angle = 0, double loss = 0) {
    std::vector<transport::Medium> m;
    for (const auto& kind : kinds)
        m.push_back(kind == "fat" ? transport::Medium{100, 1e-10, 1, 0, loss}
                                  : transport::Medium{780, 2.4e-10, ratio, angle, loss});
    return m;
}

/// A ham with a fat cap and a bone (invented), `scale` times its size.
geometry::Section ham(double scale = 1) {
    geometry::Dimensions d;
    d.thickness = 0.11 * scale;
    d.width = 0.15 * scale;
    d.fat_cap = 0.007 * scale;
    d.bones = 1;
    return geometry::ham(d, "ham");
}

/// Applies f to every point of a mesh.
template <class F> geometry::Mesh moved(geometry::Mesh mesh, F f) {
    for (auto& p : mesh.nodes)
        p = f(p);
    return mesh;
}

Point turned(const Point& p, double angle) {
    return {std::cos(angle) * p.x() - std::sin(angle) * p.y(),
            std::sin(angle) * p.x() + std::cos(angle) * p.y()};
}

/// Time at which the lowest lean place reaches half the balance.
double half_time(const geometry::Mesh& mesh, const std::vector<transport::Medium>& m,
                 const transport::Bath& bath, double first, double last) {
    const auto system = transport::assemble(mesh, m, bath);
    const transport::Spectrum history(system, first, last, 1e-10);
    const auto lean = std::find(mesh.kinds.begin(), mesh.kinds.end(), "lean") - mesh.kinds.begin();
    const geometry::LowestPoint lowest(mesh, static_cast<int>(lean));
    const double half =
        0.5 * (system.held ? bath.partition * bath.concentration
                           : system.capacity.dot(system.initial) / system.capacity.sum());
    std::uintmax_t steps = 100;
    const auto r = boost::math::tools::toms748_solve(
        [&](double t) { return lowest(history.at(t).free(system.unknown)).value - half; }, first,
        last, boost::math::tools::eps_tolerance<double>(45), steps);
    return (r.first + r.second) / 2;
}

/// Largest difference of two systems' unknowns at t, for systems with the same numbering.
double apart(const transport::System& a, const transport::System& b, double t) {
    const transport::Spectrum x(a, t / 2, t, 1e-10), y(b, t / 2, t, 1e-10);
    return (x.at(t).free - y.at(t).free).cwiseAbs().maxCoeff();
}

} // namespace

TEST_CASE("mirrored or turned cells hold the same concentrations", "[transport]") {
    // The same triangles moved rigidly, fibres with them: only roundoff and the solver's own
    // tolerance (1e-10, of a strength of 0.2) are left.
    const auto mesh = geometry::triangulate(ham(), 0.008);
    const double angle = 0.6, ratio = 1.4, t = 12 * day;
    const auto plain = transport::assemble(mesh, media(mesh.kinds, ratio, angle, 1e-6), bath_of(8));
    auto mirror = moved(mesh, [](const Point& p) { return Point(-p.x(), p.y()); });
    for (auto& triangle : mirror.triangles)
        std::swap(triangle[1], triangle[2]);
    CHECK(apart(plain,
                transport::assemble(mirror, media(mesh.kinds, ratio, -angle, 1e-6), bath_of(8)),
                t) < 1e-9);
    const auto turn = moved(mesh, [](const Point& p) { return turned(p, 0.9); });
    CHECK(apart(plain,
                transport::assemble(turn, media(mesh.kinds, ratio, angle + 0.9, 1e-6), bath_of(8)),
                t) < 1e-9);
}

TEST_CASE("a section cut into cells afresh after a turn has the same half-way day", "[transport]") {
    // Other triangles, so each answer is good to 0.1 % (what the usual grid must reach, see
    // tests/verification/test_default_grid.cpp); two of them may differ by twice that.
    const auto answer = [](double turn) {
        auto s = ham();
        const auto turn_ring = [&](geometry::Ring& ring) {
            for (auto& p : ring)
                p = turned(p, turn);
        };
        turn_ring(s.outline);
        for (auto& region : s.regions)
            turn_ring(region.ring);
        const auto mesh = geometry::triangulate(geometry::checked(s, "turned"), s.thickness / 24);
        const auto m = media(mesh.kinds, 1.3, 0.5 + turn);
        const double coarse = half_time(mesh, m, bath_of(10), 3 * day, 200 * day);
        const double fine = half_time(geometry::refine(mesh), m, bath_of(10), 3 * day, 200 * day);
        return fine + (fine - coarse) / 3;
    };
    const double plain = answer(0);
    CHECK(answer(std::acos(0.0)) == Approx(plain).epsilon(2e-3)); // a right angle
    CHECK(answer(0.65) == Approx(plain).epsilon(2e-3));
}

TEST_CASE("twice the size takes four times as long, but not with loss or a film", "[transport]") {
    const auto small = geometry::triangulate(ham(), 0.005);
    const auto large = moved(small, [](const Point& p) { return Point(2 * p.x(), 2 * p.y()); });
    const auto ratio = [&](double loss, double film, double water) {
        transport::Bath few = bath_of(water), many = bath_of(4 * water);
        few.film = many.film = film;
        const auto m = media(small.kinds, 1.3, 0.4, loss);
        return half_time(large, m, many, 8 * day, 800 * day) /
               half_time(small, m, few, 2 * day, 200 * day);
    };
    const double none = std::numeric_limits<double>::infinity();
    CHECK(ratio(0, none, 9) ==
          Approx(4).epsilon(1e-8)); // the solver's tolerance, 1e-10, and roundoff
    CHECK(ratio(0, none, none) == Approx(4).epsilon(1e-8));
    CHECK(ratio(0, 3e-8, none) < 3.9);
    CHECK(ratio(1e-8, none, none) > 4.01);
}

TEST_CASE("vanishing loss, a growing bath and a growing film coefficient reach their limits",
          "[transport]") {
    // Each effect must shrink in proportion: a tenth of the cause leaves a tenth of the difference,
    // up to the next order of a small cause (1 % here), until nothing is left.
    const auto mesh = geometry::triangulate(ham(), 0.008);
    const double t = 20 * day, none = std::numeric_limits<double>::infinity();
    const auto free = [&](double loss, double water, double film) {
        auto bath = bath_of(water);
        bath.film = film;
        const auto system = transport::assemble(mesh, media(mesh.kinds, 1, 0, loss), bath);
        return Eigen::VectorXd(
            transport::Spectrum(system, t / 2, t, 1e-11).at(t).free(system.unknown));
    };
    const Eigen::VectorXd limit = free(0, none, none);
    const auto distance = [&](const Eigen::VectorXd& u) {
        return (u - limit).cwiseAbs().maxCoeff();
    };
    CHECK(distance(free(1e-9, none, none)) / distance(free(1e-10, none, none)) ==
          Approx(10).epsilon(0.01));
    CHECK(distance(free(1e-14, none, none)) < 1e-8);
    CHECK(distance(free(0, 1e4, none)) / distance(free(0, 1e5, none)) == Approx(10).epsilon(0.01));
    CHECK(distance(free(0, 1e10, none)) < 1e-8);
    CHECK(distance(free(0, none, 1e-4)) / distance(free(0, none, 1e-3)) ==
          Approx(10).epsilon(0.01));
    CHECK(distance(free(0, none, 0.1)) < 5e-8); // a hundredth of that at 1e-3
}

TEST_CASE("a seam between equal tissues is no seam", "[transport]") {
    SECTION("line: two equal layers are one") {
        for (int power = 0; power < 3; ++power) {
            const auto one = geometry::line({{"lean", 0.03}}, 60, power, false, true);
            const auto two =
                geometry::line({{"lean", 0.02}, {"fat", 0.01}}, 60, power, false, true);
            const transport::Medium m{780, 2.4e-10, 1, 0, 1e-6};
            CHECK(apart(transport::assemble(one, {m}, bath_of(20)),
                        transport::assemble(two, {m, m}, bath_of(20)), 10 * day) < 1e-9);
        }
    }
    SECTION("section: two equal regions are one") {
        const auto mesh = geometry::triangulate(ham(), 0.008);
        auto joined = mesh;
        joined.kinds = {"lean"};
        std::fill(joined.region.begin(), joined.region.end(), 0);
        const transport::Medium m{780, 2.4e-10, 1.3, 0.7, 1e-6};
        CHECK(apart(transport::assemble(mesh, {m, m}, bath_of(8)),
                    transport::assemble(joined, {m}, bath_of(8)), 20 * day) < 1e-9);
    }
}
