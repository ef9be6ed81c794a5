// SPDX-License-Identifier: MIT
/// Coefficients that follow a field: a diffusivity that rises or falls with the concentration, and
/// a loss that waits for a second solute.
#include "transport/spectrum.hpp"
#include "transport/stepper.hpp"
#include "verification/lines.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <memory>

namespace test_law {

using namespace tidemark;
using namespace tidemark::verification;

namespace {

transport::Law rising(double beta) {
    return {[beta](double, const Eigen::VectorXd& u) -> Eigen::VectorXd {
                return 1 + beta * u.array();
            },
            {}};
}

/// Mean and centre of a sheet of half-thickness `half` with a held face, over the face.
Eigen::ArrayXd sheet(double beta, int cells, const std::vector<double>& times) {
    transport::Bath bath;
    bath.concentration = 1;
    const auto line = geometry::line({{"lean", half}}, cells, 0, false, true);
    const auto system = transport::assemble(line, {{omega, D}}, bath);
    const transport::Stepper history(system, {}, times.back() * unit_time, 1e-7, rising(beta));
    Eigen::ArrayXd out(2 * times.size());
    for (std::size_t i = 0; i < times.size(); ++i) {
        const double t = times[i] * unit_time;
        const auto state = history.at(t);
        out[2 * i] = system.mean(state.free, 0);
        out[2 * i + 1] = state.free[system.unknown[0]];
        CHECK(transport::mass_balance_error(system, history, t) < 1e-8);
        CHECK(state.free.minCoeff() > -1e-6);
        CHECK(state.free.maxCoeff() < 1 + 1e-6);
    }
    return out;
}

} // namespace

TEST_CASE("a diffusivity that rises or falls with the salt gives the tabled uptake",
          "[verification]") {
    // D = D0 (1 + beta c/c_s), sheet with held faces: uptake over the last and centre at T = D0 t /
    // l^2. Computed for this project by finite volumes of another program, four digits; the row of
    // beta 0 agrees with the series. Margin: the last digit, and what cells of a front leave.
    const std::vector<double> times = {0.01, 0.04, 0.09, 0.16, 0.25, 0.50};
    struct Row {
        double beta, mean[6], centre[6];
    };
    for (const Row& row : {Row{-0.5,
                               {.0930, .1860, .2789, .3719, .4641, .6416},
                               {.0000, .0005, .0243, .1039, .2180, .4661}},
                           Row{0,
                               {.1128, .2257, .3385, .4512, .5622, .7640},
                               {.0000, .0008, .0368, .1542, .3146, .6292}},
                           Row{1,
                               {.1441, .2882, .4323, .5758, .7115, .9090},
                               {.0000, .0018, .0781, .2928, .5283, .8555}},
                           Row{3,
                               {.1915, .3830, .5744, .7563, .8908, .9902},
                               {.0000, .0079, .2459, .5954, .8250, .9846}}}) {
        const auto got = extrapolated([&](int n) { return sheet(row.beta, n, times); }, 100);
        for (std::size_t i = 0; i < times.size(); ++i) {
            CAPTURE(row.beta, times[i]);
            CHECK(got[2 * i] == Approx(row.mean[i]).margin(1.01e-4));
            CHECK(got[2 * i + 1] == Approx(row.centre[i]).margin(1.01e-4));
        }
    }
}

TEST_CASE("what follows a field that stands still is the plain stage", "[verification]") {
    // Twice the diffusivity and three times the loss by a law, and by the numbers themselves, in a
    // bath shared out, with fat and a film. Tolerance: of the two integrations, 1e-7 a step.
    const auto line = geometry::line({{"lean", half}, {"fat", half / 8}}, 50, 0, false, true);
    const double last = unit_time;
    for (const bool film : {false, true}) {
        CAPTURE(film);
        const auto system = [&](double speed, double loss) {
            transport::Bath bath;
            bath.concentration = 1;
            bath.water = 1.5 * omega * half;
            if (film)
                bath.film = 2 * D / half;
            return transport::assemble(line,
                                       {{omega, speed * D, 1, 0, loss / unit_time},
                                        {omega / 4, speed * D / 2, 1, 0, loss / unit_time}},
                                       bath);
        };
        const auto constant = [](double factor) {
            return [factor](double, const Eigen::VectorXd& u) -> Eigen::VectorXd {
                return Eigen::VectorXd::Constant(u.size(), factor);
            };
        };
        const auto plain = system(2, 3), slow = system(1, 1);
        const transport::Spectrum expected(plain, last / 100, last, 1e-9);
        const transport::Stepper got(slow, {}, last, 1e-8, {constant(2), constant(3)});
        for (const double t : {0.1 * last, 0.55 * last, last}) {
            CHECK((got.at(t).free - expected.at(t).free).cwiseAbs().maxCoeff() < 2e-6);
            CHECK((got.at(t).dose - 3 * expected.at(t).dose).cwiseAbs().maxCoeff() < 6e-6 * last);
            CHECK(transport::mass_balance_error(slow, got, t) < 1e-9);
        }
    }
}

TEST_CASE("few factors are made where the coefficients follow the field", "[verification]") {
    transport::Bath bath;
    bath.concentration = 1;
    const auto line = geometry::line({{"lean", half}}, 200, 0, false, true);
    const auto system = transport::assemble(line, {{omega, D}}, bath);
    const transport::Stepper history(system, {}, unit_time, 1e-5, rising(1));
    CHECK(history.factorisations() <= history.steps() + 5);
    CHECK(history.steps() < 200); // a bound against blow-up; it takes a few dozen
}

TEST_CASE("a loss that waits for a second solute lies between none and all of it",
          "[verification]") {
    // Loss k where u stands at its full strength, a third of that where there is none of it, in
    // between by its share; the field is the plain stage of a solute without loss. Against the same
    // problem in steps a tenth as long, and between the two plain answers.
    transport::Bath bath;
    bath.concentration = 1;
    const auto line = geometry::line({{"lean", half}}, 100, 0, false, true);
    const double last = unit_time, k = 2 / unit_time;
    const auto with_loss = [&](double loss) {
        return transport::assemble(line, {{omega, D, 1, 0, loss}}, bath);
    };
    const auto free = with_loss(0), all = with_loss(k), bare = with_loss(k / 3);
    const transport::Spectrum field(free, last / 1000, last, 1e-9), most(all, last / 100, last),
        least(bare, last / 100, last);
    transport::Law law;
    law.loss = [&](double t, const Eigen::VectorXd&) -> Eigen::VectorXd {
        return 1. / 3 + 2. / 3 * field.at(t).free.array();
    };
    const transport::Stepper got(all, {}, last, 1e-5, law), fine(all, {}, last, 1e-9, law);
    const int centre = all.unknown[0];
    for (const double t : {0.2 * last, 0.6 * last, last}) {
        const double now = got.at(t).free[centre];
        CHECK(now == Approx(fine.at(t).free[centre]).margin(2e-5));
        CHECK(now > most.at(t).free[centre]);
        CHECK(now < least.at(t).free[centre]);
        CHECK(transport::mass_balance_error(all, got, t) < 1e-6);
        // What has reacted is the loss by the field: trapezoids of the fine history, 400 to t.
        double sum = 0;
        for (int i = 0; i <= 400; ++i) {
            const double s = t * i / 400;
            sum += (i == 0 || i == 400 ? 0.5 : 1) * fine.at(s).free[centre] *
                   (1. / 3 + 2. / 3 * field.at(s).free[centre]);
        }
        CHECK(got.at(t).dose[centre] == Approx(sum * t / 400).epsilon(1e-3));
    }
}

} // namespace test_law
