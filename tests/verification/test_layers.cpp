// SPDX-License-Identifier: MIT
/// Tissues in series: lean under a fat cap and two rounds of tissue, against the modes of the
/// composite sheet and cylinder (Carslaw & Jaeger ch. XII), and the steady flux of resistances in
/// series.
#include "common.hpp"
#include "verification/closed_forms.hpp"
#include "verification/lines.hpp"

#include <boost/math/tools/minima.hpp>
#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

namespace test_layers {

using namespace tidemark;
using namespace tidemark::verification;
using test::day;

namespace {

constexpr double grid = 2e-6; ///< what extrapolation of two grids leaves, see test_lines.cpp
const Tissue lean{0.05, 2.5e-10, 780}, fat{0.005, 1e-10, 100};

transport::Medium medium(const Tissue& t) {
    return {t.water, t.diffusivity};
}

std::vector<transport::Medium> media(const std::vector<std::string>& kinds) {
    std::vector<transport::Medium> m;
    for (const auto& kind : kinds)
        m.push_back(medium(kind == "fat" ? fat : lean));
    return m;
}

} // namespace

TEST_CASE("lean between brine and a fat cap has the composite sheet's mean, minimum and join",
          "[verification]") {
    // Lean 5 cm, fat 5 mm, brine on both sides: computed for this project by finite volumes on 1000
    // and 3000 cells that agree to 2e-4, printed to four decimals (join three, depth 0.1 mm). The
    // exact series below tells which digits of those are good.
    struct Row {
        double days, mean, least, depth, join;
    };
    const Row rows[] = {{7, 0.3034, 0.0724, 0.0378, 0.129},
                        {14, 0.4421, 0.2119, 0.0415, 0.245},
                        {28, 0.6315, 0.4654, 0.0427, 0.484}};
    const Modes exact = two_sheets(lean, fat, true, 20);
    const Series mean = exact.mean(0, lean.thickness), join = exact.at(lean.thickness);
    transport::Bath bath;
    bath.concentration = 1;
    const int n = 110; // 0.5 mm, so the join is a node
    const auto solve = [&](int intervals) {
        const auto line = geometry::line({{"lean", lean.thickness}, {"fat", fat.thickness}},
                                         intervals, 0, true, true);
        const auto system = transport::assemble(line, media(line.kinds), bath);
        const transport::Spectrum history(system, 7 * day, 28 * day);
        Eigen::ArrayXd out(9);
        for (int i = 0; i < 3; ++i) {
            const auto u = history.at(rows[i].days * day).free;
            out[3 * i] = system.mean(u, line.kinds[0] == "lean" ? 0 : 1);
            out[3 * i + 1] = u[system.unknown[intervals * 10 / 11]]; // the join
            out[3 * i + 2] = u[system.unknown[intervals * 42 / 55]]; // 42 mm, near the minimum
        }
        return out;
    };
    const auto got = extrapolated(solve, n);
    for (int i = 0; i < 3; ++i) {
        const double t = rows[i].days * day;
        CAPTURE(rows[i].days);
        const auto [where, least] = boost::math::tools::brent_find_minima(
            [&](double x) { return exact.at(x).at(t); }, 0.02, lean.thickness, 40);
        CHECK(mean.at(t) == Approx(rows[i].mean).margin(2.5e-4)); // print + its own 2e-4
        CHECK(least == Approx(rows[i].least).margin(2.5e-4));
        CHECK(where == Approx(rows[i].depth).margin(1e-4));     // printed to 0.1 mm
        CHECK(join.at(t) == Approx(rows[i].join).margin(7e-4)); // three decimals + 2e-4
        CHECK(got[3 * i] == Approx(mean.at(t)).margin(grid));
        CHECK(got[3 * i + 1] == Approx(join.at(t)).margin(grid));
        CHECK(got[3 * i + 2] == Approx(exact.at(0.042).at(t)).margin(grid));
    }
}

TEST_CASE("bare and one-sided lean give the table's columns beside the fat cap", "[verification]") {
    // The same lean with brine on both faces and with one face sealed; printed to four decimals.
    const double printed[3][5] = {{7, 0.5534, 0.3010, 0.2775, 0.0081},
                                  {14, 0.7543, 0.6141, 0.3924, 0.0841},
                                  {28, 0.9256, 0.8831, 0.5534, 0.3010}};
    transport::Bath bath;
    bath.concentration = 1;
    for (bool both : {true, false}) {
        const auto got = extrapolated(
            [&](int n) {
                const auto line = geometry::line({{"lean", lean.thickness}}, n, 0, both, true);
                const auto system = transport::assemble(line, {medium(lean)}, bath);
                const transport::Spectrum history(system, 7 * day, 28 * day);
                Eigen::ArrayXd out(6);
                for (int i = 0; i < 3; ++i) {
                    const auto u = history.at(printed[i][0] * day).free;
                    out[2 * i] = system.mean(u, 0);
                    out[2 * i + 1] = u[system.unknown[both ? n / 2 : 0]];
                }
                return out;
            },
            100);
        for (int i = 0; i < 3; ++i) {
            CAPTURE(both, printed[i][0]);
            const double l = lean.thickness * (both ? 0.5 : 1);
            const double T = lean.diffusivity * printed[i][0] * day / (l * l);
            CHECK(uptake(0).at(T) == Approx(printed[i][both ? 1 : 3]).margin(0.6e-4));
            CHECK(profile(0, 0).at(T) == Approx(printed[i][both ? 2 : 4]).margin(0.6e-4));
            CHECK(got[2 * i] == Approx(uptake(0).at(T)).margin(grid));
            CHECK(got[2 * i + 1] == Approx(profile(0, 0).at(T)).margin(grid));
        }
    }
}

TEST_CASE("a sealed sheet and a round of two tissues follow their modes", "[verification]") {
    const Tissue core{0.03, 2.5e-10, 780}, rind{0.006, 1e-10, 100};
    transport::Bath bath;
    bath.concentration = 1;
    const std::vector<double> days = {5, 15, 40};
    for (int power : {0, 1}) {
        const Modes exact =
            power == 0 ? two_sheets(core, rind, false, 20) : two_rounds(core, rind, 20);
        const auto got = extrapolated(
            [&](int n) {
                const auto line = geometry::line(
                    {{"lean", core.thickness}, {"fat", rind.thickness}}, n, power, false, true);
                std::vector<transport::Medium> m;
                for (const auto& kind : line.kinds)
                    m.push_back(medium(kind == "fat" ? rind : core));
                const auto system = transport::assemble(line, m, bath);
                const transport::Spectrum history(system, 5 * day, 40 * day);
                const int region = line.kinds[0] == "lean" ? 0 : 1;
                Eigen::ArrayXd out(9);
                for (int i = 0; i < 3; ++i) {
                    const auto u = history.at(days[i] * day).free;
                    out[3 * i] = system.mean(u, region);
                    out[3 * i + 1] = system.mean(u, 1 - region);
                    out[3 * i + 2] = u[system.unknown[0]];
                }
                return out;
            },
            120); // 0.3 mm: the join is a node
        for (int i = 0; i < 3; ++i) {
            CAPTURE(power, days[i]);
            const double t = days[i] * day, join = core.thickness, end = join + rind.thickness;
            CHECK(got[3 * i] == Approx(exact.mean(0, join).at(t)).margin(grid));
            CHECK(got[3 * i + 1] == Approx(exact.mean(join, end).at(t)).margin(grid));
            CHECK(got[3 * i + 2] == Approx(exact.at(0).at(t)).margin(grid));
        }
    }
}

TEST_CASE("the steady flux through tissues in series is the drop over the sum of resistances",
          "[verification]") {
    // A lossy lean drains the fat in front of it for ever. Per m2: flux = 1 / (d/P_fat + R_lean)
    // with R_lean = l / (P phi tanh phi), P = omega D (Crank ch. 4 for the sum, Thiele for the
    // lossy layer). For a round: resistance of the ring ln(b/a) / (2 pi P), of the core l / (2 pi a
    // P phi I1/I0).
    const Tissue core{0.02, 2.4e-10, 780}, ring{0.005, 1e-10, 100};
    const double phi = 2.5, a = core.thickness, b = a + ring.thickness;
    const double P1 = core.water * core.diffusivity, P2 = ring.water * ring.diffusivity;
    const double loss = phi * phi * core.diffusivity / (a * a);
    transport::Bath bath;
    bath.concentration = 1;
    for (int power : {0, 1}) {
        const double pi = std::numbers::pi;
        const double uptake_rate = P1 * phi / a * steady_mean(power, phi) * phi / (power + 1);
        const double exact =
            power == 0 ? 1 / (ring.thickness / P2 + 1 / uptake_rate)
                       : 1 / (std::log(b / a) / (2 * pi * P2) + 1 / (2 * pi * a * uptake_rate));
        const auto got = extrapolated(
            [&](int n) {
                const auto line =
                    geometry::line({{"lean", a}, {"fat", ring.thickness}}, n, power, false, true);
                std::vector<transport::Medium> m;
                for (const auto& kind : line.kinds)
                    m.push_back(kind == "fat" ? medium(ring) : medium(core));
                m[line.kinds[0] == "lean" ? 0 : 1].loss = loss;
                const auto system = transport::assemble(line, m, bath);
                const transport::Spectrum history(system, day, 4000 * day);
                Eigen::ArrayXd out(1);
                out[0] = (history.influx(4000 * day) - history.influx(3000 * day)) / (1000 * day);
                return out;
            },
            100);
        CAPTURE(power);
        CHECK(got[0] == Approx(exact).epsilon(grid));
    }
}

} // namespace test_layers
