// SPDX-License-Identifier: MIT
/// Plane sheet, long round and ball against Crank's series, with the numbers also held against a
/// table computed separately (scipy root finding and direct sums, six or four decimals) so that an
/// error in our own closed forms shows. The code's answers are from 100 and 200 intervals,
/// extrapolated: what is left is of fourth order, below 2e-6 of the bath's strength for T >=
/// 0.0025, and that is the tolerance.
#include "verification/closed_forms.hpp"
#include "verification/lines.hpp"

#include <catch2/catch.hpp>

#include <numbers>

namespace test_lines {

using namespace tidemark;
using namespace tidemark::verification;

namespace {

constexpr double grid = 2e-6; ///< what extrapolation of 100 and 200 intervals leaves

struct Row {
    double T, uptake[3], centre[3];
};
// Crank (1975) ch. 4-6, constant surface; recomputed for this project, six decimals.
const Row constant_surface[] = {
    {0.0025, {0.056419, 0.110314, 0.161757}, {0.000000, 0.000000, 0.000000}},
    {0.005, {0.079788, 0.154507, 0.224365}, {0.000000, 0.000000, 0.000000}},
    {0.01, {0.112838, 0.215474, 0.308514}, {0.000000, 0.000000, 0.000000}},
    {0.02, {0.159577, 0.298564, 0.418731}, {0.000001, 0.000007, 0.000030}},
    {0.03, {0.195441, 0.359769, 0.496323}, {0.000089, 0.000468, 0.001566}},
    {0.04, {0.225676, 0.409598, 0.557028}, {0.000814, 0.003726, 0.010891}},
    {0.05, {0.252313, 0.452121, 0.606940}, {0.003131, 0.012901, 0.034001}},
    {0.06, {0.276395, 0.489428, 0.649186}, {0.007785, 0.029459, 0.071420}},
    {0.08, {0.319154, 0.552922, 0.717462}, {0.024839, 0.082285, 0.175283}},
    {0.1, {0.356823, 0.605824, 0.770479}, {0.050695, 0.151645, 0.292900}},
    {0.15, {0.436950, 0.708137, 0.861266}, {0.135778, 0.338166, 0.550283}},
    {0.2, {0.504088, 0.782148, 0.915496}, {0.227688, 0.498513, 0.722922}},
    {0.25, {0.562234, 0.837009, 0.948437}, {0.314554, 0.623165, 0.830494}},
    {0.3, {0.613236, 0.877972, 0.968525}, {0.393196, 0.717513, 0.896468}},
    {0.4, {0.697882, 0.931569, 0.988269}, {0.525513, 0.841511, 0.961408}},
    {0.5, {0.763950, 0.961621, 0.995628}, {0.629223, 0.911110, 0.985616}},
    {0.6, {0.815565, 0.978476, 0.998370}, {0.710291, 0.950147, 0.994639}},
    {0.7, {0.855893, 0.987928, 0.999393}, {0.773637, 0.972040, 0.998002}},
    {0.8, {0.887403, 0.993230, 0.999774}, {0.823133, 0.984319, 0.999255}},
    {1, {0.931260, 0.997870, 0.999969}, {0.892023, 0.995068, 0.999897}},
    {1.5, {0.979982, 0.999882, 1.000000}, {0.968556, 0.999726, 0.999999}},
    {2, {0.994170, 0.999993, 1.000000}, {0.990843, 0.999985, 1.000000}},
};

const std::vector<double> eight = {0.0025, 0.01, 0.04, 0.09, 0.16, 0.25, 0.5, 1};

double volume(int power) { // of the half sheet per m2, round per m, ball
    return power == 0   ? half
           : power == 1 ? std::numbers::pi * half * half
                        : 4 * std::numbers::pi / 3 * half * half * half;
}

} // namespace

TEST_CASE("a constant surface gives the series' mean and centre at every tabled time",
          "[verification]") {
    std::vector<double> times;
    for (const auto& row : constant_surface)
        times.push_back(row.T);
    transport::Bath bath;
    bath.concentration = 1;
    for (int power = 0; power < 3; ++power) {
        const auto got = extrapolated(
            [&](int n) {
                return mean_and_centre({omega, D}, bath, power, n, times);
            },
            100);
        const Series mean = uptake(power), centre = profile(power, 0);
        for (std::size_t i = 0; i < times.size(); ++i) {
            const Row& row = constant_surface[i];
            CAPTURE(power, row.T);
            CHECK(mean.at(row.T) == Approx(row.uptake[power]).margin(0.6e-6)); // printed digits
            CHECK(centre.at(row.T) == Approx(row.centre[power]).margin(0.6e-6));
            CHECK(got[2 * i] == Approx(mean.at(row.T)).margin(grid));
            CHECK(got[2 * i + 1] == Approx(centre.at(row.T)).margin(grid));
        }
    }
}

TEST_CASE("the profile of a half-cured sheet, round and ball is the series' profile",
          "[verification]") {
    // Crank ch. 4-6, T = 0.1 at X = 0, 0.2, 0.4, 0.6, 0.8, 0.9; recomputed, four decimals.
    const double X[] = {0, 0.2, 0.4, 0.6, 0.8, 0.9};
    const double printed[3][6] = {{0.0507, 0.0809, 0.1815, 0.3714, 0.6548, 0.8231},
                                  {0.1516, 0.1889, 0.3032, 0.4942, 0.7420, 0.8733},
                                  {0.2929, 0.3317, 0.4449, 0.6179, 0.8183, 0.9145}};
    transport::Bath bath;
    bath.concentration = 1;
    for (int power = 0; power < 3; ++power) {
        const auto got = extrapolated(
            [&](int n) {
                const auto line = geometry::line({{"lean", half}}, n, power, false, true);
                const auto system = transport::assemble(line, {{omega, D}}, bath);
                const transport::Spectrum history(system, 0.05 * unit_time, 0.1 * unit_time);
                const auto u = history.at(0.1 * unit_time).free;
                Eigen::ArrayXd out(6);
                for (int i = 0; i < 6; ++i)
                    out[i] = u[system.unknown[std::lround(X[i] * n)]];
                return out;
            },
            100);
        for (int i = 0; i < 6; ++i) {
            CAPTURE(power, X[i]);
            const double exact = profile(power, X[i]).at(0.1);
            CHECK(exact == Approx(printed[power][i]).margin(0.6e-4)); // printed digits
            CHECK(got[i] == Approx(exact).margin(grid));
        }
    }
}

TEST_CASE("a stirred bath of limited volume gives Crank's uptake for every share",
          "[verification]") {
    // Crank ch. 4-6; recomputed, four decimals: first roots and uptake at T = 0.04 and 0.25.
    struct Limited {
        double F, q1[3], early[3], late[3];
    };
    const Limited table[] = {
        {0.1, {1.6385, 2.4922, 3.2410}, {0.2459, 0.4389, 0.5883}, {0.5952, 0.8596, 0.9585}},
        {0.2, {1.7155, 2.5888, 3.3485}, {}, {}},
        {0.3, {1.8040, 2.6962, 3.4650}, {0.2994, 0.5111, 0.6611}, {0.6721, 0.9044, 0.9757}},
        {0.4, {1.9071, 2.8159, 3.5909}, {}, {}},
        {0.5, {2.0288, 2.9496, 3.7264}, {0.3820, 0.6091, 0.7494}, {0.7659, 0.9455, 0.9883}},
        {0.6, {2.1746, 3.0989, 3.8711}, {}, {}},
        {0.7, {2.3522, 3.2645, 4.0236}, {0.5240, 0.7443, 0.8527}, {0.8741, 0.9778, 0.9959}},
        {0.8, {2.5704, 3.4455, 4.1811}, {}, {}},
        {0.9, {2.8363, 3.6374, 4.3395}, {0.8016, 0.9180, 0.9577}, {0.9727, 0.9961, 0.9993}},
    };
    for (const auto& row : table)
        for (int power = 0; power < 3; ++power) {
            CAPTURE(row.F, power);
            const double alpha = 1 / row.F - 1;
            const Series exact = limited_uptake(power, alpha);
            CHECK(limited_roots(power, alpha, 1)[0] == Approx(row.q1[power]).margin(0.6e-4));
            if (row.early[power] > 0) {
                CHECK(exact.at(0.04) == Approx(row.early[power]).margin(0.6e-4));
                CHECK(exact.at(0.25) == Approx(row.late[power]).margin(0.6e-4));
            }
            transport::Bath bath;
            bath.concentration = 0.2;
            bath.partition = 0.95;
            bath.water = alpha * bath.partition * omega * volume(power);
            const double final_mean = bath.partition * bath.concentration * (1 - row.F);
            const auto got = extrapolated(
                [&](int n) {
                    return mean_and_centre({omega, D}, bath, power, n, eight);
                },
                100);
            for (std::size_t i = 0; i < eight.size(); ++i) {
                CAPTURE(eight[i]);
                CHECK(got[2 * i] / final_mean == Approx(exact.at(eight[i])).margin(grid));
            }
        }
}

TEST_CASE("a film between bath and meat gives Crank's uptake and centre", "[verification]") {
    // Crank ch. 4-6, b tan b = L and its relatives; recomputed, four decimals: uptake at T = 0.04,
    // 0.25.
    struct Film {
        double L, b1[3], early[3], late[3];
    };
    const Film table[] = {
        {0.5, {0.6533, 0.9408, 1.1656}, {0.0186, 0.0370, 0.0552}, {0.1049, 0.2021, 0.2908}},
        {1, {0.8603, 1.2558, 1.5708}, {0.0347, 0.0687, 0.1019}, {0.1798, 0.3362, 0.4681}},
        {2, {1.0769, 1.5994, 2.0288}, {0.0611, 0.1199, 0.1763}, {0.2778, 0.4965, 0.6592}},
        {5, {1.3138, 1.9898, 2.5704}, {0.1112, 0.2143, 0.3091}, {0.4059, 0.6755, 0.8363}},
        {10, {1.4289, 2.1795, 2.8363}, {0.1512, 0.2863, 0.4056}, {0.4744, 0.7546, 0.8981}},
        {50, {1.5400, 2.3572, 3.0788}, {0.2068, 0.3798, 0.5224}, {0.5430, 0.8209, 0.9398}},
    };
    for (const auto& row : table)
        for (int power = 0; power < 3; ++power) {
            CAPTURE(row.L, power);
            const Series mean = film_uptake(power, row.L), centre = film_profile(power, row.L, 0);
            CHECK(film_roots(power, row.L, 1)[0] == Approx(row.b1[power]).margin(0.6e-4));
            CHECK(mean.at(0.04) == Approx(row.early[power]).margin(0.6e-4));
            CHECK(mean.at(0.25) == Approx(row.late[power]).margin(0.6e-4));
            transport::Bath bath;
            bath.concentration = 0.2;
            bath.partition = 0.95;
            bath.water_density = 990;
            bath.film = row.L * omega * D * bath.partition / (half * bath.water_density);
            const double full = bath.partition * bath.concentration;
            const auto got = extrapolated(
                [&](int n) {
                    return mean_and_centre({omega, D}, bath, power, n, eight);
                },
                100);
            for (std::size_t i = 0; i < eight.size(); ++i) {
                CAPTURE(eight[i]);
                CHECK(got[2 * i] / full == Approx(mean.at(eight[i])).margin(grid));
                CHECK(got[2 * i + 1] / full == Approx(centre.at(eight[i])).margin(grid));
            }
        }
}

} // namespace test_lines
