// SPDX-License-Identifier: MIT
/// Ranges of schedules where the flags' brine plays no part, or stages have temperatures of their
/// own.
#include "common.hpp"
#include "inference/schedule_range.hpp"

#include "cure/setup.hpp"

#include <catch2/catch.hpp>

#include <cmath>

namespace test_schedule_edges {

using namespace tidemark;
using namespace tidemark::inference;
using test::built_in;
using test::day;

namespace {

/// 40 mm of pork loin; an invented piece.
cure::Question plan(cure::Stage::Kind kind, double seconds) {
    cure::Question p;
    p.base.piece.dimensions.thickness = 0.04;
    p.base.brine.salt = 0.05;
    cure::Stage s;
    s.kind = kind;
    s.where = "test";
    s.duration = seconds;
    p.stages = {s};
    return p;
}

ScheduleRange range_of(const cure::Outcome& o, int draws = 4096) {
    const InputsOf by_records = [](const cure::Case& c, const cure::Setup& setup) {
        return case_inputs(c, setup, built_in());
    };
    return schedule_range(o, built_in(), schedule_inputs(o, built_in(), by_records), draws);
}

} // namespace

TEST_CASE("A rub's nitrite is as unsure as a brine's, whatever brine is told besides",
          "[inference]") {
    cure::Question p = plan(cure::Stage::Kind::rub, 3 * day);
    p.stages[0].salt = 0.03;
    p.stages[0].nitrite = 120e-6;
    const ScheduleRange without = range_of(cure::run(p, built_in()), 256);
    p.base.brine.nitrite = 150e-6; // not used by any stage
    p.base.brine.mass = 3;         // nor is the weight that would be needed to share it out
    const ScheduleRange with = range_of(cure::run(p, built_in()), 256);
    // The surface has one coordinate more that does nothing, which moved the days by 2e-4.
    CHECK(without.cured.early == Approx(with.cured.early).epsilon(1e-3));
    CHECK(without.cured.late == Approx(with.cured.late).epsilon(1e-3));
    CHECK(without.chance_cured == Approx(with.chance_cured).margin(1.0 / 256));
}

TEST_CASE("What a bag or needles bring spreads the salt as its record says", "[inference]") {
    // Nothing but the dose moves the salt of a piece that keeps all it is given: with a geometric
    // standard deviation g, 90 in 100 lie within g^1.645 either way (the normal distribution).
    const double g = built_in().find("uncertainty.dose")->value, wide = std::pow(g, 1.645);
    cure::Question bag = plan(cure::Stage::Kind::bag, 20 * day);
    bag.base.piece.weight = 1;
    bag.stages[0].salt = 0.02;
    const ScheduleRange dry = range_of(cure::run(bag, built_in()), 1024);
    CHECK(dry.salt_high / dry.salt_half == Approx(wide).epsilon(0.005));
    CHECK(dry.salt_half / dry.salt_low == Approx(wide).epsilon(0.005));
    cure::Question needles = plan(cure::Stage::Kind::rest, 5 * day);
    needles.base.piece.weight = 1;
    needles.pump = cure::Pump{0.1, geometry::usual_needles(), {}};
    const ScheduleRange pumped = range_of(cure::run(needles, built_in()), 1024);
    // Per kilogram of meat and brine, a tenth more brine counts for a tenth less of itself.
    CHECK(pumped.salt_high / pumped.salt_half == Approx(std::pow(wide, 1 / 1.1)).epsilon(0.02));
    // A brine around the piece is measured out, and has a spread of its own.
    const cure::Outcome cover = cure::run(plan(cure::Stage::Kind::cover, 5 * day), built_in());
    const InputsOf by_records = [](const cure::Case& c, const cure::Setup& setup) {
        return case_inputs(c, setup, built_in());
    };
    CHECK(schedule_inputs(cover, built_in(), by_records).column("dose") < 0);
}

TEST_CASE("A brine near saturation has a range: what does not dissolve in a draw stays out of it",
          "[inference]") {
    cure::Question p = plan(cure::Stage::Kind::cover, 2 * day);
    const cure::Setup setup = [&] {
        base::Records records = built_in();
        return cure::make_piece(p.base, records);
    }();
    Draw strong;
    strong.salt = 1.1;
    // Saturated at 4 C: 26.33 % [saltinstitute, 4.4 C]; told 25 %, drawn 27.5 %.
    p.base.brine.salt = 0.25;
    p.base.brine.nitrite = 1000e-6;
    CHECK(*with_draw(p, strong, setup, built_in(), 0).base.brine.salt ==
          Approx(0.2633 * (1 - 1000e-6)).epsilon(2e-4));
    CHECK(*with_draw(p, Draw{}, setup, built_in(), 0).base.brine.salt == 0.25);
    // By recipe: 10 kg of water dissolve 0.2633 / 0.7367 of it, the premix' salt among that.
    p.base.brine = {};
    p.base.brine.water = 8;
    p.base.brine.ice = 2;
    p.base.brine.salt_added = 3.4;
    p.base.brine.premix = 0.1;
    const cure::Brine drawn = with_draw(p, strong, setup, built_in(), 0).base.brine;
    CHECK(*drawn.salt_added == Approx(10 * 0.2633 / 0.7367 - 0.1 * 0.9375).epsilon(2e-4));
    p.base.piece.weight = 1;
    CHECK_NOTHROW(range_of(cure::run(p, built_in()), 64));
}

TEST_CASE(
    "A draw of nothing out of the common is the schedule itself, at every stage's temperature",
    "[inference]") {
    cure::Question p = plan(cure::Stage::Kind::cover, 4 * day);
    p.base.brine.nitrite = 150e-6;
    p.base.temperature = 274.15;
    p.base.cells = 14; // as the draws have it
    p.stages[0].temperature = 283.15;
    base::Records records = built_in();
    const cure::Setup setup = cure::make_piece(p.base, records);
    const cure::Rough told = cure::run_rough(p, built_in());
    const cure::Rough drawn =
        cure::run_rough(with_draw(p, Draw{}, setup, records, told.target), built_in());
    // Overrides pass through twelve digits of text.
    CHECK(drawn.end.core_arrived == Approx(told.end.core_arrived).epsilon(1e-8));
    CHECK(drawn.end.mean_residual == Approx(told.end.mean_residual).epsilon(1e-8));
}

} // namespace test_schedule_edges
