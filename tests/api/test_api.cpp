// SPDX-License-Identifier: MIT
/// The engine by its public names tells what the program tells.
#include "api/tidemark.hpp"
#include "common.hpp"

#include "base/record.hpp"
#include "cure/outcome.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <limits>

using namespace tidemark;
using Catch::Contains;
using test::day;

namespace {

api::Case loin() {
    api::Case c;
    c.shape = "round";
    c.thickness = 0.05;
    c.brine_salt = 0.06;
    c.brine_nitrite = 200e-6;
    return c;
}

} // namespace

TEST_CASE("a case has the days that the engine inside gives", "[api]") {
    const api::Cure cure(loin(), 1024);
    const api::Answer& a = cure.answer();
    cure::Case inside;
    inside.piece.shape = "round";
    inside.piece.dimensions.thickness = 0.05;
    inside.brine.salt = 0.06;
    inside.brine.nitrite = 200e-6;
    const cure::Outcome o = cure::run(cure::in_brine(inside), base::Records::built_in());
    REQUIRE(a.cured);
    CHECK(*a.cured == Approx(*o.first().cured).epsilon(1e-9));
    CHECK(a.target == Approx(o.first().target).epsilon(1e-9));
    CHECK(a.error > 0);
    CHECK(a.error < 0.01 * *a.cured);
    REQUIRE(a.best);
    CHECK(a.chance > 0.01);
    CHECK(a.core_depth == Approx(0.025).epsilon(1e-3)); // the middle of a round
    // On the day it is cured the core has just its target, and the mean has more.
    CHECK(cure.core(*a.cured).nitrite == Approx(a.target).epsilon(1e-3));
    CHECK(cure.mean(*a.cured).nitrite > a.target);
    CHECK(cure.core(0).salt == Approx(0).margin(1e-3)); // but for what raw meat holds
    CHECK(cure.mean(5 * day).salt > cure.core(5 * day).salt);
    const auto object = nlohmann::json::parse(cure.json());
    CHECK(object["command"] == "day");
    CHECK(object["best_day"].get<double>() == Approx(*a.best / day));
    CHECK(object["chance"].get<double>() == Approx(a.chance));
    CHECK(object["version"] == api::version());
}

TEST_CASE("bones move the day of the core, and days good enough have a first and a last", "[api]") {
    api::Case c = loin();
    c.shape = "loin";
    c.width = 0.09;
    c.brine_salt = 0.035;
    const api::Cure without(c, 512, 0.5);
    c.bones = 4;
    const api::Cure with(c, 512, 0.5);
    REQUIRE((with.answer().cured && without.answer().cured));
    CHECK(*with.answer().cured != *without.answer().cured);
    const api::Answer& a = without.answer();
    REQUIRE((a.best && a.from && a.to));
    CHECK(a.chance >= 0.5);
    CHECK(*a.from <= *a.best);
    CHECK(*a.to >= *a.best);
}

TEST_CASE("without draws there are no chances, and the piece is told all the same", "[api]") {
    const api::Answer a = api::Cure(loin(), 0).answer();
    CHECK_FALSE(a.best);
    CHECK(a.cured);
    CHECK_FALSE(a.cautions.empty());
}

TEST_CASE("what is dangerous is told, also of what is refused", "[api]") {
    api::Case c = loin();
    c.cooler = 285.15; // 12 C
    CHECK_FALSE(api::Cure(c, 0).answer().dangers.empty());
    c.brine_mass = 5; // around meat of unknown weight
    try {
        api::Cure(c, 0);
        FAIL("not refused");
    } catch (const api::Refused& refused) {
        CHECK_THAT(refused.what(), Contains("weight"));
        CHECK_FALSE(refused.dangers.empty());
    }
}

TEST_CASE("values that no kitchen sees are refused", "[api]") {
    const auto refused = [](const api::Case& c, const std::string& by, int draws = 0) {
        CHECK_THROWS_WITH(api::Cure(c, draws), Contains(by));
        CHECK_THROWS_AS(api::Cure(c, draws), api::Refused);
    };
    api::Case c = loin();
    c.thickness = 3;
    refused(c, "thickness: ");
    c.thickness = std::numeric_limits<double>::quiet_NaN();
    refused(c, "thickness: ");
    c = loin();
    c.muscle = "unicorn";
    refused(c, "muscle: unicorn: is not a known name");
    c = loin();
    c.shape = "outline";
    refused(c, "shape: outline: ");
    c = loin();
    c.law = "mars";
    refused(c, "law: mars: ");
    refused(loin(), "draws: ", -1);
    CHECK_THROWS_AS(api::Cure(loin(), 0).core(-1), api::Failed);
}

TEST_CASE("every name that is offered is taken", "[api]") {
    for (const std::string& muscle : api::muscles()) {
        api::Case c = loin();
        c.muscle = muscle;
        c.shape = "sheet";
        CAPTURE(muscle);
        CHECK(api::Cure(c, 0).answer().target > 0);
    }
    for (const std::string& shape : api::shapes()) {
        api::Case c = loin();
        c.shape = shape;
        c.width = shape == "block" ? 0.08 : 0;
        CAPTURE(shape);
        CHECK(api::Cure(c, 0).answer().cured);
    }
}
