// SPDX-License-Identifier: MIT
/// Needle patterns and what they leave: places, mean, unevenness, fat and bone left out, refusals.
/// All patterns and pieces are invented.
#include "base/error.hpp"
#include "geometry/measure.hpp"
#include "geometry/needles.hpp"
#include "geometry/shapes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace tidemark::geometry;

namespace {

bool holds(const std::vector<Point>& all, double x, double y) {
    return std::ranges::any_of(all, [&](const Point& p) { return distance(p, {x, y}) < 1e-12; });
}

/// A third of every lean triangle at each corner, in place of its water.
Eigen::VectorXd lean_water(const Mesh& m) {
    Eigen::VectorXd w = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(m.nodes.size()));
    for (std::size_t t = 0; t < m.triangles.size(); ++t)
        for (int i : m.triangles[t])
            w[i] += m.kinds[m.region[t]] == "lean" ? area(m, t) / 3 : 0;
    return w;
}

/// Share of the whole within a circle.
double within(const Mesh& m, const Eigen::VectorXd& c, const Point& centre, double radius) {
    const Eigen::VectorXd w = lean_water(m);
    double sum = 0;
    for (std::size_t i = 0; i < m.nodes.size(); ++i)
        sum += distance(m.nodes[i], centre) < radius ? w[i] * c[i] : 0;
    return sum / w.dot(c);
}

} // namespace

TEST_CASE("A pattern in a box is symmetric, keeps its margin and uses its room", "[geometry]") {
    const Box box{{0.01, 0.02}, {0.11, 0.08}}; // 100 x 60 mm
    const auto all =
        pattern(box, {.spacing = 0.02, .row_spacing = 0.015, .deposit = 0.005, .margin = 0.01});
    CHECK(all.size() == 5 * 3); // (100 - 20) / 20 + 1 along, floor((60 - 20) / 15) + 1 across
    for (const Point& p : all) {
        CHECK(std::min({p.x() - 0.01, 0.11 - p.x(), p.y() - 0.02, 0.08 - p.y()}) > 0.01 - 1e-12);
        CHECK(holds(all, 0.12 - p.x(), p.y()));
        CHECK(holds(all, p.x(), 0.10 - p.y()));
    }
    CHECK(holds(all, 0.06, 0.05));
    CHECK(holds(all, 0.02, 0.035));
    CHECK(pattern(box, {.spacing = 0.02, .deposit = 0.005, .margin = 0.031}).empty());
}

TEST_CASE("Every other row of a staggered pattern is shifted by half a spacing", "[geometry]") {
    const Box box{{-0.04, -0.03}, {0.04, 0.03}};
    const auto all =
        pattern(box, {.spacing = 0.02, .row_spacing = 0.015, .staggered = true, .deposit = 0.005});
    CHECK(all.size() == 5 + 4 + 5 + 4 + 5); // four times 15 mm in 60, and 20 mm in 80
    CHECK(holds(all, 0, 0));
    CHECK(holds(all, 0.01, 0.015));
    CHECK(holds(all, -0.01, -0.015));
    CHECK_FALSE(holds(all, 0, 0.015));
    CHECK(holds(all, 0.04, 0.03));
}

TEST_CASE("A pattern in an outline keeps its margin from the curve", "[geometry]") {
    const Ring round = disc({.thickness = 0.1}, "cut").outline;
    const Needles needles{.spacing = 0.01, .deposit = 0.005, .margin = 0.0095};
    const auto all = pattern(round, needles);
    std::size_t want = 0; // of the square lattice with a place in the middle, those within 40.5 mm
    for (int i = -5; i <= 5; ++i)
        for (int j = -5; j <= 5; ++j)
            want += std::hypot(i, j) * 0.01 < 0.0405;
    CHECK(all.size() == want);
    for (const Point& p : all)
        CHECK(std::hypot(p.x(), p.y()) < 0.0405);
}

TEST_CASE("Nineteen parts in twenty of a deposit lie within its width", "[geometry]") {
    const double s = 0.04, width = 0.015;
    const auto section =
        block({.thickness = s, .width = 0.8 * 2 * s}, "cut"); // one needle, in the middle
    const Mesh mesh = triangulate(section, 0.0005, true);
    const auto c = deposits_across(mesh, lean_water(mesh), {.spacing = 2 * s, .deposit = width});
    CHECK(deposit_sd({.deposit = width}) == Approx(width / 4.8955).epsilon(1e-5));
    // The circle cuts cells of 0.5 mm, and the density there moves the share by 0.002 per cell.
    CHECK(within(mesh, c, {0, 0}, width / 2) == Approx(0.95).margin(0.002));
}

TEST_CASE("The mean over the lean is one, fat gets nothing, and next to nothing lies under bone",
          "[geometry]") {
    const Section section =
        loin({.thickness = 0.08, .width = 0.12, .fat_cap = 0.008, .bones = 3}, "cut");
    Needles needles{.spacing = 0.02, .staggered = true, .deposit = 0.008, .margin = 0.005};
    for (const Mesh& mesh : {triangulate(section, 0.004), refine(triangulate(section, 0.004))}) {
        const Eigen::VectorXd w = lean_water(mesh);
        const Eigen::VectorXd along = deposits_along(mesh, w, section, needles);
        const Eigen::VectorXd across = deposits_across(mesh, w, needles);
        CHECK(std::abs(w.dot(along) / w.sum() - 1) < 1e-12);
        CHECK(std::abs(w.dot(across) / w.sum() - 1) < 1e-12);
        CHECK(along.minCoeff() == 0);
        CHECK((w.array() == 0).any()); // nodes of fat alone
        CHECK((w.array() > 0 || (along.array() == 0 && across.array() == 0)).all());
        needles.stops_at_bone = false;
        const Eigen::VectorXd through = deposits_along(mesh, w, section, needles);
        needles.stops_at_bone = true;
        int below = 0;
        for (const Region& rib : section.regions) {
            if (rib.kind != "bone")
                continue;
            const Box box = bounds(rib.ring);
            // Of the deposits beside the rib, what lies beyond its middle: the tails of a Gaussian.
            const double sd = deposit_sd(needles), edge = 0.4 * box.width(),
                         tail = std::erfc(edge / sd / std::numbers::sqrt2);
            for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
                const Point& p = mesh.nodes[i];
                if (std::abs(p.x() - box.middle().x()) < 0.1 * box.width() - 0.0005 &&
                    p.y() < box.low.y() - 0.0005) {
                    ++below;
                    CHECK(along[i] < std::max(0.05, 2 * tail));
                    CHECK(through[i] > 0.9);
                }
            }
        }
        CHECK(below > 0);
    }
}

TEST_CASE("Needles that may stand anywhere leave a band as strong at every depth", "[geometry]") {
    const Section section = block({.thickness = 0.05, .width = 0.08}, "cut");
    const Mesh mesh = triangulate(section, 0.001, true);
    const Needles needles{.spacing = 0.02, .deposit = 0.01, .margin = 0.03};
    const auto c = deposits_along(mesh, lean_water(mesh), section, needles);
    // A node's value is the mean over a tent of its cells, which adds h^2 / 6 to the variance.
    const double sd = std::sqrt(std::pow(deposit_sd(needles), 2) + 1e-6 / 6);
    const double edge = 0.02; // half a spacing outside the margin
    for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
        const Point& p = mesh.nodes[i];
        if (std::abs(p.x()) > 0.038 || std::abs(p.y()) > 0.023)
            continue; // cells at a wall lie to one side of their node
        const auto share = [&](double x) {
            return std::erf((x - p.x()) / sd / std::numbers::sqrt2) / 2;
        };
        // The mean is 1 over 80 mm, of which the band is 40.
        CHECK(c[i] == Approx(2 * (share(edge) - share(-edge))).margin(0.01));
    }
    const auto even =
        deposits_along(mesh, lean_water(mesh), section, {.spacing = 0.02, .deposit = 0.01});
    CHECK(even.maxCoeff() / even.minCoeff() == Approx(1).margin(1e-9));
}

TEST_CASE("Unevenness spreads the amounts between needles and repeats itself by its seed",
          "[geometry]") {
    const double s = 0.02;
    const auto section = block({.thickness = 15 * s, .width = 16 * s}, "cut");
    const Mesh mesh = triangulate(section, s / 5, true);
    const Eigen::VectorXd w = lean_water(mesh);
    Needles needles{.spacing = s, .deposit = 0.008, .unevenness = 1.4};
    const Eigen::VectorXd c = deposits_across(mesh, w, needles);
    CHECK((c.array() == deposits_across(mesh, w, needles).array()).all());
    Box box = bounds(section.outline);
    box = {{box.low.x() + s / 2, box.low.y() + s / 2},
           {box.high.x() - s / 2, box.high.y() - s / 2}};
    needles.margin = s / 2;
    double sum = 0, squares = 0;
    const auto all = pattern(box, needles);
    for (const Point& p : all) {
        const double amount = std::log(within(mesh, c, p, s / 2));
        sum += amount, squares += amount * amount;
    }
    const auto n = static_cast<double>(all.size());
    CHECK(n == 14 * 15);
    // Sample deviation of 210: standard error 1 / sqrt(2 n) = 5 %; three of them. The neighbours'
    // tails and the cells that a circle cuts move it by less.
    CHECK(std::sqrt(squares / n - sum * sum / n / n) == Approx(std::log(1.4)).epsilon(0.15));
    needles.seed = 2;
    CHECK((c - deposits_across(mesh, w, needles)).cwiseAbs().maxCoeff() > 0.1);
}

TEST_CASE("Impossible needles are refused in one line", "[geometry]") {
    const auto says = [](const Needles& n) {
        try {
            check(n, "--needle-spacing");
        } catch (const tidemark::base::InputError& e) {
            return std::string(e.what());
        }
        return std::string();
    };
    CHECK(says({.spacing = 0.02, .deposit = 0.005}).empty());
    CHECK(says({.deposit = 0.005}) == "--needle-spacing: needle spacing 0 mm (0 in): must be from "
                                      "2 mm (0.079 in) to 200 mm (7.9 in); check the unit");
    CHECK(says({.spacing = 0.02, .row_spacing = 0.3, .deposit = 0.005}) ==
          "--needle-spacing: row spacing 300 mm (11.8 in): must be from 2 mm (0.079 in) to 200 mm "
          "(7.9 in); check the unit");
    CHECK(says({.spacing = 0.02}) == "--needle-spacing: deposit 0 mm (0 in): must be from 1 mm "
                                     "(0.039 in) to 200 mm (7.9 in); check the unit");
    CHECK(says({.spacing = 0.02, .deposit = 0.005, .unevenness = 0.5}) ==
          "--needle-spacing: unevenness 0.5: must be from 1 to 5; 1 means that every needle gives "
          "the same");
    CHECK(says({.spacing = 0.02, .deposit = 0.005, .margin = NAN}) != "");
    const Section section = block({.thickness = 0.05, .width = 0.08}, "cut");
    const Mesh mesh = triangulate(section, 0.005, true);
    CHECK_THROWS_WITH(
        deposits_along(mesh, lean_water(mesh), section,
                       {.spacing = 0.02, .deposit = 0.005, .margin = 0.041}),
        "needles: reach no lean; give a smaller spacing or margin, or turn the piece");
}
