// SPDX-License-Identifier: MIT
/// A manufactured solution on an irregular section of two tissues, each with its own fibres,
/// diffusivity, water and loss. The exact field is chosen, the source that would make it so is
/// worked out by automatic differentiation, and the assembled cells are driven by that source
/// through a general ODE library, so only `assemble` is on trial. Second order in the largest error
/// is asked for (Roache, Verification and Validation in Computational Science, 1998, from memory,
/// for the method).
///
/// With E = 0 on the outline and G = 0 on the seam (lengths over 40 mm):
///     lean  u = 1 - q E,        fat  u = 1 - q E + q G H,      q = exp(-t / tau)
/// and H chosen so that the flux P A grad u is continuous where G = 0; u is 1 on the outline, as
/// the held bath is.
#include "verification/cvode.hpp"
#include "verification/fields.hpp"

#include <boost/math/differentiation/autodiff.hpp>
#include <boost/math/tools/roots.hpp>
#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

namespace test_manufactured {

using namespace tidemark;
using namespace tidemark::verification;
using geometry::Point;

namespace {

constexpr double scale = 0.04, tau = 6e5;
const transport::Medium lean{780, 2.4e-10, 1.5, 0.5, 2e-6}, fat{250, 1e-10, 1.3, -0.8, 5e-7};

/// omega D A, with ratio along the fibres.
struct Tensor {
    double xx, xy, yy;
    explicit Tensor(const transport::Medium& m) {
        const double p = m.water * m.diffusivity, c = std::cos(m.angle), s = std::sin(m.angle);
        xx = p * (m.ratio * c * c + s * s);
        yy = p * (m.ratio * s * s + c * c);
        xy = p * (m.ratio - 1) * c * s;
    }
};
const Tensor P1(lean), P2(fat);

// Outline: a lopsided oval. Seam: an off-centre ellipse.
constexpr double a = 1.3, b = 0.9, lop = 0.06, skew = 0.1;
constexpr double mid_x = 0.2, mid_y = -0.1, p = 0.55, r = 0.35;

template <class T> T E(const T& x, const T& y) {
    return 1 - x * x / (a * a) - y * y / (b * b) - lop * x * x * x - skew * x * y * y;
}
template <class T> T G(const T& x, const T& y) {
    return (x - mid_x) * (x - mid_x) / (p * p) + (y - mid_y) * (y - mid_y) / (r * r) - 1;
}

/// (P1 - P2) grad u1 . grad G over grad G . P2 grad G on the seam, per q; off it, the denominator
/// is changed by a multiple of G so as not to vanish in the middle, which leaves the seam alone.
template <class T> T H(const T& x, const T& y) {
    const T ex = -2 * x / (a * a) - 3 * lop * x * x - skew * y * y;
    const T ey = -2 * y / (b * b) - 2 * skew * x * y;
    const T gx = 2 * (x - mid_x) / (p * p), gy = 2 * (y - mid_y) / (r * r);
    const T above = (P2.xx - P1.xx) * ex * gx + (P2.xy - P1.xy) * (ex * gy + ey * gx) +
                    (P2.yy - P1.yy) * ey * gy;
    const T below = P2.xx * gx * gx + 2 * P2.xy * gx * gy + P2.yy * gy * gy;
    return above / (below - 8 * (P2.xx + P2.yy) * G(x, y));
}

/// What the field departs from 1 by, over q.
template <class T> T shape(const T& x, const T& y, bool in_fat) {
    return in_fat ? T(G(x, y) * H(x, y) - E(x, y)) : T(-E(x, y));
}

double exact(const Point& at, bool in_fat, double t) {
    return 1 + std::exp(-t / tau) * shape(at.x() / scale, at.y() / scale, in_fat);
}

/// Source [kg per m3 and s]: omega du/dt + omega lambda u - div(omega D A grad u).
double source(const Point& at, bool in_fat, double t) {
    const auto v =
        boost::math::differentiation::make_ftuple<double, 2, 2>(at.x() / scale, at.y() / scale);
    const auto s =
        shape(std::get<0>(v) + 0 * std::get<1>(v), std::get<1>(v) + 0 * std::get<0>(v), in_fat);
    const Tensor& P = in_fat ? P2 : P1;
    const transport::Medium& m = in_fat ? fat : lean;
    const double q = std::exp(-t / tau), value = s.derivative(0, 0);
    const double spread =
        P.xx * s.derivative(2, 0) + 2 * P.xy * s.derivative(1, 1) + P.yy * s.derivative(0, 2);
    return m.water * (-q / tau * value + m.loss * (1 + q * value)) - q * spread / (scale * scale);
}

geometry::Ring outline(int points) {
    geometry::Ring ring;
    for (int i = 0; i < points; ++i) {
        const double angle = 2 * std::numbers::pi * i / points, c = std::cos(angle),
                     s = std::sin(angle);
        std::uintmax_t steps = 100;
        const auto root =
            boost::math::tools::toms748_solve([&](double d) { return E(d * c, d * s); }, 0.3, 1.6,
                                              boost::math::tools::eps_tolerance<double>(50), steps);
        ring.emplace_back(scale * root.first * c, scale * root.first * s);
    }
    return ring;
}

} // namespace

TEST_CASE("the manufactured field meets its own conditions", "[verification]") {
    // Continuous flux over the seam and 1 on the outline, by central differences: checks the test.
    for (int i = 0; i < 12; ++i) {
        const double angle = 2 * std::numbers::pi * i / 12;
        const double x = mid_x + p * std::cos(angle), y = mid_y + r * std::sin(angle), h = 1e-5;
        const double nx = std::cos(angle) / p, ny = std::sin(angle) / r;
        const auto flux = [&](bool in_fat, const Tensor& P) {
            const double ux = (shape(x + h, y, in_fat) - shape(x - h, y, in_fat)) / (2 * h);
            const double uy = (shape(x, y + h, in_fat) - shape(x, y - h, in_fat)) / (2 * h);
            return (P.xx * nx + P.xy * ny) * ux + (P.xy * nx + P.yy * ny) * uy;
        };
        CHECK(shape(x, y, true) == Approx(shape(x, y, false)).margin(1e-12));
        CHECK(flux(true, P2) == Approx(flux(false, P1)).epsilon(1e-7).margin(1e-7 * P1.xx));
    }
}

TEST_CASE("cells of two fibrous tissues on an irregular section are of second order",
          "[verification]") {
    const double end = 4e5;
    auto mesh = geometry::triangulate(
        section(
            outline(1440),
            {{"seam", "fat", ellipse(scale * mid_x, scale * mid_y, scale * p, scale * r, 1440)}}),
        0.0041);
    const int inner = region_of(mesh.kinds, "fat"), outer = region_of(mesh.kinds, "lean");
    std::vector<double> errors;
    for (int level = 0; level < 3; ++level, mesh = geometry::refine(mesh)) {
        std::vector<transport::Medium> media(2);
        media[inner] = fat;
        media[outer] = lean;
        transport::Bath bath;
        bath.concentration = 1;
        auto system = transport::assemble(mesh, media, bath);
        const auto each = [&](double t, const auto& f) { // f of every node, weighted by its tissues
            Eigen::VectorXd sum = Eigen::VectorXd::Zero(system.capacity.size());
            for (std::size_t i = 0; i < mesh.nodes.size(); ++i)
                sum[system.unknown[i]] +=
                    system.region_water[inner][i] / fat.water * f(mesh.nodes[i], true, t) +
                    system.region_water[outer][i] / lean.water * f(mesh.nodes[i], false, t);
            return sum;
        };
        for (std::size_t i = 0; i < mesh.nodes.size(); ++i)
            if (system.unknown[i] != system.bath())
                system.initial[system.unknown[i]] =
                    exact(mesh.nodes[i], system.region_water[outer][i] == 0, 0);
        // The source is a constant field plus q(t) times another, so two samples give it at any
        // time.
        const Eigen::VectorXd at0 = each(0, source), later = each(1e9, source);
        const auto u = nodal(system, integrate(system, {end}, 1e-8,
                                               [&](double t) {
                                                   return Eigen::VectorXd(
                                                       later + std::exp(-t / tau) * (at0 - later));
                                               })[0]
                                         .head(system.capacity.size()));
        double error = 0;
        for (std::size_t i = 0; i < mesh.nodes.size(); ++i)
            error = std::max(
                error,
                std::abs(u[i] - exact(mesh.nodes[i], system.region_water[outer][i] == 0, end)));
        errors.push_back(error);
    }
    CAPTURE(errors);
    CHECK(std::log2(errors[0] / errors[1]) > 1.8);
    CHECK(std::log2(errors[1] / errors[2]) > 1.8);
}

} // namespace test_manufactured
