// SPDX-License-Identifier: MIT
/// Sobol indices of functions whose indices are known.
#include "inference/sensitivity.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

namespace test_sensitivity {

using namespace tidemark::inference;

namespace {

constexpr double pi = std::numbers::pi;

template <class Model>
std::vector<Index> indices(Model model, const std::vector<int>& group, int n) {
    const Eigen::MatrixXd sample = pick_freeze(n, group);
    Eigen::VectorXd values(sample.rows());
    for (Eigen::Index i = 0; i < sample.rows(); ++i) {
        values[i] = model(sample.row(i).transpose());
    }
    return sobol_indices(values, n);
}

double ishigami(const Eigen::VectorXd& u) {
    const Eigen::VectorXd x = (2 * u.array() - 1) * pi;
    return std::sin(x[0]) + 7 * std::pow(std::sin(x[1]), 2) +
           0.1 * std::pow(x[2], 4) * std::sin(x[0]);
}

} // namespace

TEST_CASE("the Ishigami function has the indices that are printed for it", "[inference]") {
    // a = 7, b = 0.1. First 0.3139, 0.4424, 0; total 0.5576, 0.4424, 0.2437 (Saltelli and others,
    // Global Sensitivity Analysis: The Primer, 2008; figures from memory). They follow from
    // V1 = (1 + b pi^4/5)^2/2, V2 = a^2/8, V13 = b^2 pi^8 (1/18 - 1/50), worked out here.
    const double a = 7, b = 0.1;
    const double v1 = std::pow(1 + b * std::pow(pi, 4) / 5, 2) / 2, v2 = a * a / 8,
                 v13 = b * b * std::pow(pi, 8) * (1. / 18 - 1. / 50), v = v1 + v2 + v13;
    CHECK(v1 / v == Approx(0.3139).margin(5e-5));
    CHECK(v2 / v == Approx(0.4424).margin(5e-5));
    CHECK((v1 + v13) / v == Approx(0.5576).margin(5e-5));
    CHECK(v13 / v == Approx(0.2437).margin(5e-5));

    const auto found = indices(ishigami, {0, 1, 2}, 1 << 14);
    const double first[] = {v1 / v, v2 / v, 0}, total[] = {(v1 + v13) / v, v2 / v, v13 / v};
    for (std::size_t g = 0; g < 3; ++g) {
        CAPTURE(g, found[g].first, found[g].total);
        CHECK(found[g].first == Approx(first[g]).margin(0.005)); // of 16384 points
        CHECK(found[g].total == Approx(total[g]).margin(0.005));
    }
}

TEST_CASE("what two inputs do together counts as their group's own", "[inference]") {
    // Inputs 1 and 3 of Ishigami's function in one group: all of V1 + V13 is of first order.
    const auto found = indices(ishigami, {0, 1, 0}, 1 << 14);
    REQUIRE(found.size() == 2);
    CHECK(found[0].first == Approx(0.5576).margin(0.005));
    CHECK(found[0].total == Approx(0.5576).margin(0.005));
    CHECK(found[1].first == Approx(0.4424).margin(0.005));
}

TEST_CASE("a model that does not vary has no shares", "[inference]") {
    for (const Index& index : indices([](const auto&) { return 3.0; }, {0, 1}, 64)) {
        CHECK(index.first == 0);
        CHECK(index.total == 0);
    }
}

} // namespace test_sensitivity
