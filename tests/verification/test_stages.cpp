// SPDX-License-Identifier: MIT
/// Stages against what can be worked out: a fixed dose, soaking out, the clock of a log, needles.
/// Series as of Crank, The Mathematics of Diffusion (1975), ch. 4, from memory, summed here.
#include "common.hpp"
#include "cure/outcome.hpp"
#include "cure/picture.hpp"
#include "cure/setup.hpp"
#include "materials/brine.hpp"
#include "transport/chain.hpp"
#include "verification/closed_forms.hpp"
#include "verification/lines.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

namespace test_stages {

using namespace tidemark;
using namespace tidemark::verification;
using cure::Stage;
using test::day;
using test::hour;

namespace {

constexpr double pi = std::numbers::pi;

// ---- the plan's sheet: 50 mm, D 2.5e-10 m2/s, no loss, tissue water takes what the bath holds

cure::Question sheet(std::vector<Stage> stages) {
    cure::Question plan;
    cure::Case& c = plan.base;
    c.piece.shape = "sheet";
    c.piece.dimensions.thickness = 2 * half;
    c.piece.weight = 1;
    c.brine.salt = 0.06;
    c.cells = 80;
    c.overrides = {{"loss", "none", "--set"},
                   {"solute.salt.partition", "1", "--set"},
                   {"muscle.pork-loin.diffusivity", "2.5e-10 m2/s", "--set"}};
    plan.stages = std::move(stages);
    return plan;
}

Stage stage(Stage::Kind kind, double seconds) {
    Stage s;
    s.kind = kind;
    s.where = "test";
    s.duration = seconds;
    return s;
}

Stage rub(double load, double seconds) {
    Stage s = stage(Stage::Kind::rub, seconds);
    s.salt = load;
    s.purge = 0;
    return s;
}

cure::Pump needles(double share, double salt) {
    cure::Pump pump{share, {.spacing = 0.03, .deposit = 0.01}, cure::Brine{}};
    pump.brine->salt = salt;
    return pump;
}

cure::Outcome run(const cure::Question& plan) {
    return cure::run(plan, test::first_taken());
}

/// Salt to one of what is left: in proportion to the concentration in the water.
double concentration(double share) {
    return share / (1 - share);
}

/// c over mean at X for a dose on both faces. `film`: the time T it took to go in from a saturated
/// film, into meat deep enough not to tell the faces apart: by the law of the square root, so the
/// instant of going in is film x^2 with x uniform on 0..1.
double dose_series(double X, double T, double film = 0) {
    double sum = 1;
    for (int n = 1; n < 60 && n * n * pi * pi * (T - film) < 40; ++n) {
        const double rate = n * n * pi * pi;
        const double term = boost::math::quadrature::gauss_kronrod<double, 31>::integrate(
            [&](double x) { return std::exp(-rate * (T - film * x * x)); }, 0., 1., 10, 1e-12);
        sum += 2 * (n % 2 ? -1 : 1) * std::cos(n * pi * X) * term;
    }
    return sum;
}

struct Dosed {
    double T, centre, surface;
};
/// Computed for this project, four decimals.
const Dosed dosed[] = {{0.05, 0.0340, 2.5231}, {0.10, 0.2929, 1.7843}, {0.15, 0.5503, 1.4604},
                       {0.20, 0.7229, 1.2786}, {0.30, 0.8965, 1.1036}, {0.50, 0.9856, 1.0144}};

/// A rub that has `dosed`'s first time, and rests up to its others.
std::vector<Stage> rubbed(double load) {
    std::vector<Stage> stages = {rub(load, dosed[0].T * unit_time)};
    for (int k = 1; k < 6; ++k)
        stages.push_back(stage(Stage::Kind::rest, (dosed[k].T - dosed[k - 1].T) * unit_time));
    return stages;
}

Eigen::VectorXd water_of(const transport::System& s) {
    Eigen::VectorXd sum = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(s.unknown.size()));
    for (const auto& w : s.region_water)
        sum += w;
    return sum;
}

} // namespace

TEST_CASE("a thin rub spreads as two instantaneous sources", "[verification]") {
    // 2 g/kg is in within T = 1e-4 or so: thinner than a cell, so the faces are coated at once or
    // the film's share of time is below a thousandth of the first T. Allowed: the print, 0.5e-4,
    // the film at T_f / 3 late (exactly, to first order) and 5e-4 for the cells (80 and 160).
    const auto result = run(sheet(rubbed(0.002)));
    const double film = result.first().stages[0].gone.value_or(0) / unit_time;
    CAPTURE(film);
    CHECK(film < 2e-4);
    for (std::size_t k = 0; k < 6; ++k) {
        const auto& [T, centre, surface] = dosed[k];
        CAPTURE(T);
        CHECK(dose_series(0, T) == Approx(centre).margin(0.51e-4));
        CHECK(dose_series(1, T) == Approx(surface).margin(0.51e-4));
        const auto& end_ = result.first().stages[k].end;
        const double mean = concentration(end_.mean_salt);
        CHECK(end_.mean_salt == Approx(0.002 / 1.002).epsilon(1e-9));
        const double late = std::abs(dose_series(1, T - film / 3) - surface);
        CHECK(concentration(end_.least_salt) / mean == Approx(centre).margin(5.5e-4 + late));
        CHECK(concentration(end_.most_salt) / mean == Approx(surface).margin(5.5e-4 + late));
    }
}

TEST_CASE("a rub that takes its time goes in by the square root, then spreads", "[verification]") {
    // The film phase on meat that is deep: taken = 2 u_s sqrt(D t / pi) per face (Crank ch. 3), so
    // it is over at T_f = pi/4 (mean/u_s)^2; the print above, late by that, is not used.
    const double load = 0.02;
    const auto result = run(sheet(rubbed(load)));
    REQUIRE(result.first().stages[0].gone);
    const double film = *result.first().stages[0].gone / unit_time;
    auto records = test::first_taken();
    const double saturated = concentration(materials::solubility(records, 277.15)),
                 water =
                     cure::make_setup(sheet({}).base, records).tissues.at("lean").water_fraction;
    CHECK(film == Approx(pi / 4 * std::pow(load / water / saturated, 2)).epsilon(5e-3)); // cells
    CAPTURE(film);
    for (std::size_t k = 0; k < 6; ++k) {
        const double T = dosed[k].T;
        CAPTURE(T);
        const auto& e = result.first().stages[k].end;
        const double mean = concentration(e.mean_salt);
        CHECK(e.mean_salt == Approx(load / (1 + load)).epsilon(1e-9));
        CHECK(concentration(e.least_salt) / mean == Approx(dose_series(0, T, film)).margin(5e-4));
        CHECK(concentration(e.most_salt) / mean == Approx(dose_series(1, T, film)).margin(5e-4));
    }
}

TEST_CASE("salt soaks out of a filled sheet as the series for much fresh water", "[verification]") {
    // Of what it holds, printed to 0.1 % (computed for this project): 1, 2, 12, 24 h.
    const double hours[] = {1, 2, 12, 24}, printed[] = {4.3, 6.1, 14.8, 21.0};
    transport::Bath fresh; // held at nothing
    const auto lost = extrapolated(
        [&](int n) {
            const auto line = geometry::line({{"lean", half}}, n, 0, false, true);
            auto system = transport::assemble(line, {{omega, D}}, fresh);
            const Eigen::VectorXd water = water_of(system);
            transport::Chain chain(Eigen::VectorXd::Ones(n + 1), water / water.sum());
            transport::start_from(system, chain.before(0), 0);
            chain.begin(0, system, std::make_shared<transport::Spectrum>(system, hour / 4, day), 0);
            Eigen::ArrayXd out(8);
            for (int k = 0; k < 4; ++k) {
                out[2 * k] = 1 - chain.mean(hours[k] * hour).first;
                out[2 * k + 1] = -chain.taken(0, hours[k] * hour) / water.sum();
            }
            return out;
        },
        400);
    cure::Question plan = sheet({});
    plan.pump = needles(0.1, 0.2);
    double so_far = 0;
    for (const double h : hours) {
        plan.stages.push_back(stage(Stage::Kind::soak, (h - so_far) * hour));
        plan.stages.back().water = std::numeric_limits<double>::infinity();
        so_far = h;
    }
    const auto result = run(plan);
    const double before = concentration(0.1 * 0.2 / 1.1);
    for (int k = 0; k < 4; ++k) {
        const double exact = uptake(0).at(D * hours[k] * hour / (half * half));
        CAPTURE(hours[k], exact);
        CHECK(100 * exact == Approx(printed[k]).margin(0.051));
        CHECK(lost[2 * k] == Approx(exact).margin(2e-5)); // two grids extrapolated, at T = 0.0014
        CHECK(lost[2 * k + 1] == Approx(exact).margin(2e-5));
        const auto& e = result.first().stages[static_cast<std::size_t>(k)].end;
        CHECK(1 - concentration(e.mean_salt) / before == Approx(exact).margin(3e-4));
    }
}

TEST_CASE("a stage with a log is as long as its clock says", "[verification]") {
    // Salt has no loss: with a log it is where a steady cooler has it after the clock's time.
    // 8.314 J/(mol K); the activation energy is set, so that nothing is taken from the records.
    auto log = std::make_shared<cure::CoolerLog>(
        cure::CoolerLog{{0, 1 * day, 2 * day, 6 * day}, {275.15, 280.15, 277.15, 276.15}, {}, {}});
    // The log begins with the schedule, four days before the stage.
    const auto clock = cure::clock(*log, 277.15, 25e3, 25e3).diffusion;
    const double end_ = clock(9 * day) - clock(4 * day);
    for (const auto kind : {Stage::Kind::cover, Stage::Kind::soak}) {
        std::vector<Stage> first = {stage(Stage::Kind::cover, 4 * day)};
        auto steady = sheet(first), logged = steady;
        steady.stages.push_back(stage(kind, end_));
        logged.stages.push_back(stage(kind, 5 * day));
        for (auto* plan : {&steady, &logged}) {
            plan->stages.back().fresh = true;
            plan->stages.back().water = 4;
            plan->base.overrides.push_back({"diffusion.activation-energy", "25 kJ/mol", "--set"});
            plan->base.brine.mass = 3;
        }
        steady.stages.back().temperature = 277.15;
        logged.stages.back().log = log;
        const auto a = run(steady), b = run(logged);
        CHECK(std::abs(end_ / (5 * day) - 1) > 0.005);
        CHECK(b.first().stages[1].end.mean_salt ==
              Approx(a.first().stages[1].end.mean_salt).epsilon(1e-6));
        CHECK(b.first().stages[1].end.core_salt ==
              Approx(a.first().stages[1].end.core_salt).epsilon(1e-5));
        CHECK(b.first().stages[1].bath_end.salt ==
              Approx(a.first().stages[1].bath_end.salt).epsilon(1e-6));
    }
}

TEST_CASE("a sheet filled by needles stays as it is; a section evens out and loses nothing",
          "[verification]") {
    const double share = 0.12, salt = 0.15, mean = share * salt / (1 + share);
    cure::Question plan =
        sheet({stage(Stage::Kind::rest, 3 * day), stage(Stage::Kind::rest, 30 * day)});
    plan.pump = needles(share, salt);
    const auto even = run(plan);
    CHECK(even.first().stages[1].end.mean_salt == Approx(mean).epsilon(1e-9));
    const auto strip = cure::picture(even, 3 * day, 20, {});
    for (const double salt_here : strip.salt)
        CHECK(salt_here == Approx(mean).epsilon(1e-9));
    // Least and most are between needles, too, in the plane across them.
    CHECK(even.first().stages[0].end.even() > 0.1);
    plan.base.cells = 24;
    plan.base.piece.shape = "block";
    plan.base.piece.dimensions.width = 0.09;
    plan.stages.push_back(stage(Stage::Kind::rest, 100 * day));
    const auto section = run(plan);
    CHECK(section.first().start.mean_salt == Approx(mean).epsilon(1e-9));
    double spread = section.first().start.even();
    CHECK(spread > 1);
    for (const auto& s : section.first().stages) {
        CHECK(s.end.mean_salt == Approx(mean).epsilon(1e-9));
        CHECK(s.end.even() < spread);
        spread = s.end.even();
    }
    CHECK(spread < 1e-3);
    CHECK(section.mass_balance_error < 1e-10);
}

} // namespace test_stages
