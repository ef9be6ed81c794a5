// SPDX-License-Identifier: MIT
/// A stage written back as a cook types it: each phrase, in the order in which it is read.
#include "common.hpp"
#include "cure/stage_words.hpp"

#include <catch2/catch.hpp>

namespace test_stage_words {

using namespace tidemark;
using namespace tidemark::cure;
using test::day;
using test::hour;
using Kind = Stage::Kind;

TEST_CASE("what a stage waits for is written in its own words", "[cure]") {
    const auto words = [](Until::What what, double value) {
        Stage s;
        s.until = Until{what, value};
        return *stage_words(s);
    };
    using enum Until::What;
    CHECK(words(cured, 0) == "brine, until cured");
    CHECK(words(cured, 0.022) == "brine, until cured and mean 2.2 %");
    CHECK(words(lasting, 0) == "brine, until lasting");
    CHECK(words(mean_salt, 0.02) == "brine, until mean 2 %");
    CHECK(words(surface_salt, 0.03) == "brine, until surface 3 %");
    CHECK(words(even, 0.2) == "brine, until even 20 %");
    Stage s;
    s.until = Until{};
    s.most = 30 * day;
    CHECK(*stage_words(s) == "brine, until cured, most 30 d");
}

TEST_CASE("a brine of a stage is written with its strength and how much of it", "[cure]") {
    Stage s;
    s.duration = 5 * day;
    s.brine = Brine{};
    s.brine->salt = 0.06;
    s.brine->nitrite = 150e-6;
    CHECK(*stage_words(s) == "brine, salt 6 %, nitrite 150 ppm, 5 d");
    s.brine->volume = 0.004;
    CHECK(*stage_words(s) == "brine, salt 6 %, nitrite 150 ppm, 4 L, 5 d");
    s.brine->mass = 4.2;
    CHECK(*stage_words(s) == "brine, salt 6 %, nitrite 150 ppm, 4.2 kg, 5 d");
    s.amount = "1 gal";
    s.sealed = {"top", "left"};
    CHECK(*stage_words(s) == "brine, salt 6 %, nitrite 150 ppm, 1 gal, 5 d, sealed top left");
    s.brine->nitrate = 1e-4; // no phrase of a stage has it
    CHECK_FALSE(stage_words(s));
}

TEST_CASE("a rub, a soak and a rest are written with what they have", "[cure]") {
    Stage rub;
    rub.kind = Kind::rub;
    rub.salt = 0.03;
    rub.nitrite = 120e-6;
    rub.purge = 0.05;
    rub.duration = 10 * day;
    rub.temperature = 273.15 + 10. / 3; // 38 F
    CHECK(*stage_words(rub) == "rub, salt 30 g/kg, nitrite 120 ppm, purge 5 %, 10 d, at 38 F");
    Stage soak;
    soak.kind = Kind::soak;
    soak.water = 8;
    soak.changes = 2;
    soak.duration = 6 * hour;
    CHECK(*stage_words(soak) == "soak, 8 kg, changes 2, 6 h");
    Stage rest;
    rest.kind = Kind::rest;
    rest.duration = 3 * day;
    rest.temperature = 277.15;
    CHECK(*stage_words(rest) == "rest, 3 d, at 4 C");
}

} // namespace test_stage_words
