// SPDX-License-Identifier: MIT
/// Schedules at their edges, as a second reader tried them: each once told something wrong.
#include "plans.hpp"

#include "base/text.hpp"
#include "cure/cooler_log.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <memory>

namespace test_plan_edges {

using namespace tidemark;
using namespace tidemark::plans;

namespace {

bool warned(const Outcome& r, const std::string& text) {
    return std::ranges::any_of(r.findings.warnings(), [&](const std::string& w) {
        return w.find(text) != std::string::npos;
    });
}

/// What each mesh makes of the mean salt, or the core's nitrite, at the end of a schedule. The
/// answer is fine + (fine - coarse) / 3 (Richardson), and run_rough() is the coarse one.
struct Meshes {
    double coarse, fine;
};
Meshes on_each(const Question& plan, double cure::Reading::*of) {
    const double coarse = cure::run_rough(plan, fixed_records()).end.*of;
    return {coarse, (3 * run(plan).first().stages.back().end.*of + coarse) / 4};
}

} // namespace

TEST_CASE("A stage that ends by its days before what it waits for says so", "[cure]") {
    Stage s = wait(Kind::cover, {Until::What::cured, 0});
    s.duration = 6 * hour; // 40 mm want more than a day
    const Outcome r = run(loin({s, stage(Kind::rest, day)}));
    CHECK(r.first().stages[0].to == Approx(6 * hour).epsilon(1e-12));
    CHECK_FALSE(r.first().stages[0].met);
    CHECK(warned(r, "the end condition is not reached"));
}

TEST_CASE("A rub taken off before its salt is gone is told as such", "[cure]") {
    const Question whole = loin({dry(Kind::rub, 2 * day, 0.025)});
    const Outcome all = run(whole);
    REQUIRE(all.first().stages[0].gone);
    const double gone = *all.first().stages[0].gone;
    // Just before: within the margin to which the fine cells are solved beyond the end.
    const Outcome early = run(loin({dry(Kind::rub, 0.9 * gone, 0.025), stage(Kind::rest, day)}));
    CHECK_FALSE(early.first().stages[0].gone);
    CHECK(warned(early, "still on the meat"));
    const Outcome late = run(loin({dry(Kind::rub, 1.1 * gone, 0.025), stage(Kind::rest, day)}));
    CHECK(late.first().stages[0].gone);
    CHECK_FALSE(warned(late, "still on the meat"));
}

TEST_CASE("A rub thinner than the cells is soon gone, and what drips is not on the meat",
          "[cure]") {
    Question p = loin({dry(Kind::rub, 2 * day, 0.009)});
    p.base.cells = 6;
    const Outcome r = run(p);
    REQUIRE(r.first().stages[0].salt_left > 0); // it dripped
    // By the law of the square root for what goes in per face: minutes.
    REQUIRE(r.first().stages[0].gone);
    CHECK(*r.first().stages[0].gone > 0);
    CHECK(*r.first().stages[0].gone < 600);
    CHECK_FALSE(warned(r, "still on the meat"));
}

TEST_CASE("The plane across the needles goes on after a stage with a log", "[cure]") {
    Question p = loin({stage(Kind::rest, 12 * hour), stage(Kind::rest, 8 * day)}, "block");
    p.base.piece.dimensions.width = 0.06;
    p.base.cells = 12;
    p.base.temperature = 276.15;
    p.pump = needles(0.06, 0.08, 500e-6);
    const Outcome plain = run(p);
    p.stages[0].log = std::make_shared<cure::CoolerLog>(
        cure::cooler_log_from_csv("hours,temperature [C]\n0,3\n12,3\n", "log.csv"));
    const Outcome logged = run(p);
    // The stepper's tolerance is 1e-5 a step.
    CHECK(logged.first().stages[1].end.core_arrived ==
          Approx(plain.first().stages[1].end.core_arrived).epsilon(1e-3));
    CHECK(logged.first().stages[1].end.most_salt ==
          Approx(plain.first().stages[1].end.most_salt).epsilon(1e-3));
    REQUIRE(plain.first().lasting.has_value() == logged.first().lasting.has_value());
}

TEST_CASE("A brine of a stage's own goes on in the next with its own amount", "[cure]") {
    Stage own = stage(Kind::cover, 2 * day);
    own.brine.emplace();
    own.brine->salt = 0.08;
    own.brine->nitrite = 150e-6;
    own.brine->mass = 10;
    const Outcome r = run(loin({own, stage(Kind::rest, day), stage(Kind::cover, 2 * day)}));
    // Only time passes between: rounding.
    CHECK(r.first().stages[2].bath_start.mass ==
          Approx(r.first().stages[0].bath_end.mass).epsilon(1e-9));
    CHECK(r.first().stages[2].bath_start.salt ==
          Approx(r.first().stages[0].bath_end.salt).epsilon(1e-9));
    CHECK(r.first().stages[2].salt_left + r.first().stages[2].salt_taken ==
          Approx(r.first().stages[0].salt_left).epsilon(1e-9));
}

TEST_CASE("A piece too salty before the last cure begins has its last good day before it",
          "[cure]") {
    const Outcome once = run(loin({stage(Kind::cover, 10 * day)}));
    REQUIRE(once.first().last_good);
    REQUIRE(*once.first().last_good < 9 * day);
    const Outcome twice =
        run(loin({stage(Kind::cover, 10 * day), stage(Kind::rest, day), stage(Kind::cover, day)}));
    REQUIRE(twice.first().last_good);
    // Of two spans solved apart: the tolerance in time is 1e-6.
    CHECK(*twice.first().last_good == Approx(*once.first().last_good).epsilon(1e-4));
}

TEST_CASE("Without nitrite the core's salt is that between the needles, as the verdict has it",
          "[cure]") {
    Question p = loin({wait(Kind::rest, {Until::What::cured, 0}, 30 * day)}, "block");
    p.base.piece.dimensions.width = 0.06;
    p.base.cells = 12;
    p.base.brine.nitrite = 0;
    p.pump = needles(0.1, 0.2, 0);
    const Outcome r = run(p);
    REQUIRE(r.first().stages[0].met);
    CHECK(r.first().start.core_salt < r.first().target); // it has to come from the needles first
    CHECK(r.first().stages[0].end.core_salt ==
          Approx(r.first().target).epsilon(1e-3)); // two meshes' extrapolation
}

TEST_CASE("A wait that comes true on one mesh alone ends as the finer has it, and the stages after "
          "keep their length",
          "[cure]") {
    // Brine for a day, and then so long in water, or in fresh brine, that all is even: what the
    // meshes tell apart is what the day took in. A mean between theirs is met on one of them, late
    // or soon.
    const double most = 200 * day;
    for (const Kind kind : {Kind::soak, Kind::cover}) {
        Stage second = stage(kind, most);
        second.water = 5;
        second.fresh = true;
        const Meshes limit =
            on_each(loin({stage(Kind::cover, day), second}), &cure::Reading::mean_salt);
        const double between = (limit.coarse + limit.fine) / 2;
        CAPTURE(static_cast<int>(kind), limit.coarse, limit.fine);
        REQUIRE(std::abs(limit.coarse - limit.fine) >
                1e-5 * between); // ten times the solver's tolerance
        const bool fine_alone = (limit.fine < between) == (kind == Kind::soak);
        second.duration.reset();
        second.until = Until{Until::What::mean_salt, between};
        second.most = most;
        const Outcome r = run(loin({stage(Kind::cover, day), second, stage(Kind::rest, day)}));
        const cure::StageResult &wait = r.first().stages[1], &rest = r.first().stages[2];
        CHECK(wait.barely);
        CHECK(wait.met == fine_alone);
        CHECK(wait.from == Approx(day).epsilon(1e-12));
        if (fine_alone) {
            CHECK(wait.to > wait.from + day); // near the end of a slow approach
            CHECK(wait.to < wait.from + most);
            CHECK(wait.end.mean_salt == Approx(between).epsilon(1e-6)); // of one mesh, not of two
            CHECK(warned(r, "test: the end condition is barely reached"));
        } else {
            CHECK(wait.to == Approx(day + most).epsilon(1e-12));
            CHECK(warned(r, "test: the end condition is not reached in 200 days"));
        }
        CHECK(rest.from == wait.to);
        CHECK(rest.to == Approx(wait.to + day).epsilon(1e-12));
        CHECK(rest.end.mean_salt == Approx(wait.end.mean_salt).epsilon(1e-9)); // nothing touches it
        CHECK(r.first().salt_error < 1e-3 * between);
        CHECK(r.mass_balance_error < 1e-10);
    }
}

TEST_CASE("A core cured on the finer mesh alone has that day, with an error that covers three "
          "times the cells",
          "[cure]") {
    // Salt alone, 20 days: what is still to come dies away by a rate that cells slow down a little.
    Question p = loin({stage(Kind::cover, 20 * day)});
    p.base.brine.nitrite = 0;
    p.base.brine.mass.reset();
    const Meshes limit = on_each(p, &cure::Reading::core_salt);
    CAPTURE(limit.coarse, limit.fine);
    REQUIRE(limit.fine > limit.coarse * (1 + 1e-5));
    set(p, "target.salt-floor", base::significant(50 * (limit.coarse + limit.fine), 12) + " %");
    p.stages = {wait(Kind::cover, {Until::What::cured, 0}, 20 * day), stage(Kind::rest, day)};
    const Outcome r = run(p);
    REQUIRE(r.first().stages[0].barely);
    REQUIRE(r.first().cured);
    CHECK(*r.first().cured == Approx(r.first().stages[0].to).epsilon(1e-6));
    p.base.cells *= 3;
    const Outcome finer = run(p);
    REQUIRE(finer.first().cured);
    REQUIRE(r.first().cured_error);
    CHECK(std::abs(*r.first().cured - *finer.first().cured) <= *r.first().cured_error);
    CHECK(*r.first().cured_error < 0.1 * day); // and says something
}

TEST_CASE("What is told as the surface, and of the needles, is as deep and as much as the records "
          "of practice say",
          "[cure]") {
    const auto salt = [](const char* depth) {
        Question p = loin({stage(Kind::cover, 2 * day)});
        set(p, "practice.surface", depth);
        const Outcome r = run(p);
        CHECK(1000 * r.first().surface_depth == Approx(std::stod(depth)));
        return r.first().stages[0].end;
    };
    const cure::Reading whole = salt("20 mm"), skin = salt("0.01 mm"),
                        usual = salt("5 mm"); // of 40, from both faces
    CHECK(whole.surface_salt == Approx(whole.mean_salt).epsilon(1e-9));
    CHECK(skin.surface_salt == Approx(skin.most_salt).epsilon(1e-9)); // what touches the brine
    CHECK(usual.surface_salt < 0.95 * skin.surface_salt);
    CHECK(usual.surface_salt > 1.05 * whole.surface_salt);
    CHECK(usual.surface_salt ==
          run(loin({stage(Kind::cover, 2 * day)})).first().stages[0].end.surface_salt);

    const auto told = [](const char* share) {
        Question p = loin({stage(Kind::rest, 12 * hour)}, "block");
        p.base.piece.dimensions.width = 0.06;
        p.base.cells = 12;
        p.pump = needles(0.06, 0.08, 500e-6);
        set(p, "practice.between-needles", share);
        return run(p).first().core_between_needles;
    };
    CHECK(told("2 %"));
    CHECK_FALSE(told("1000 %"));
}

TEST_CASE("soak water is shared by the pieces in it", "[cure]") {
    // Three pieces in three times the brine and the water are one piece in one share.
    Question one = loin({stage(Kind::cover, 4 * day), soak(12 * hour, 2)});
    Question three = loin({stage(Kind::cover, 4 * day), soak(12 * hour, 6)});
    three.base.piece.pieces = 3;
    three.base.brine.mass = 9;
    const Outcome a = run(one), b = run(three);
    CHECK(b.first().stages[1].end.mean_salt ==
          Approx(a.first().stages[1].end.mean_salt).epsilon(1e-9));
    CHECK(b.first().stages[1].bath_end.salt ==
          Approx(a.first().stages[1].bath_end.salt).epsilon(1e-9));
    // And the bath does end saltier than with three times the water for each.
    CHECK(run(loin({stage(Kind::cover, 4 * day), soak(12 * hour, 6)}))
              .first()
              .stages[1]
              .bath_end.salt < 0.6 * a.first().stages[1].bath_end.salt);
}

} // namespace test_plan_edges
