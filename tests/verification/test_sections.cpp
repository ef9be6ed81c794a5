// SPDX-License-Identifier: MIT
/// Cross-sections with an exact solution: brick, disc, tube, two tissues, fibres, film, loss,
/// finite bath and sealed halves. Means and maps come from a mesh of 24 cells across the thickness
/// and its refinement, extrapolated as the tool does. Tolerances, of the bath's strength: 2e-4 for
/// a map in one tissue with outer walls only, 1e-3 where there is an inner wall or where loss keeps
/// the map steep at a curved wall (second order up to a logarithm there, and cells that change as
/// the curve is followed, so extrapolation leaves more); means 5e-5. A wrong coefficient of one per
/// cent would move maps by 3e-3 and means by 5e-3.
#include "common.hpp"
#include "verification/closed_forms.hpp"
#include "verification/fields.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

namespace test_sections {

using namespace tidemark;
using namespace tidemark::verification;
using geometry::Point;
using test::day;

namespace {

constexpr double D = 2.5e-10, omega = 780, pi = std::numbers::pi;
constexpr double outer_walls = 2e-4, steep_walls = 1e-3, means = 5e-5;
constexpr int cells = 24, terms = 20;

struct Answer {
    geometry::Mesh mesh;      ///< coarse
    Eigen::VectorXd map;      ///< at its nodes, extrapolated
    std::vector<double> mean; ///< of each kind
};

/// Solves on the mesh and its refinement and extrapolates, at one time.
Answer solve(const geometry::Section& s, double thickness,
             const std::vector<transport::Medium>& media, const transport::Bath& bath, double t) {
    Answer a;
    a.mesh = geometry::triangulate(s, thickness / cells);
    REQUIRE(a.mesh.kinds.size() == media.size());
    const auto on = [&](const geometry::Mesh& mesh, std::vector<double>& mean) {
        const auto system = transport::assemble(mesh, media, bath);
        const transport::Spectrum history(system, t / 20, t);
        const auto u = history.at(t).free;
        for (int r = 0; r < static_cast<int>(media.size()); ++r)
            mean.push_back(system.mean(u, r));
        return nodal(system, u);
    };
    std::vector<double> fine_mean;
    const Eigen::VectorXd coarse = on(a.mesh, a.mean);
    const Eigen::VectorXd fine =
        on(geometry::refine(a.mesh), fine_mean).head(coarse.size()); // coarse nodes come first
    a.map = fine + (fine - coarse) / 3;
    for (std::size_t r = 0; r < media.size(); ++r)
        a.mean[r] = fine_mean[r] + (fine_mean[r] - a.mean[r]) / 3;
    return a;
}

transport::Bath held() {
    transport::Bath bath;
    bath.concentration = 1;
    return bath;
}

Point turned(const Point& p, double angle) {
    return {std::cos(angle) * p.x() - std::sin(angle) * p.y(),
            std::sin(angle) * p.x() + std::cos(angle) * p.y()};
}

double radius(const Point& p) {
    return std::hypot(p.x(), p.y());
}

} // namespace

TEST_CASE("refining keeps the coarse nodes first, which the comparisons here rely on",
          "[verification]") {
    const auto mesh = geometry::triangulate(section(ellipse(0, 0, 0.04, 0.03, 720)), 0.005);
    const auto fine = geometry::refine(mesh);
    for (std::size_t i = 0; i < mesh.nodes.size(); ++i)
        REQUIRE(geometry::distance(mesh.nodes[i], fine.nodes[i]) == 0);
}

TEST_CASE("a brick's section is the product of two sheets, whatever its fibres and however it lies",
          "[verification]") {
    // The product rule (Newman; Carslaw & Jaeger ch. V) in coordinates scaled by the root of each
    // direction's diffusivity. Ratio and angles are invented; 40 x 80 mm, 10 days.
    const double w = 0.080, h = 0.040, t = 10 * day;
    struct Brick {
        double ratio, turn; ///< fibres along the width; the whole brick turned by `turn`
    };
    for (const Brick& b : {Brick{1, 0}, Brick{1.6, 0}, Brick{1, pi / 6}, Brick{1.6, pi / 6}}) {
        CAPTURE(b.ratio, b.turn);
        const double Tx = b.ratio * D * t / (w * w / 4), Ty = D * t / (h * h / 4);
        const auto a =
            solve(section(rectangle(w, h, b.turn)), h, {{omega, D, b.ratio, b.turn}}, held(), t);
        const double error = worst(a.mesh, a.map, [&](const Point& p) {
            const Point q = turned(p, -b.turn);
            return 1 - (1 - profile(0, 2 * q.x() / w, terms).at(Tx)) *
                           (1 - profile(0, 2 * q.y() / h, terms).at(Ty));
        });
        CHECK(error < outer_walls);
        CHECK(a.mean[0] ==
              Approx(1 - (1 - uptake(0).at(Tx)) * (1 - uptake(0).at(Ty))).margin(means));
    }
    // Held against numbers computed apart: a brick of 4 x 8 x 15 cm with fibres along the 15 cm has
    // T = 0.54, 0.135 and 0.04992 after 10 days, centre 0.70147 and mean 0.90636 (five decimals).
    // The section gives the two directions across, the third multiplies on.
    const double third_centre = 1 - profile(0, 0).at(0.04992), third = 1 - uptake(0).at(0.04992);
    const auto a = solve(section(rectangle(w, h)), h, {{omega, D}}, held(), t);
    const Eigen::VectorXd rest = (1 - a.map.array()).matrix();
    CHECK(1 - (1 - profile(0, 0).at(0.54)) * (1 - profile(0, 0).at(0.135)) * third_centre ==
          Approx(0.70147).margin(0.6e-5));
    CHECK(1 - (1 - a.mean[0]) * third == Approx(0.90636).margin(means + 0.6e-5));
    CHECK(1 - rest.maxCoeff() * third_centre ==
          Approx(0.70147).margin(1e-3)); // no node at the centre
}

TEST_CASE("fibres along an axis are the same as a section stretched across them",
          "[verification]") {
    // Scaling x by 1/sqrt(ratio) turns the tensor into a scalar; on the same triangles the two
    // systems agree to roundoff up to that factor: the assembly of the tensor, without any mesh
    // error.
    const double ratio = 1.7, root = std::sqrt(ratio);
    auto mesh = geometry::triangulate(section(ellipse(0.01, 0.02, 0.05, 0.03, 720)), 0.004);
    const auto tensor = transport::assemble(mesh, {{omega, D, ratio, 0}}, held());
    for (auto& p : mesh.nodes)
        p.x(p.x() / root);
    const auto scalar = transport::assemble(mesh, {{omega, D}}, held());
    const double size = scalar.conductance.toDense().cwiseAbs().maxCoeff();
    CHECK((tensor.conductance / root - scalar.conductance).toDense().cwiseAbs().maxCoeff() <
          1e-13 * size);
    CHECK(tensor.capacity.sum() / root == Approx(scalar.capacity.sum()).epsilon(1e-13));
}

TEST_CASE("a film on a brick slows each direction by its own Biot number", "[verification]") {
    const double w = 0.080, h = 0.040, t = 20 * day, ratio = 1.4, L = 4; // L across the thickness
    transport::Bath bath = held();
    bath.water_density = 980;
    bath.film = L * omega * D / (h / 2 * bath.water_density);
    const double Lx = L * (w / h) / ratio;
    const double Tx = ratio * D * t / (w * w / 4), Ty = D * t / (h * h / 4);
    const auto a = solve(section(rectangle(w, h)), h, {{omega, D, ratio, 0}}, bath, t);
    const double error = worst(a.mesh, a.map, [&](const Point& p) {
        return 1 - (1 - film_profile(0, Lx, 2 * p.x() / w).at(Tx)) *
                       (1 - film_profile(0, L, 2 * p.y() / h).at(Ty));
    });
    CHECK(error < outer_walls);
    CHECK(
        a.mean[0] ==
        Approx(1 - (1 - film_uptake(0, Lx).at(Tx)) * (1 - film_uptake(0, L).at(Ty))).margin(means));
}

TEST_CASE("a disc follows the Bessel series: held, with loss, with a film, in a finite bath",
          "[verification]") {
    const double R = 0.04, t = 12 * day, T = D * t / (R * R);
    const auto disc = section(ellipse(0, 0, R, R, 720));
    SECTION("held") {
        const auto a = solve(disc, 2 * R, {{omega, D}}, held(), t);
        CHECK(worst(a.mesh, a.map, [&](const Point& p) {
                  return profile(1, radius(p) / R, terms).at(T);
              }) < outer_walls);
        CHECK(a.mean[0] == Approx(uptake(1).at(T)).margin(means));
    }
    SECTION("loss") {
        const double phi = 1.8;
        transport::Medium lean{omega, D};
        lean.loss = phi * phi * D / (R * R);
        const auto a = solve(disc, 2 * R, {lean}, held(), t);
        CHECK(worst(a.mesh, a.map, [&](const Point& p) {
                  // steady I0(phi r / R) / I0(phi) is Danckwerts' limit at any radius
                  const double steady =
                      steady_centre(1, phi) / steady_centre(1, phi * radius(p) / R);
                  return profile(1, radius(p) / R, terms).with_loss(phi * phi, steady).at(T);
              }) < steep_walls);
        CHECK(a.mean[0] ==
              Approx(uptake(1).with_loss(phi * phi, steady_mean(1, phi)).at(T)).margin(means));
    }
    SECTION("film") {
        transport::Bath bath = held();
        bath.partition = 0.95;
        bath.concentration = 1 / 0.95;
        bath.film = 3 * omega * D * bath.partition / (R * bath.water_density);
        const auto a = solve(disc, 2 * R, {{omega, D}}, bath, t);
        CHECK(a.mean[0] == Approx(film_uptake(1, 3).at(T)).margin(means));
    }
    SECTION("finite bath") {
        const double alpha = 0.8;
        transport::Bath bath = held();
        bath.partition = 0.95;
        bath.water = alpha * bath.partition * omega * pi * R * R;
        const auto a = solve(disc, 2 * R, {{omega, D}}, bath, t);
        CHECK(a.mean[0] / (bath.partition * alpha / (1 + alpha)) ==
              Approx(limited_uptake(1, alpha).at(T)).margin(means));
    }
}

TEST_CASE("a bone in the middle is a sealed wall: the tube's cross-product series",
          "[verification]") {
    const double a = 0.012, b = 0.04, t = 10 * day;
    const Modes exact = tube(a, b, D, terms);
    const auto got =
        solve(section(ellipse(0, 0, b, b, 720), {{"bone", "bone", ellipse(0, 0, a, a, 720)}}),
              2 * b, {{omega, D}}, held(), t);
    CHECK(worst(got.mesh, got.map, [&](const Point& p) { return exact.at(radius(p)).at(t); }) <
          steep_walls);
    CHECK(got.mean[0] == Approx(exact.mean(a, b).at(t)).margin(means));
}

TEST_CASE("a round of two tissues follows its matched Bessel modes, either one inside",
          "[verification]") {
    // The seam between a region named fat and the rest. The names carry no meaning here: the region
    // is given now the lean's numbers, now the fat's.
    const double join = 0.025, R = 0.04, t = 10 * day;
    const auto s =
        section(ellipse(0, 0, R, R, 720), {{"core", "fat", ellipse(0, 0, join, join, 720)}});
    const Tissue lean{0, D, omega}, fat{0, 1e-10, 100};
    for (bool fat_inside : {true, false}) {
        CAPTURE(fat_inside);
        Tissue in = fat_inside ? fat : lean, out = fat_inside ? lean : fat;
        in.thickness = join;
        out.thickness = R - join;
        const Modes exact = two_rounds(in, out, terms);
        std::vector<transport::Medium> media(2);
        const auto kinds = geometry::triangulate(s, 2 * R / 10).kinds;
        media[region_of(kinds, "fat")] = {in.water, in.diffusivity};
        media[region_of(kinds, "lean")] = {out.water, out.diffusivity};
        const auto got = solve(s, 2 * R, media, held(), t);
        CHECK(worst(got.mesh, got.map, [&](const Point& p) { return exact.at(radius(p)).at(t); }) <
              steep_walls);
        CHECK(got.mean[region_of(kinds, "fat")] ==
              Approx(exact.mean(0, join).at(t)).margin(4 * means));
        CHECK(got.mean[region_of(kinds, "lean")] ==
              Approx(exact.mean(join, R).at(t)).margin(4 * means));
    }
}

TEST_CASE("half a piece on a sealed face is the whole piece", "[verification]") {
    SECTION("brick") {
        const double w = 0.080, h = 0.060,
                     t = 15 * day; // h: the half, so T belongs to the full height
        const double Tx = D * t / (w * w / 4), Ty = D * t / (h * h);
        geometry::Seal bottom{
            "bottom", {{-0.1, -0.1}, {0.1, -0.1}, {0.1, -h / 2 + 1e-6}, {-0.1, -h / 2 + 1e-6}}};
        const auto a = solve(section(rectangle(w, h), {}, {bottom}), h, {{omega, D}}, held(), t);
        CHECK(worst(a.mesh, a.map, [&](const Point& p) {
                  return 1 - (1 - profile(0, 2 * p.x() / w, terms).at(Tx)) *
                                 (1 - profile(0, (p.y() + h / 2) / h, terms).at(Ty));
              }) < outer_walls);
        CHECK(a.mean[0] ==
              Approx(1 - (1 - uptake(0).at(Tx)) * (1 - uptake(0).at(Ty))).margin(means));
    }
    SECTION("disc") {
        const double R = 0.05, t = 15 * day, T = D * t / (R * R);
        geometry::Ring half;
        for (const auto& p : ellipse(0, 0, R, R, 720))
            if (p.y() > -1e-12)
                half.push_back(p);
        geometry::Seal flat{"bottom", {{-0.1, -0.1}, {0.1, -0.1}, {0.1, 1e-6}, {-0.1, 1e-6}}};
        const auto a = solve(section(half, {}, {flat}), R, {{omega, D}}, held(), t);
        CHECK(worst(a.mesh, a.map, [&](const Point& p) {
                  return profile(1, radius(p) / R, terms).at(T);
              }) < outer_walls);
        CHECK(a.mean[0] == Approx(uptake(1).at(T)).margin(means));
    }
}

} // namespace test_sections
