// SPDX-License-Identifier: MIT
/// Schedules of more than a brine in a cooler with a log: a rub, a bag, a change of water, a rest,
/// each solute of each against SUNDIALS CVODE on the same cells, begun anew at every switch. What
/// is in a bath and when a rub is used up is worked out here again from the loads. Scenarios are
/// invented.
#include "base/calendar.hpp"
#include "common.hpp"
#include "cure/plans.hpp"
#include "cure/track.hpp"
#include "materials/brine.hpp"
#include "materials/diffusion.hpp"
#include "verification/cvode.hpp"
#include "verification/fields.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <ctime>
#include <limits>
#include <map>
#include <memory>

namespace test_logged_plan {

using namespace tidemark;
using namespace tidemark::verification;
using cure::Stage;

namespace {

using plans::day;
using plans::hour;
constexpr double forever = std::numeric_limits<double>::infinity();
constexpr double diffusion_energy = 25e3, loss_energy = 60e3; // [J/mol], set, not the records'

using Log = std::shared_ptr<const cure::CoolerLog>;

/// A cooler that warms while the stage goes on, and one that was left open half a day in [K].
const Log warming = std::make_shared<cure::CoolerLog>(
    cure::CoolerLog{{0, 6 * hour, day, 3 * day}, {273.65, 275.15, 279.15, 282.15}, {}, {}});
const Log opened =
    std::make_shared<cure::CoolerLog>(cure::CoolerLog{{0, 10 * hour, 12 * hour, 20 * hour, 4 * day},
                                                      {275.15, 275.15, 285.15, 276.15, 274.15},
                                                      {},
                                                      {}});

Stage logged(Stage s, const Log& log) {
    s.log = log;
    return s;
}

Stage stage(Stage::Kind kind, double seconds, const Log& log) {
    return logged(plans::stage(kind, seconds), log);
}

Stage dry(Stage::Kind kind, double seconds, const Log& log) {
    Stage s = logged(plans::dry(kind, seconds, 0.025, 400e-6), log);
    s.purge = 0.02;
    return s;
}

Stage soak(double seconds, int changes, const Log& log) {
    return logged(plans::soak(seconds, 4, changes), log);
}

/// 40 mm of pork loin, 1 kg, as a sheet.
cure::Question sheet(std::vector<Stage> stages) {
    cure::Question p;
    p.base.piece.shape = "sheet";
    p.base.piece.dimensions.thickness = 0.04;
    p.base.piece.weight = 1;
    p.base.brine.salt = 0.06;
    p.base.brine.nitrite = 150e-6;
    p.base.brine.mass = 3;
    p.base.overrides = {{"diffusion.activation-energy", "25 kJ/mol", "--set"},
                        {"kinetics.activation-energy", "60 kJ/mol", "--set"}};
    p.stages = std::move(stages);
    return p;
}

/// One solute of a piece as CVODE has it: at the nodes, free and reacted [kg per kg water].
struct Piece {
    Eigen::VectorXd free, reacted;
    double brine = 0; ///< concentration of the cover brine, as it stands by [kg per kg water]
    double held(const Eigen::VectorXd& water) const { return water.dot(free + reacted); }
};

/// What touches the piece in one link of the chain [kg water per unit, kg per kg water].
struct Touch {
    double water = 0, concentration = 0;
};

/// From the stage, and whether its film has gone in: the same as the program's rule, from the
/// loads.
Touch touch(const cure::StageSetup& s, bool nitrite, bool gone, double brine, double saturated) {
    const double film = saturated / (1 - saturated),
                 share = nitrite ? s.stage.nitrite / s.stage.salt : 1;
    const double drip = s.stage.purge.value_or(0) * s.setup.unit_mass * (1 - saturated);
    switch (s.stage.kind) {
    case Stage::Kind::cover:
        return {s.setup.salt_bath.water, brine};
    case Stage::Kind::soak:
        return {s.stage.water / s.setup.units, 0};
    case Stage::Kind::rub:
        return gone ? Touch{} : Touch{forever, film * share};
    case Stage::Kind::bag:
        return {gone ? drip : forever, film * share};
    case Stage::Kind::rest:
        break;
    }
    return {};
}

/// Follows every link of a solute with CVODE; returns the largest difference over the largest
/// concentration of all of them.
double compare(const cure::Coefficients& setup, const cure::Track& track, bool nitrite,
               base::Records& records) {
    const transport::Chain& chain = nitrite ? track.grid().nitrite_chain : track.grid().salt_chain;
    const Eigen::VectorXd& water = track.grid().water;
    Piece piece{Eigen::VectorXd::Zero(water.size()), Eigen::VectorXd::Zero(water.size())};
    piece.brine = nitrite ? setup.stages().front().setup.nitrite_bath.concentration
                          : setup.stages().front().setup.salt_bath.concentration;
    double worst = 0, largest = 0, before = 0;
    std::size_t k = 0; // the stage
    int links = 0;     // begun in it
    for (std::size_t i = 0; i < chain.links().size(); ++i) {
        const auto& link = chain.links()[i];
        while (k + 1 < track.spans().size() && link.from >= track.spans()[k + 1].from) {
            ++k;
            links = 0;
        }
        const cure::StageSetup& s = setup.stages()[k];
        const double end = i + 1 < chain.links().size() ? chain.links()[i + 1].from : track.end();
        const bool dry = s.stage.kind == Stage::Kind::rub || s.stage.kind == Stage::Kind::bag;
        const double saturated = materials::solubility(records, s.stage.log->mean());
        CAPTURE(nitrite, k, i, link.from / hour, end / day);
        if (links == 0)
            before = piece.held(water);
        if (dry && links == 1) { // the film is gone when the load less what drips is in
            const double load = (nitrite ? s.stage.nitrite : s.stage.salt) * s.setup.unit_mass,
                         drip = 0.02 * s.setup.unit_mass * saturated *
                                (nitrite ? s.stage.nitrite / s.stage.salt : 1);
            CHECK(piece.held(water) - before == Approx(load - drip).epsilon(1e-6));
        }
        const Touch t = touch(s, nitrite, links > 0, piece.brine, saturated);
        transport::System own = link.system;
        const double partition = own.partition;
        own.initial = begun(own, piece.free, partition * t.concentration);
        CHECK((own.held ? forever : own.bath_capacity * partition) ==
              Approx(t.water > 0 ? t.water : forever).epsilon(1e-9));
        const std::vector<double> times = {0.1 * (end - link.from), 0.6 * (end - link.from),
                                           end - link.from};
        const auto solve = [&](transport::System system) {
            const double scale = std::max(system.initial.maxCoeff(), 1e-300);
            system.initial /= scale; // the library is told tolerances for order 1
            largest = std::max(largest, scale);
            auto found = integrate(system, times, 1e-9, {}, [&](double time) {
                const double at = s.stage.log->at(link.from + time), mean = s.stage.log->mean();
                return Factors{materials::arrhenius(1, diffusion_energy, mean, at),
                               materials::arrhenius(1, loss_energy, mean, at)};
            });
            for (Eigen::VectorXd& state : found)
                state *= scale;
            return found;
        };
        const auto states = solve(own);
        std::vector<Eigen::VectorXd> now, gone;
        for (const Eigen::VectorXd& state : states) {
            const auto n = own.capacity.size();
            now.push_back(nodal(own, state.head(n)));
            gone.push_back(piece.reacted + link.loss * nodal(own, state.tail(n)));
        }
        // A rub gives its nitrite as to meat without any, and draws none: both added up.
        if (dry && nitrite && links == 0 && before > 0) {
            transport::Bath film;
            film.concentration = t.concentration;
            film.partition = partition;
            transport::System bare =
                transport::assemble(*track.grid().line, {s.setup.tissues.at("lean").nitrite}, film);
            bare.initial =
                begun(bare, Eigen::VectorXd::Zero(water.size()), partition * t.concentration);
            const auto more = solve(bare);
            for (std::size_t j = 0; j < times.size(); ++j) {
                const auto n = bare.capacity.size();
                now[j] += nodal(bare, more[j].head(n));
                gone[j] += link.loss * nodal(bare, more[j].tail(n));
            }
        }
        for (std::size_t j = 0; j < times.size(); ++j) {
            const double when = link.from + times[j];
            worst = std::max({worst, (chain.free(when) - now[j]).cwiseAbs().maxCoeff(),
                              (chain.arrived(when) - now[j] - gone[j]).cwiseAbs().maxCoeff()});
            if (!own.held)
                worst =
                    std::max(worst, std::abs(chain.bath(when) - states[j][own.bath()] / partition));
            CHECK(chain.mass_balance_error(when) < 1e-10);
        }
        piece.reacted = gone.back();
        piece.free = now.back();
        if (s.stage.kind == Stage::Kind::cover)
            piece.brine = states.back()[own.bath()] / partition;
        ++links;
    }
    return worst / largest;
}

} // namespace

TEST_CASE("a rub, a bag, a change of water and a rest in a cooler with a log are those of a "
          "general ODE library",
          "[verification]") {
    using Kind = Stage::Kind;
    const std::map<std::string, std::vector<Stage>> schedules = {
        {"a rub and its rest",
         {dry(Kind::rub, 2 * day, warming), stage(Kind::rest, 2 * day, opened)}},
        {"a bag, then water changed twice",
         {dry(Kind::bag, 3 * day, opened), soak(9 * hour, 2, warming)}},
        {"brine, a rub upon it, water and a rest",
         {stage(Kind::cover, 1.5 * day, opened), dry(Kind::rub, 1.5 * day, warming),
          soak(16 * hour, 1, opened), stage(Kind::rest, day, warming)}},
        {"brine, a rest and the same brine again",
         {stage(Kind::cover, day, warming), stage(Kind::rest, 12 * hour, opened),
          stage(Kind::cover, day, opened)}}};
    for (const auto& [name, stages] : schedules) {
        CAPTURE(name);
        base::Records records = test::first_taken();
        const cure::Question plan = sheet(stages);
        const cure::Coefficients setup = cure::coefficients(plan, records);
        std::vector<std::unique_ptr<cure::Grid>> grids;
        grids.push_back(cure::coarse_grid(setup.first(), 12));
        const cure::Track track(plan, setup, std::move(grids), {});
        const double salt = compare(setup, track, false, records),
                     nitrite = compare(setup, track, true, records);
        // What one step may err by (grid.hpp), as a share of the largest concentration.
        CHECK(salt < 1e-5);
        CHECK(nitrite < 1e-5);
    }
}

TEST_CASE("a schedule in a cooler with a log keeps mass", "[verification]") {
    using Kind = Stage::Kind;
    const cure::Question plan =
        sheet({dry(Kind::rub, 2 * day, warming), dry(Kind::bag, 2 * day, opened),
               soak(9 * hour, 2, warming), stage(Kind::rest, day, opened)});
    base::Records records = test::first_taken();
    const auto result = cure::run(plan, records);
    CHECK(result.mass_balance_error < 1e-10);
    double salt = 0;
    for (const cure::StageResult& s : result.first().stages)
        salt += s.salt_taken;
    // What the stages took of 1 kg is what it holds at the end, lighter by what dripped off.
    const double end = result.first().stages.back().end.mean_salt;
    const double dripped = -cure::coefficients(plan, records).first().tissues.at("lean").gain;
    CHECK(dripped > 0.02);
    CHECK(salt == Approx(end / (1 - end) * (1 - dripped)).epsilon(1e-6));
}

TEST_CASE("a log runs on through the stages, on its own dates", "[verification]") {
    using Kind = Stage::Kind;
    const auto after = [](const cure::Question& plan) {
        return cure::run(plan, test::first_taken()).first().stages;
    };
    // The same brine in two stages is the same as in one, within the stepper's tolerance.
    const auto one = after(sheet({stage(Kind::cover, 3 * day, warming)}));
    const auto two =
        after(sheet({stage(Kind::cover, day, warming), stage(Kind::cover, 2 * day, warming)}));
    CHECK(two[1].end.mean_salt == Approx(one[0].end.mean_salt).epsilon(2e-5));
    CHECK(two[1].end.core_arrived == Approx(one[0].end.core_arrived).epsilon(1e-4));
    // Its mean over each stage: worked out by hand from straight lines between the readings,
    // (0.25 x (273.65 + 275.15) + 0.75 x (275.15 + 279.15)) / 2 and (279.15 + 282.15) / 2.
    CHECK(two[0].temperature == Approx(276.4625).epsilon(1e-12));
    CHECK(two[1].temperature == Approx(280.65).epsilon(1e-12));

    // A log with dates that began half a day before the schedule is read from its half day on.
    const auto begins = base::parse_moment("2026-12-05 18:00", "test");
    auto dated = *opened;
    dated.start = base::parse_moment("2026-12-05 06:00", "test");
    cure::CoolerLog later{{0, 8 * hour, 3.5 * day}, {0, 276.15, 274.15}, {}, {}};
    later.temperature[0] = opened->at(12 * hour);
    auto plan = sheet({stage(Kind::cover, 3 * day, std::make_shared<cure::CoolerLog>(dated))});
    plan.start = begins;
    const auto read = after(plan);
    const auto same =
        after(sheet({stage(Kind::cover, 3 * day, std::make_shared<cure::CoolerLog>(later))}));
    CHECK(read[0].end.mean_salt == Approx(same[0].end.mean_salt).epsilon(1e-6));
    CHECK(read[0].temperature == Approx(same[0].temperature).epsilon(1e-12));
    // Without a start it begins with the schedule.
    plan.start.reset();
    CHECK(after(plan)[0].end.mean_salt != Approx(same[0].end.mean_salt).epsilon(1e-4));
    // One that ended before the schedule began says nothing of it.
    plan.start = base::parse_moment("2026-12-10", "test");
    CHECK_THROWS_WITH(after(plan),
                      Catch::Contains("is where the schedule begins, and the cooler's log ends "
                                      "before"));
}

TEST_CASE("a stage with a log costs a few ordinary ones", "[verification]") {
    // Readings every hour for three weeks. Stepping through every cell took 20 times as long as a
    // stage without a log, and stepping through the few vectors of its space takes 1.2 times; the
    // bound only tells the two apart.
    cure::CoolerLog hourly;
    for (int i = 0; i < 21 * 24; ++i) {
        hourly.time.push_back(i * hour);
        hourly.temperature.push_back(276.15 + std::sin(i / 4.0));
    }
    const Log log = std::make_shared<cure::CoolerLog>(hourly);
    cure::Question p = sheet({});
    p.base.piece.shape = "loin";
    p.base.piece.dimensions.thickness = 0.065;
    p.base.piece.dimensions.fat_cap = 0.008;
    p.base.piece.weight = 0;
    p.base.brine.mass.reset();
    const auto cost = [&](const Log& with) {
        p.stages = {stage(Stage::Kind::cover, 14 * day, with)};
        const std::clock_t start = std::clock();
        const cure::Outcome o = cure::run(p, test::first_taken());
        CHECK(o.first().cured);
        return static_cast<double>(std::clock() - start);
    };
    const double ordinary = std::max(cost(nullptr), cost(nullptr));
    CHECK(cost(log) < 8 * ordinary);
}

} // namespace test_logged_plan
