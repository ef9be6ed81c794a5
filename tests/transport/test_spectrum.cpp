// SPDX-License-Identifier: MIT
/// What Spectrum promises beside the physics: its accuracy, the follower, the dose, and a borrowed
/// space.
#include "base/error.hpp"
#include "transport/cases.hpp"
#include "transport/spectrum.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <catch2/catch.hpp>

#include <cmath>

using namespace tidemark;
using namespace tidemark::transport_tests;

namespace {

/// Difference of two states in the water-weighted norm, over the state's.
double relative(const transport::System& s, const Eigen::VectorXd& u, const Eigen::VectorXd& v) {
    const auto norm = [&](const Eigen::VectorXd& x) {
        return std::sqrt(s.capacity.dot(x.cwiseAbs2()));
    };
    return norm(u - v) / norm(v);
}

} // namespace

TEST_CASE("one factor serves problems of one pattern, and needs every diagonal", "[transport]") {
    const auto s = random_case(303u).assemble();
    transport::Linear p;
    p.links = s.conductance;
    p.water = s.capacity.array() + 1e-3;
    p.sink = p.water / 86400.;
    transport::Factor factor(p.links);
    const Eigen::VectorXd b = Eigen::VectorXd::LinSpaced(p.water.size(), 1, 2);
    for (const double times : {1.0, 3.0}) {
        p.links = times * s.conductance;
        const double sigma = 1e-5 * times;
        factor.of(p, sigma);
        Eigen::VectorXd x = b;
        factor.solve(x);
        CHECK((p.apply(x) + sigma * p.water.cwiseProduct(x) - b).norm() < 1e-9 * b.norm());
    }
    Eigen::SparseMatrix<double> bare(2, 2);
    bare.insert(0, 1) = bare.insert(1, 0) = -1;
    CHECK_THROWS_AS(transport::Factor(bare), base::RunError);
}

TEST_CASE("a space is as accurate as it was asked to be, from the first time on", "[transport]") {
    const unsigned seed = GENERATE(range(301u, 317u));
    const Case c = random_case(seed);
    const auto s = c.assemble();
    const transport::Spectrum truth(s, c.last / 500, c.last, 1e-12);
    for (double tolerance : {1e-4, 1e-6, 1e-8}) {
        const transport::Spectrum history(s, c.last / 200, c.last, tolerance);
        for (double share : {0.005, 0.02, 0.1, 1.0}) {
            CAPTURE(seed, c.what, tolerance, share);
            CHECK(relative(s, history.at(share * c.last).free, truth.at(share * c.last).free) <
                  tolerance);
        }
        CHECK(history.time_error() <= tolerance);
    }
}

TEST_CASE("a shut piece that is even is told without an error", "[transport]") {
    // One vector is all that its start leads to: with a loss of 1e-6 1/s, exp(-1e-6 t) of it.
    transport::Medium lean{780, 2.5e-10};
    lean.loss = 1e-6;
    lean.initial = 0.01;
    const auto s =
        transport::assemble(geometry::line({{"lean", 0.04}}, 40, 0, false, false), {lean}, {});
    const transport::Spectrum history(s, 1e4, 1e6);
    CHECK(history.time_error() < 1e-12);
    CHECK(history.at(1e6).free.head(s.bath()).maxCoeff() == Approx(0.01 * std::exp(-1.0)));
    CHECK(history.at(1e6).free.head(s.bath()).minCoeff() == Approx(0.01 * std::exp(-1.0)));
}

TEST_CASE("one time alone may be asked for", "[transport]") {
    const Case c = random_case(7);
    const auto s = c.assemble();
    const transport::Spectrum one(s, c.last, c.last), all(s, c.last / 100, c.last);
    CHECK(relative(s, one.at(c.last).free, all.at(c.last).free) < 1e-6); // ten times the default
}

TEST_CASE("following weights is the same as weighing the states", "[transport]") {
    const unsigned seed = GENERATE(range(321u, 331u));
    const Case c = random_case(seed);
    CAPTURE(seed, c.what);
    const auto s = c.assemble();
    const transport::Spectrum history(s, c.last / 100, c.last);
    std::srand(seed);
    const Eigen::VectorXd weights = Eigen::VectorXd::Random(s.capacity.size());
    const auto follower = history.follow(weights);
    for (double share : {0.01, 0.3, 1.0}) {
        const auto state = history.at(share * c.last);
        const auto [free, dose] = follower(share * c.last);
        const double size = weights.norm() * state.free.norm();
        CHECK(free == Approx(weights.dot(state.free)).margin(1e-12 * size)); // roundoff
        CHECK(dose == Approx(weights.dot(state.dose)).margin(1e-12 * size * c.last));
    }
    for (int region = 0; region < static_cast<int>(c.media.size()); ++region) {
        const auto state = history.at(c.last);
        CHECK(s.mean_weights(region).dot(state.free) ==
              Approx(s.mean(state.free, region)).epsilon(1e-12));
    }
}

TEST_CASE("the dose is the integral of what is free, and arrived is free plus loss times dose",
          "[transport]") {
    const unsigned seed = GENERATE(range(341u, 349u));
    const Case c = random_case(seed);
    CAPTURE(seed, c.what);
    const auto s = c.assemble();
    const transport::Spectrum history(s, c.last / 100, c.last);
    const auto follower = history.follow(s.mean_weights(0));
    const double a = 0.1 * c.last, b = 0.8 * c.last;
    // Gauss-Kronrod to 1e-10 on a function that is a sum of decaying exponentials.
    const double integral = boost::math::quadrature::gauss_kronrod<double, 31>::integrate(
        [&](double t) { return follower(t).first; }, a, b, 10, 1e-10);
    CHECK(follower(b).second - follower(a).second == Approx(integral).epsilon(1e-8));
    const auto state = history.at(b);
    const double loss = 1.3e-6;
    const Eigen::VectorXd sum = state.free + loss * state.dose;
    CHECK((history.arrived(b, loss) - sum).cwiseAbs().maxCoeff() <
          1e-12 * sum.cwiseAbs().maxCoeff()); // roundoff
}

TEST_CASE("a borrowed space gives the other solute's own answer", "[transport]") {
    // Nitrite after salt: other diffusivities, a loss, another bath; and what may not be borrowed:
    // a loss or a diffusivity that differs between tissues. Both spaces are asked for 1e-7, so ten
    // times that is allowed between them.
    const unsigned seed = GENERATE(range(361u, 381u));
    Case c = random_case(seed, false, true);
    for (auto& m : c.media)
        m.initial = 0;
    const auto salt = c.assemble();
    const transport::Spectrum donor(salt, c.last / 100, c.last);
    Case other = c;
    const int change = static_cast<int>(seed % 5);
    for (std::size_t r = 0; r < other.media.size(); ++r) {
        other.media[r].diffusivity *= change == 4 && r == 1 ? 0.5 : 1.3;
        other.media[r].loss = change == 0 ? 0 : change == 3 && r == 1 ? 3e-7 : 1.2e-6;
    }
    other.bath.concentration *= 0.01;
    other.bath.loss = change == 2 ? 5e-7 : 0;
    const auto nitrite = other.assemble();
    const transport::Spectrum borrowed(nitrite, donor), own(nitrite, c.last / 100, c.last, 1e-10);
    for (double share : {0.01, 0.05, 0.3, 1.0}) {
        CAPTURE(seed, c.what, change, share);
        const double t = share * c.last;
        CHECK(relative(nitrite, borrowed.at(t).free, own.at(t).free) < 1e-6);
        CHECK(relative(nitrite, borrowed.at(t).dose, own.at(t).dose) < 1e-6);
        CHECK(transport::mass_balance_error(nitrite, borrowed, t) < 1e-10);
    }
}
