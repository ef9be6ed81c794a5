// SPDX-License-Identifier: MIT
/// First-order loss: Danckwerts' transient, the steady state, and the tally of what has reacted.
/// Sheet numbers for phi are also held against a table computed separately (six decimals).
/// Tolerance: what extrapolation of 100 and 200 intervals leaves, 2e-6 of the bath's strength, see
/// test_lines.cpp.
#include "verification/closed_forms.hpp"
#include "verification/lines.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace tidemark;
using namespace tidemark::verification;

namespace {
constexpr double grid = 2e-6;
}

TEST_CASE("the steady state with loss is 1/cosh phi at the centre and tanh(phi)/phi in the mean",
          "[verification]") {
    // Danckwerts (1951), Thiele's numbers; recomputed, six decimals.
    struct Row {
        double phi, centre, mean;
    };
    for (const Row& row :
         {Row{0.5, 0.886819, 0.924234}, Row{1, 0.648054, 0.761594}, Row{1.5, 0.425096, 0.603432},
          Row{2, 0.265802, 0.482014}, Row{3, 0.099328, 0.331685}, Row{5, 0.013475, 0.199982}}) {
        CHECK(steady_centre(0, row.phi) == Approx(row.centre).margin(0.6e-6));
        CHECK(steady_mean(0, row.phi) == Approx(row.mean).margin(0.6e-6));
        transport::Bath bath;
        bath.concentration = 1;
        for (int power = 0; power < 3; ++power) {
            CAPTURE(row.phi, power);
            transport::Medium lean{omega, D};
            lean.loss = row.phi * row.phi / unit_time;
            const auto got = extrapolated(
                [&](int n) {
                    return mean_and_centre(lean, bath, power, n, {1, 50});
                },
                100);
            CHECK(got[2] == Approx(steady_mean(power, row.phi)).margin(grid));
            CHECK(got[3] == Approx(steady_centre(power, row.phi)).margin(grid));
        }
    }
}

TEST_CASE(
    "the transient with loss is Danckwerts' and the tally of free and reacted is its integral",
    "[verification]") {
    const std::vector<double> times = {0.01, 0.1, 0.5, 2};
    // Danckwerts at phi = 2, sheet; recomputed, six decimals: mean, centre at T = 0.1, 0.5, 2.
    const double printed[3][2] = {{0.314452, 0.037216}, {0.469826, 0.246659}, {0.482013, 0.265801}};
    transport::Bath bath;
    bath.concentration = 1;
    for (double phi : {0.3, 2.0, 5.0})
        for (int power = 0; power < 3; ++power) {
            const double phi2 = phi * phi;
            transport::Medium lean{omega, D};
            lean.loss = phi2 / unit_time;
            const Series mean = uptake(power).with_loss(phi2, steady_mean(power, phi));
            const Series centre = profile(power, 0).with_loss(phi2, steady_centre(power, phi));
            // Columns: mean, centre, mean reacted, supplied (start + influx), all per mean water.
            const auto got = extrapolated(
                [&](int n) {
                    const auto line = geometry::line({{"lean", half}}, n, power, false, true);
                    const auto system = transport::assemble(line, {lean}, bath);
                    const transport::Spectrum history(system, times.front() * unit_time,
                                                      times.back() * unit_time);
                    const double water = system.region_water[0].sum();
                    const double start = system.mean(system.initial, 0);
                    Eigen::ArrayXd out(4 * times.size());
                    for (std::size_t i = 0; i < times.size(); ++i) {
                        const double t = times[i] * unit_time;
                        const auto state = history.at(t);
                        const double arrived = system.mean(history.arrived(t, lean.loss), 0);
                        out[4 * i] = system.mean(state.free, 0);
                        out[4 * i + 1] = state.free[system.unknown[0]];
                        out[4 * i + 2] = system.mean(state.dose, 0) * lean.loss;
                        out[4 * i + 3] = start + history.influx(t) / water;
                        CAPTURE(phi, power, n, times[i]);
                        // Free and reacted are what was supplied, on every grid, to roundoff.
                        CHECK(arrived == Approx(out[4 * i] + out[4 * i + 2]).epsilon(1e-12));
                        CHECK(arrived == Approx(out[4 * i + 3]).epsilon(1e-10));
                    }
                    return out;
                },
                100);
            for (std::size_t i = 0; i < times.size(); ++i) {
                const double T = times[i];
                CAPTURE(phi, power, T);
                if (phi == 2 && power == 0 && i > 0) {
                    CHECK(mean.at(T) == Approx(printed[i - 1][0]).margin(0.6e-6));
                    CHECK(centre.at(T) == Approx(printed[i - 1][1]).margin(0.6e-6));
                }
                const double reacted = phi2 * mean.integral(T);
                CHECK(got[4 * i] == Approx(mean.at(T)).margin(grid));
                CHECK(got[4 * i + 1] == Approx(centre.at(T)).margin(grid));
                // What has reacted grows without bound, so its tolerance is relative where it is
                // > 1.
                CHECK(got[4 * i + 2] == Approx(reacted).margin(grid).epsilon(grid));
                CHECK(got[4 * i + 3] == Approx(mean.at(T) + reacted).margin(grid).epsilon(grid));
            }
        }
}

TEST_CASE("loss in the bath alone decays the bath by its own law", "[verification]") {
    // A bath so large that the meat does not lower it: w = exp(-k t), and the sheet's mean is the
    // convolution of the step response with it: 1 - sum a (r e^{-rT} - m e^{-mT}) / (r - m) with m
    // = k (Duhamel; Carslaw & Jaeger ch. I). The bath holds 1e7 times the meat's water, so 1e-6 is
    // left open.
    const double m = 1.7; // k in units of 1/T, not a root squared
    transport::Bath bath;
    bath.concentration = 1;
    bath.water = 1e7 * omega * half;
    bath.loss = m / unit_time;
    const std::vector<double> times = {0.1, 0.5, 1.5};
    const auto got = extrapolated(
        [&](int n) {
            return mean_and_centre({omega, D}, bath, 0, n, times);
        },
        100);
    const auto exact = [&](const Series& step, double T) {
        double u = std::exp(-m * T);
        for (const auto& [r, a] : step.terms)
            u -= a * (r * std::exp(-r * T) - m * std::exp(-m * T)) / (r - m);
        return u;
    };
    for (std::size_t i = 0; i < times.size(); ++i) {
        CAPTURE(times[i]);
        CHECK(got[2 * i] == Approx(exact(uptake(0), times[i])).margin(grid + 1e-6));
        CHECK(got[2 * i + 1] == Approx(exact(profile(0, 0), times[i])).margin(grid + 1e-6));
    }
}
