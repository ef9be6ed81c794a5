// SPDX-License-Identifier: MIT
/// Schedules at their edges, as a second reader tried them: each once told something wrong.
#include "plans.hpp"

#include "cure/cooler_log.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <memory>

using namespace tidemark;
using namespace tidemark::plans;

namespace {

bool warned(const PlanResult& r, const std::string& text) {
    return std::ranges::any_of(r.warnings, [&](const std::string& w) { return w.find(text) != std::string::npos; });
}

} // namespace

TEST_CASE("A stage that ends by its days before what it waits for says so", "[cure]") {
    Stage s = wait(Kind::cover, {Until::What::cured, 0});
    s.duration = 6 * hour; // 40 mm want more than a day
    const PlanResult r = run(loin({s, stage(Kind::rest, day)}));
    CHECK(r.stages[0].to == Approx(6 * hour).epsilon(1e-12));
    CHECK_FALSE(r.stages[0].met);
    CHECK(warned(r, "does not come true"));
}

TEST_CASE("A rub taken off before its salt is gone is told as such", "[cure]") {
    const Plan whole = loin({dry(Kind::rub, 2 * day, 0.025)});
    const PlanResult all = run(whole);
    REQUIRE(all.stages[0].gone);
    const double gone = *all.stages[0].gone;
    // Just before: within the margin to which the fine cells are solved beyond the end.
    const PlanResult early = run(loin({dry(Kind::rub, 0.9 * gone, 0.025), stage(Kind::rest, day)}));
    CHECK_FALSE(early.stages[0].gone);
    CHECK(warned(early, "still on the meat"));
    const PlanResult late = run(loin({dry(Kind::rub, 1.1 * gone, 0.025), stage(Kind::rest, day)}));
    CHECK(late.stages[0].gone);
    CHECK_FALSE(warned(late, "still on the meat"));
}

TEST_CASE("A rub thinner than the cells is gone at once, and what drips is not on the meat", "[cure]") {
    Plan p = loin({dry(Kind::rub, 2 * day, 0.009)});
    p.base.cells = 6;
    const PlanResult r = run(p);
    REQUIRE(r.stages[0].salt_left > 0); // it dripped
    CHECK(r.stages[0].gone == 0.0);
    CHECK_FALSE(warned(r, "still on the meat"));
}

TEST_CASE("The plane across the needles goes on after a stage with a log", "[cure]") {
    Plan p = loin({stage(Kind::rest, 12 * hour), stage(Kind::rest, 8 * day)}, "block");
    p.base.piece.dimensions.width = 0.06;
    p.base.cells = 12;
    p.base.temperature = 276.15;
    p.pump = needles(0.06, 0.08, 500e-6);
    const PlanResult plain = run(p);
    p.stages[0].log = std::make_shared<cure::CoolerLog>(
        cure::cooler_log_from_csv("hours,temperature [C]\n0,3\n12,3\n", "log.csv"));
    const PlanResult logged = run(p);
    // The stepper's tolerance is 1e-5 a step.
    CHECK(logged.stages[1].end.core_arrived == Approx(plain.stages[1].end.core_arrived).epsilon(1e-3));
    CHECK(logged.stages[1].end.most_salt == Approx(plain.stages[1].end.most_salt).epsilon(1e-3));
    REQUIRE(plain.lasting.has_value() == logged.lasting.has_value());
}

TEST_CASE("A brine of a stage's own goes on in the next with its own amount", "[cure]") {
    Stage own = stage(Kind::cover, 2 * day);
    own.brine.emplace();
    own.brine->salt = 0.08;
    own.brine->nitrite = 150e-6;
    own.brine->mass = 10;
    const PlanResult r = run(loin({own, stage(Kind::rest, day), stage(Kind::cover, 2 * day)}));
    // Only time passes between: rounding.
    CHECK(r.stages[2].bath_start.mass == Approx(r.stages[0].bath_end.mass).epsilon(1e-9));
    CHECK(r.stages[2].bath_start.salt == Approx(r.stages[0].bath_end.salt).epsilon(1e-9));
    CHECK(r.stages[2].salt_left + r.stages[2].salt_taken == Approx(r.stages[0].salt_left).epsilon(1e-9));
}

TEST_CASE("A piece too salty before the last cure begins has its last good day before it", "[cure]") {
    const PlanResult once = run(loin({stage(Kind::cover, 10 * day)}));
    REQUIRE(once.last_good);
    REQUIRE(*once.last_good < 9 * day);
    const PlanResult twice = run(loin({stage(Kind::cover, 10 * day), stage(Kind::rest, day), stage(Kind::cover, day)}));
    REQUIRE(twice.last_good);
    // Of two spans solved apart: the tolerance in time is 1e-6.
    CHECK(*twice.last_good == Approx(*once.last_good).epsilon(1e-4));
}

TEST_CASE("Without nitrite the core's salt is that between the needles, as the verdict has it", "[cure]") {
    Plan p = loin({wait(Kind::rest, {Until::What::cured, 0}, 30 * day)}, "block");
    p.base.piece.dimensions.width = 0.06;
    p.base.cells = 12;
    p.base.brine.nitrite = 0;
    p.pump = needles(0.1, 0.2, 0);
    const PlanResult r = run(p);
    REQUIRE(r.stages[0].met);
    CHECK(r.start.core_salt < r.target); // it has to come from the needles first
    CHECK(r.stages[0].end.core_salt == Approx(r.target).epsilon(1e-3)); // two meshes' extrapolation
}
