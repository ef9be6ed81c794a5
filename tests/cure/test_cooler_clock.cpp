// SPDX-License-Identifier: MIT
/// The clock of a log against closed forms and an adaptive quadrature of Boost.Math.
#include "common.hpp"
#include "cure/cooler_log.hpp"

#include "materials/diffusion.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

namespace test_cooler_clock {

using namespace tidemark;
using cure::CoolerLog;
using test::day;
using test::hour;

namespace {

constexpr double reference = 277.15;            // [K]
constexpr double diffusion = 25e3, loss = 60e3; // [J/mol], of the size of the records'

/// 4 C +- 2 K, once in eight hours [K].
double sine(double t) {
    return reference + 2 * std::sin(2 * std::numbers::pi * t / (8 * hour));
}

/// Two days of the sine, `count` stretches of equal length.
CoolerLog sampled(int count) {
    CoolerLog log;
    for (int i = 0; i <= count; ++i) {
        log.time.push_back(2 * day * i / count);
        log.temperature.push_back(sine(log.time.back()));
    }
    return log;
}

template <class Temperature>
double integral(Temperature temperature, double energy, double from, double to) {
    return boost::math::quadrature::gauss_kronrod<double, 31>::integrate(
        [&](double t) { return materials::arrhenius(1, energy, reference, temperature(t)); }, from,
        to, 15, 1e-13);
}

} // namespace

TEST_CASE("a cooler held at the reference leaves the clock as it is", "[cure]") {
    const CoolerLog log{{0, 5 * hour, day}, {reference, reference, reference}, {}, {}};
    const auto clock = cure::clock(log, reference, diffusion, loss);
    for (const double t : {-hour, 0.0, 1.0, 5 * hour, 5.5 * hour, day, 30 * day}) {
        CHECK(clock.diffusion(t) == Approx(t).epsilon(1e-14).margin(1e-9));
        CHECK(clock.loss(t) == Approx(t).epsilon(1e-14).margin(1e-9));
    }
}

TEST_CASE("a cooler held elsewhere runs the clocks by the Arrhenius factor", "[cure]") {
    const CoolerLog log{{0, 5 * hour, day}, {281.15, 281.15, 281.15}, {}, {}};
    const auto clock = cure::clock(log, reference, diffusion, loss);
    // exp(E/R (1/277.15 - 1/281.15)), R = 8.314462618 J/(mol K): 1.166902 and 1.448379
    CHECK(clock.diffusion(10 * day) == Approx(10 * day * 1.166902).epsilon(5e-7));
    CHECK(clock.loss(10 * day) == Approx(10 * day * 1.448379).epsilon(5e-7));
}

TEST_CASE("the clock is the integral over the straight lines, to the quadrature's error",
          "[cure]") {
    const CoolerLog log{
        {0, hour, 9 * hour, 9.5 * hour, 2 * day}, {275, 277, 271, 276, 286}, {}, {}};
    const auto clock = cure::clock(log, reference, diffusion, loss);
    const auto exact = [&](double energy, double t) {
        double sum = 0;
        for (std::size_t i = 1; i < log.time.size() && log.time[i - 1] < t; ++i) {
            sum += integral([&](double s) { return log.at(s); }, energy, log.time[i - 1],
                            std::min(log.time[i], t));
        }
        return sum;
    };
    for (const double t : {0.5 * hour, hour, 4 * hour, 9.25 * hour, 20 * hour, 2 * day}) {
        CAPTURE(t);
        CHECK(clock.diffusion(t) == Approx(exact(diffusion, t)).epsilon(1e-8));
        CHECK(clock.loss(t) == Approx(exact(loss, t)).epsilon(1e-6)); // 10 K at 60 kJ/mol
    }
    const double after = materials::arrhenius(1, loss, reference, 286);
    CHECK(clock.loss(3 * day) - clock.loss(2 * day) == Approx(day * after).epsilon(1e-13));
    const double before = materials::arrhenius(1, loss, reference, 275);
    CHECK(clock.loss(-hour) == Approx(-hour * before).epsilon(1e-13));
}

TEST_CASE("readings of a sine give its clock with an error of second order", "[cure]") {
    const double t = 1.9 * day;
    for (const double energy : {diffusion, loss}) {
        double last = 0;
        const double exact = integral(sine, energy, 0, t);
        for (const int count : {96, 192, 384}) { // half-hourly and finer
            const auto clock = cure::clock(sampled(count), reference, energy, energy);
            const double error = std::abs(clock.diffusion(t) - exact) / exact;
            // A chord is off by h2/8 max |T''| at most; the factor's relative slope is E/(R T2).
            const double angle = 2 * std::numbers::pi * 48 / 8 / count;
            CHECK(error < 2 * angle * angle / 8 * energy / (8.314 * 275 * 275));
            if (last > 0) {
                CHECK(std::log2(last / error) == Approx(2).margin(0.1));
            }
            last = error;
        }
    }
}

TEST_CASE("a clock never stands still, and outlives its log", "[cure]") {
    transport::Clock clock;
    {
        const CoolerLog log = sampled(192);
        clock = cure::clock(log, reference, diffusion, loss);
    }
    double diffused = -1, lost = -1;
    for (double t = 0; t < 3 * day; t += 77) {
        REQUIRE(clock.diffusion(t) > diffused);
        REQUIRE(clock.loss(t) > lost);
        diffused = clock.diffusion(t);
        lost = clock.loss(t);
    }
}

} // namespace test_cooler_clock
