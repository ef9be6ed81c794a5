// SPDX-License-Identifier: MIT
/// The stepper against Spectrum where both can answer, its order in time, and where it refuses.
#include "base/error.hpp"
#include "common.hpp"
#include "transport/cases.hpp"
#include "transport/spectrum.hpp"
#include "transport/stepper.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

using namespace tidemark;
using namespace tidemark::transport_tests;
using test::day;

namespace {

transport::System lean_and_fat(double bath_water) { // an invented sheet
    transport::Bath bath;
    bath.concentration = 1;
    bath.partition = 0.95;
    bath.water = bath_water;
    return transport::assemble(geometry::line({{"lean", 0.02}, {"fat", 0.005}}, 60, 0, false, true),
                               {{780, 2.4e-10, 1, 0, 1e-6}, {100, 1e-10, 1, 0, 1e-6}}, bath);
}

/// Largest difference on each of 40 days, which the steps do not meet: the interpolation counts.
template <class Truth> double error(const transport::History& history, Truth truth) {
    double worst = 0;
    for (int d = 1; d <= 40; ++d)
        worst = std::max(worst, (history.at(d * day).free - truth(d * day)).cwiseAbs().maxCoeff());
    return worst;
}

} // namespace

TEST_CASE("a clock that drives diffusion and loss alike only stretches time", "[transport]") {
    // Then the averages over a step are exact, and state(t) is the constant problem's at clock(t).
    // Allowed: ten times the stepper's tolerance.
    const unsigned seed = GENERATE(range(401u, 407u));
    const Case c = random_case(seed);
    CAPTURE(seed, c.what);
    const auto s = c.assemble();
    const double w = 8 / c.last;
    const auto clock = [w](double t) { return t + 0.5 / w * std::sin(w * t); };
    const transport::Stepper stepper(s, {clock, clock}, c.last);
    const transport::Spectrum spectrum(s, c.last / 300, 2 * c.last, 1e-10);
    for (double share : {0.01, 0.1, 0.37, 0.8, 1.0}) {
        CAPTURE(share);
        const double t = share * c.last;
        const auto got = stepper.at(t), want = spectrum.at(clock(t));
        CHECK((got.free - want.free).cwiseAbs().maxCoeff() < 1e-6 * c.highest());
        CHECK((got.dose - want.dose).cwiseAbs().maxCoeff() < 1e-6 * c.highest() * c.last);
    }
}

TEST_CASE("a cooler that freezes the cure for a while holds it still", "[transport]") {
    const auto s = lean_and_fat(20);
    const auto stopped = [](double t) { // no diffusion and no loss from day 10 to day 20
        return std::min(t, 10 * day) + std::max(0.0, t - 20 * day);
    };
    const transport::Stepper stepper(s, {stopped, stopped}, 40 * day);
    const transport::Spectrum spectrum(s, day, 40 * day, 1e-10);
    for (double d : {5.0, 12.0, 17.0, 25.0, 40.0}) {
        CAPTURE(d);
        CHECK(
            (stepper.at(d * day).free - spectrum.at(stopped(d * day)).free).cwiseAbs().maxCoeff() <
            1e-6); // ten times the tolerance
    }
}

TEST_CASE("the steps are of fourth order, and of second where the coefficients part",
          "[transport]") {
    // Order from the errors and the numbers of steps at two tolerances four and two decades apart.
    const auto s = lean_and_fat(20);
    const auto order = [&](const transport::Clock& clock, double loose, double tight, auto truth) {
        const transport::Stepper a(s, clock, 40 * day, loose), b(s, clock, 40 * day, tight);
        const double ea = error(a, truth), eb = error(b, truth);
        CAPTURE(a.steps(), b.steps(), ea, eb);
        CHECK(a.time_error() > ea); // the estimate covers the error
        CHECK(b.time_error() > eb);
        return std::log(ea / eb) / std::log(double(b.steps()) / a.steps());
    };
    const transport::Spectrum spectrum(s, day / 2, 40 * day, 1e-11);
    CHECK(order({}, 1e-4, 1e-8, [&](double t) { return spectrum.at(t).free; }) > 3.5); // of 4
    const double w = 2 * std::acos(-1.0) / (5 * day);
    const auto swing = [w](double size) {
        return [w, size](double t) { return t + size / w * (1 - std::cos(w * t)); };
    };
    const transport::Clock clock{swing(0.24), swing(0.36)};
    const transport::Stepper truth(s, clock, 40 * day, 1e-9);
    CHECK(order(clock, 1e-5, 1e-7, [&](double t) { return truth.at(t).free; }) > 1.8); // of 2
}

TEST_CASE("a stepper tells nothing of times it was not solved for", "[transport]") {
    const auto s = lean_and_fat(std::numeric_limits<double>::infinity());
    const double span = 10 * day;
    const transport::Stepper stepper(s, {}, span);
    for (const double t :
         {span * 1.001, -0.01 * day, 2 * span, std::numeric_limits<double>::quiet_NaN()}) {
        CAPTURE(t / day);
        CHECK_THROWS_AS(stepper.at(t), base::RunError);
        CHECK_THROWS_AS(stepper.influx(t), base::RunError);
    }
    CHECK_THROWS_WITH(stepper.at(12 * day),
                      "asked for the state after 12 days of a stage that was solved from 0 to 10");
    // The ends are told, and sums of times that are off by rounding.
    CHECK(stepper.at(0).free == s.initial);
    for (const double t : {span, 100 * day + span - 100 * day, span * (1 + 1e-15), -1e-9}) {
        CHECK_NOTHROW(stepper.at(t));
        CHECK_NOTHROW(stepper.influx(t));
    }
    for (const double none : {0.0, -day})
        CHECK_THROWS_AS(transport::Stepper(s, {}, none), base::RunError);
}
