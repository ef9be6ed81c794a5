// SPDX-License-Identifier: MIT
/// First-order loss: Danckwerts' transient, the steady state, and the tally of what has reacted.
/// Sheet numbers for phi are also held against a table computed separately (six decimals).
/// Tolerance: what extrapolation of 100 and 200 intervals leaves, 2e-6 of the bath's strength, see
/// test_lines.cpp.
#include "transport/stepper.hpp"
#include "transport/whole.hpp"
#include "verification/closed_forms.hpp"
#include "verification/cvode.hpp"
#include "verification/lines.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <memory>

namespace test_loss {

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
    // left open; a held one leaves nothing open.
    const double m = 1.7; // k in units of 1/T, not a root squared
    transport::Bath bath;
    bath.concentration = 1;
    bath.water = 1e7 * omega * half;
    bath.loss = m / unit_time;
    const std::vector<double> times = {0.1, 0.5, 1.5};
    const auto exact = [&](const Series& step, double T) {
        double u = std::exp(-m * T);
        for (const auto& [r, a] : step.terms)
            u -= a * (r * std::exp(-r * T) - m * std::exp(-m * T)) / (r - m);
        return u;
    };
    for (const bool held : {false, true}) {
        if (held)
            bath.water = std::numeric_limits<double>::infinity();
        const auto got = extrapolated(
            [&](int n) {
                return mean_and_centre({omega, D}, bath, 0, n, times);
            },
            100);
        for (std::size_t i = 0; i < times.size(); ++i) {
            CAPTURE(held, times[i]);
            CHECK(got[2 * i] == Approx(exact(uptake(0), times[i])).margin(grid + 1e-6));
            CHECK(got[2 * i + 1] == Approx(exact(profile(0, 0), times[i])).margin(grid + 1e-6));
        }
    }
}

TEST_CASE("a bath with a loss of its own beside that of the cells keeps account of every gram",
          "[verification]") {
    // Against the same cells by SUNDIALS CVODE (its tolerance 1e-9): a sheet with fat and a loss in
    // all tissue, in a bath shared or held that loses five times as fast, by the spectrum and, with
    // the clock of a cooler that warms, by the stepper. Invented.
    const auto line = geometry::line({{"lean", half}, {"fat", half / 8}}, 60, 0, false, true);
    const transport::Medium lean{omega, D, 1, 0, 1 / unit_time},
        fat{omega / 4, D / 2, 1, 0, 1 / unit_time};
    for (const bool held : {false, true})
        for (const bool warming : {false, true}) {
            CAPTURE(held, warming);
            transport::Bath bath;
            bath.concentration = 1;
            bath.partition = 0.95;
            bath.loss = 5 / unit_time;
            if (!held)
                bath.water = 1.5 * omega * half;
            const auto system = transport::assemble(line, {lean, fat}, bath);
            const double last = 1.2 * unit_time;
            transport::Clock clock;
            const auto warmth = [&](double t) { return 1 + t / last; }; // of the loss; D by half
            if (warming) {
                clock.loss = [=](double t) { return t + t * t / (2 * last); };
                clock.diffusion = [=](double t) { return t + t * t / (4 * last); };
            }
            std::unique_ptr<transport::History> history;
            if (warming)
                history = std::make_unique<transport::Stepper>(system, clock, last, 1e-8);
            else
                history = std::make_unique<transport::Spectrum>(system, last / 100, last, 1e-9);
            const std::vector<double> times = {0.1 * last, 0.45 * last, last};
            const auto reference = integrate(system, times, 1e-9, {}, [&](double t) {
                return warming ? Factors{(1 + warmth(t)) / 2, warmth(t)} : Factors{};
            });
            const auto n = system.capacity.size();
            for (std::size_t i = 0; i < times.size(); ++i) {
                CAPTURE(times[i] / last);
                const transport::State state = history->at(times[i]);
                CHECK((state.free - reference[i].head(n)).cwiseAbs().maxCoeff() < 1e-6);
                CHECK((state.dose - reference[i].tail(n)).cwiseAbs().maxCoeff() < 1e-6 * last);
                CHECK(transport::mass_balance_error(system, *history, times[i]) < 1e-9);
            }
        }
}

TEST_CASE("a whole piece in a held bath that loses is its section and its ends", "[verification]") {
    // A brick of one tissue in a bath exp(-k t): by Duhamel from its answer to a steady bath, which
    // test_whole.cpp holds against the products of series. Margin: Simpson over the square root
    // at the start, in 400 intervals.
    const double thick = 0.06, length = 0.1, decay = 3e-6, last = 12 * 86400.0;
    transport::Bath bath;
    bath.concentration = 1;
    const auto line = geometry::line({{"lean", thick / 2}}, 60, 0, false, true);
    const transport::Medium lean{omega, 2e-10};
    const auto mean_of = [&](double loss) {
        bath.loss = loss;
        transport::System section = transport::assemble(line, {lean}, bath);
        const Eigen::VectorXd flow = transport::lengthwise(section, {lean});
        auto whole = transport::extrude(std::move(section), flow,
                                        transport::along(length / 2, thick / 2, 2), 0, 1);
        auto history = transport::solve(whole, last / 400, last, 1e-8);
        auto follow = history->follow(whole.system.mean_weights(0));
        return [whole, history, follow](double t) { return follow(t).first; };
    };
    const auto steady = mean_of(0), dying = mean_of(decay);
    for (const double t : {last / 4, last}) {
        // u(t) = S(t) - k int_0^t S(t - s) exp(-k s) ds
        const int n = 400;
        double sum = 0;
        for (int i = 0; i <= n; ++i) {
            const double s = t * i / n, w = i == 0 || i == n ? 1 : i % 2 ? 4 : 2;
            sum += w * (i == n ? 0.0 : steady(t - s)) * std::exp(-decay * s);
        }
        const double expected = steady(t) - decay * sum * t / n / 3;
        CHECK(dying(t) == Approx(expected).margin(3e-4));
    }
}

} // namespace test_loss
