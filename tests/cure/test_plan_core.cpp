// SPDX-License-Identifier: MIT
/// What a schedule says of the core itself.
#include "base/text.hpp"
#include "cure/plans.hpp"
#include "cure/two_meshes.hpp"
#include "output/json.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <string>

namespace test_plan_core {

using namespace tidemark;
using namespace tidemark::plans;

TEST_CASE("salt that a soak takes out no longer counts for a core cured by salt", "[cure]") {
    const auto schedule = [](double soaked) {
        Question p = loin({stage(Kind::cover, 10 * day), soak(soaked, 0)});
        p.base.brine.nitrite.reset();
        return p;
    };
    // Running water: after the sheet's own time, (20 mm)^2 / D or 20 days, hardly any is left.
    const Outcome out = run(schedule(60 * day));
    CHECK(out.first().stages[0].end.core_salt > out.first().target);
    CHECK(out.first().stages[1].end.core_salt < 0.05 * out.first().target);
    CHECK_FALSE(out.first().cured);
    // What counts for the core is what the core has: the same place, the same salt.
    CHECK(out.first().core.salt ==
          Approx(out.first().stages[1].end.core_salt).margin(1e-4 * out.first().target));
    // A soak that leaves it enough leaves it cured.
    const Outcome kept = run(schedule(hour));
    CHECK(kept.first().cured);
    // A wait for the core begins again from what is left.
    Question again = schedule(60 * day);
    again.stages.push_back(wait(Kind::cover, {Until::What::cured}));
    const Outcome waited = run(again);
    CHECK(waited.first().stages[2].to - waited.first().stages[2].from > day);
}

TEST_CASE("free nitrite of the core is the core's", "[cure]") {
    // A soak leaves the least at the faces; the core of a sheet lies in the middle.
    const Outcome r = run(loin({stage(Kind::cover, 6 * day), soak(6 * hour, 0)}));
    CHECK(r.first().core.depth == Approx(0.02).margin(1e-4));
    CHECK(r.first().stages[1].end.core_residual == Approx(r.first().core.residual).epsilon(1e-3));
    CHECK(r.first().stages[1].end.core_residual > 5e-6); // the faces have none
}

TEST_CASE("salt in the core's water is told alike by itself and with all else", "[cure]") {
    for (const bool pumped : {false, true}) {
        Question p = loin({stage(Kind::cover, 6 * day), soak(6 * hour, 0)});
        if (pumped)
            p.pump = needles(0.1, 0.12, 300e-6);
        const Outcome r = run(p);
        for (const double t : {2 * day, 6.1 * day}) {
            CAPTURE(pumped, t / day);
            CHECK(r.solved->fine->core_water_salt(t, 0) > 0);
            CHECK(r.solved->fine->core_water_salt(t, 0) ==
                  Approx(r.solved->fine->at(t, 0).core_water_salt).epsilon(1e-12));
        }
    }
}

TEST_CASE("grams of a piece are told where there is one", "[cure]") {
    Question p = loin({dry(Kind::rub, 5 * day, 0.02, 100e-6)});
    const auto stages = [](const Question& plan) {
        return nlohmann::json::parse(output::json("plan", {run(plan), {}, {}, {}, {}, {}, {}}))
            .at("stages")[0];
    };
    CHECK(stages(p).at("salt_taken_g").is_number());
    p.base.piece.weight = 0;
    for (const char* key :
         {"salt_taken_g", "salt_left_behind_g", "nitrite_taken_mg", "nitrite_left_behind_mg"})
        CHECK(stages(p).at(key).is_null());
}

TEST_CASE("the last good day of a warning is rounded down, like everywhere", "[cure]") {
    const Outcome r = run(loin({stage(Kind::cover, 40 * day)}));
    REQUIRE(r.first().last_good);
    const std::string last = base::day_number(*r.first().last_good, base::Rounding::down);
    CHECK(std::stod(last) * day <= *r.first().last_good);
    CHECK(std::ranges::any_of(r.findings.warnings(), [&](const std::string& w) {
        return w.starts_with("it stays in the cure for 40 days, and the latest is " + last +
                             " days: then");
    }));
}

} // namespace test_plan_core
