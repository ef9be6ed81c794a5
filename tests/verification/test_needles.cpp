// SPDX-License-Identifier: MIT
/// Brine from needles evening out, against the series for line sources on a lattice. A source in a
/// box with shut walls is a row of images (Carslaw & Jaeger 1959, ch. X and XIV; Crank 1975, ch.
/// 2), and a lattice is the product of two such rows:
///     c/mean = g(x/s, D t/s^2) g(y/r, D t/r^2),  g(x, T) = 1 + 2 sum exp(-4 pi^2 n^2 T) cos(2 pi n
///     x).
/// A Gaussian deposit is a line source of age sd^2 / 2D. The lattices are invented. Fields come
/// from 12 cells to a spacing and their halving, extrapolated; tolerance 2e-3 of the mean, at which
/// an age wrong by one per cent would show (it moves the extremes at D t/s^2 = 0.05 by 8e-3
/// and 1.4e-2).
#include "geometry/needles.hpp"
#include "geometry/shapes.hpp"
#include "verification/fields.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

namespace test_needles {

using namespace tidemark;
using namespace tidemark::verification;
using geometry::Needles;
using geometry::Point;

namespace {

constexpr double D = 3e-10, pi = std::numbers::pi, allowed = 2e-3;

double g(double x, double T) {
    double sum = 1;
    for (int n = 1; n < 60; ++n)
        sum += 2 * std::exp(-4 * pi * pi * n * n * T) * std::cos(2 * pi * n * x);
    return sum;
}

/// A plan with nothing wet, filled by needles.
struct Plan {
    Plan(const geometry::Section& section, const geometry::Mesh& cells, const Needles& needles)
        : mesh(geometry::with_sealed(cells, section, geometry::face_names(), "test")),
          system(transport::assemble(mesh, {{780, D}}, {})) {
        const Eigen::VectorXd c = geometry::deposits_across(mesh, system.region_water[0], needles);
        for (std::size_t i = 0; i < mesh.nodes.size(); ++i)
            system.initial[system.unknown[i]] = c[static_cast<Eigen::Index>(i)];
    }
    geometry::Mesh mesh;
    transport::System system;
};

/// The field at each age D t / s^2, at the coarse nodes, mean held to rounding.
struct Field {
    geometry::Mesh mesh;
    std::vector<Eigen::VectorXd> at;
};

Field solve(double width, double height, const Needles& needles, const std::vector<double>& ages) {
    const auto section = geometry::block(
        {.thickness = height, .width = width, .faces = geometry::face_names()}, "test");
    const auto cells = geometry::triangulate(section, needles.spacing / 12);
    const Plan coarse(section, cells, needles), fine(section, geometry::refine(cells), needles);
    const auto fields = [&](const Plan& plan) {
        std::vector<Eigen::VectorXd> found;
        const double start = std::pow(geometry::deposit_sd(needles), 2) / (2 * D);
        const auto time = [&](double age) {
            return age * needles.spacing * needles.spacing / D - start;
        };
        const transport::Spectrum history(plan.system, time(ages.front()) / 4, time(ages.back()));
        for (double age : ages) {
            const auto u = history.at(time(age)).free;
            CHECK(std::abs(plan.system.mean(u, 0) - 1) < 1e-12);
            found.push_back(nodal(plan.system, u));
        }
        return found;
    };
    const auto a = fields(coarse), b = fields(fine);
    Field field{coarse.mesh, {}};
    for (std::size_t k = 0; k < ages.size(); ++k)
        field.at.push_back(b[k].head(a[k].size()) + (b[k].head(a[k].size()) - a[k]) / 3);
    return field;
}

} // namespace

TEST_CASE("needles on a square lattice even out as the series of line sources", "[verification]") {
    const double s = 0.025;
    const Needles needles{.spacing = s, .deposit = 0.008};
    const std::vector<double> ages{0.05, 0.10, 0.15};
    const Field field = solve(2 * s, 2 * s, needles, ages);
    // min and max over the mean, [C] to the digits given: 0.523, 1.63; 0.924, 1.08; 0.989, 1.01
    const double low[] = {0.523, 0.924, 0.989}, high[] = {1.63, 1.08, 1.01};
    for (std::size_t k = 0; k < ages.size(); ++k) {
        CAPTURE(ages[k]);
        CHECK(g(0.5, ages[k]) * g(0.5, ages[k]) == Approx(low[k]).margin(0.0006));
        CHECK(g(0, ages[k]) * g(0, ages[k]) == Approx(high[k]).margin(0.006));
        CHECK(worst(field.mesh, field.at[k], [&](const Point& p) { // a needle stands in the middle
                  return g(p.x() / s, ages[k]) * g(p.y() / s, ages[k]);
              }) < allowed);
    }
}

TEST_CASE("staggered rows are two lattices, one in the gaps of the other", "[verification]") {
    const double s = 0.030, r = 0.020; // a lattice of rows 2 r apart, and another half a cell on
    const Needles needles{.spacing = s, .row_spacing = r, .staggered = true, .deposit = 0.009};
    const std::vector<double> ages{0.03, 0.06};
    const Field field = solve(2 * s, 2 * r, needles, ages);
    for (std::size_t k = 0; k < ages.size(); ++k) {
        CAPTURE(ages[k]);
        const double T = ages[k], Tr = T * s * s / (4 * r * r);
        CHECK(worst(field.mesh, field.at[k], [&](const Point& p) {
                  const double x = p.x() / s, y = p.y() / (2 * r);
                  return (g(x, T) * g(y, Tr) + g(x + 0.5, T) * g(y + 0.5, Tr)) / 2;
              }) < allowed);
    }
}

TEST_CASE("rows farther apart than their needles run along the plan's height", "[verification]") {
    const double s = 0.020, r = 0.030;
    const Field field =
        solve(2 * r, 2 * s, {.spacing = s, .row_spacing = r, .deposit = 0.008}, {0.06});
    CHECK(worst(field.mesh, field.at[0], [&](const Point& p) {
              return g(p.x() / r, 0.06 * s * s / (r * r)) * g(p.y() / s, 0.06);
          }) < allowed);
}

} // namespace test_needles
