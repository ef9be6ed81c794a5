// SPDX-License-Identifier: MIT
/// Rules of safety besides the law's limits: 40 F (4.44 C) for a cooler, common practice of US
/// codes; days to toxin 35, 21 and 14 at 3, 4 and 5 C (graham1997, abstract); 5 % of water-phase
/// salt against the botulinum that grows cold (fdafish, from memory); 22 mg of nitrite per kg of a
/// 70 kg adult is 1.54 g (gras1972).
#include "common.hpp"
#include "judge/judge.hpp"

#include <catch2/catch.hpp>

using namespace tidemark;
using namespace tidemark::judge;
using Catch::Contains;
using test::built_in;
using test::day;

namespace {

constexpr double zero = 273.15;

Findings at(double celsius) {
    Weighed w;
    w.periods = {{"cooler", zero + celsius, {}}};
    return judge::judge(w, built_in());
}

Findings kept(double days, double celsius, bool nitrite = true, double water_salt = 0.03) {
    return judge_time({{"cooler", zero + celsius, days * day}}, nitrite, water_salt, built_in());
}

} // namespace

TEST_CASE("a cooler is too warm from 40 F on", "[judge]") {
    CHECK_FALSE(at(4.4).has("warm-cooler"));
    CHECK(at(4.5).has("warm-cooler"));
    CHECK(at(4.5).dangers().size() == 1);
    CHECK(at(-2).has("freezing-cooler"));
    CHECK(at(-2).dangers().empty());
}

TEST_CASE("a brine that was heated is too warm from 40 F on, as a cooler is", "[judge]") {
    const auto chilled = [](double celsius, bool told = true) {
        Weighed w;
        w.chilled = Chilled{zero + celsius, told};
        return judge::judge(w, built_in());
    };
    CHECK_FALSE(chilled(4.4).has("warm-brine"));
    CHECK(chilled(4.5).has("warm-brine"));
    CHECK(chilled(-5).has("freezing-brine"));
    CHECK_FALSE(chilled(1).has("freezing-brine"));
    CHECK_THAT(chilled(40, false).dangers().front(), Contains("taken as boiling"));
}

TEST_CASE("a log too warm for a time is told with its hours", "[judge]") {
    CHECK(judge_log(0, built_in()).all().empty());
    const auto told = judge_log(1.5 * 3600, built_in()).dangers();
    REQUIRE(told.size() == 1);
    CHECK_THAT(told.front(), Contains("for 1.5 h on end"));
    Weighed w;
    w.above_limit = 60;
    CHECK(judge::judge(w, built_in()).has("warm-log"));
}

TEST_CASE("a cure without nitrite is told so, and one with it is not", "[judge]") {
    Weighed w;
    CHECK_FALSE(judge::judge(w, built_in()).has("no-nitrite"));
    w.nitrite = false;
    CHECK(judge::judge(w, built_in()).has("no-nitrite"));
}

TEST_CASE("days to toxin are told from the day on, on a line between the points", "[judge]") {
    CHECK_FALSE(kept(20.9, 4).has("long-cure"));
    CHECK(kept(21.1, 4).has("long-cure"));
    CHECK_FALSE(kept(27.9, 3.5).has("long-cure")); // half way from 35 to 21
    CHECK(kept(28.1, 3.5).has("long-cure"));
    CHECK_FALSE(kept(13.9, 8).has("long-cure")); // above the last point as there
    CHECK(kept(14.1, 8).has("long-cure"));
    CHECK_FALSE(kept(300, 2.9).has("long-cure"));
}

TEST_CASE("what comes beside cold decides how grave a long cure is", "[judge]") {
    CHECK(kept(40, 4).dangers().empty());
    CHECK(kept(40, 4).texts(Severity::warning).size() == 1);
    CHECK(kept(40, 4, false).dangers().size() == 1);
    CHECK(kept(40, 4, false, 0.049).dangers().size() == 1);
    CHECK_FALSE(kept(40, 4, false, 0.051).has("long-cure"));
    const std::vector<std::string> told = kept(40, 4).warnings();
    CHECK_THAT(told.front(), Contains("your local code decides (Graham 1997; FDA seafood guide)"));
    // Coldest growth -0.4, -1.3 and 5.2 C (icmsf1996): two grow at 4 C, one does not. Told with
    // --more alone.
    CHECK(kept(40, 4).all().back().aside);
    CHECK_THAT(told.back(),
               Contains("listeria") && Contains("yersinia") && !Contains("salmonella"));
}

TEST_CASE("times at several temperatures add up by their shares", "[judge]") {
    const auto two = [](double days_at_4, double days_at_5) {
        return judge_time({{"a", zero + 4, days_at_4 * day}, {"b", zero + 5, days_at_5 * day}},
                          true, 0.03, built_in())
            .has("long-cure");
    };
    CHECK_FALSE(two(10.5, 6.9)); // a half and a little less than a half
    CHECK(two(10.5, 7.1));
    // The days are those of all of it, the temperature that of the warmest, in whatever order.
    const auto told =
        judge_time({{"a", zero + 5, 12 * day}, {"b", zero + 4, 10 * day}}, true, 0.03, built_in())
            .warnings();
    REQUIRE(told.size() == 2);
    CHECK_THAT(told.front(), Catch::StartsWith("22 days at up to 5 °C"));
}

TEST_CASE("what else grows is told, the botulism of warm rooms from 10 C on", "[judge]") {
    // [icmsf1996]: from 10 C; [fdafish]: up to 10 % salt in the water, which no core here has.
    const auto told = [](double celsius) {
        return judge_time({{"a", zero + celsius, 30 * day}}, true, 0.03, built_in()).warnings()[1];
    };
    const std::string warm = "Clostridium botulinum of warm rooms";
    CHECK_THAT(told(9.9), Catch::Contains("listeria") && !Catch::Contains(warm));
    CHECK_THAT(told(10.1), Catch::Contains("listeria") && Catch::Contains(warm));
    CHECK_THAT(told(10.1), !Catch::Contains("nonproteolytic")); // the finding is of it
}

TEST_CASE("premix is taken for salt when it is a third of it and more", "[judge]") {
    const auto mistaken = [](double premix, double salt, double strength) {
        Weighed w;
        w.scale = Scale{premix, strength, 0, salt};
        return judge::judge(w, built_in()).has("premix-as-salt");
    };
    CHECK(mistaken(0.45, 0, 0.0625));
    CHECK(mistaken(0.2, 0.3, 0.0625));
    CHECK_FALSE(mistaken(0.03, 0.3, 0.0625));
    CHECK_FALSE(mistaken(0.3, 0, 0.006)); // a nitrite salt, meant as salt
}

TEST_CASE("a fatal amount on the scale is told with its grams", "[judge]") {
    Weighed w;
    w.scale = Scale{0.0245, 0.0625, 0, 0.3}; // 1.531 g of nitrite
    CHECK_FALSE(judge::judge(w, built_in()).has("fatal-dose"));
    w.scale->mass = 0.0247; // 1.544 g
    CHECK(judge::judge(w, built_in()).has("fatal-dose"));
}

TEST_CASE("a record of safety that is set is told, and cannot silence its own danger", "[judge]") {
    base::Records own = base::Records::built_in();
    own.set("limit.us.cured.immersion.nitrite", "9999 ppm", "--set");
    own.set("cooler.limit", "12 C", "--set");
    Weighed w;
    w.doses = {{"immersion", 300e-6, 0, 0, 1, 1}};
    w.periods = {{"cooler", zero + 9, {}}};
    const Findings f = judge::judge(w, own);
    CHECK(f.has("over-limit"));
    CHECK(f.has("warm-cooler"));
    REQUIRE(f.warnings().size() >= 2);
    CHECK_THAT(f.warnings()[0] + f.warnings()[1],
               Contains("limit set by you: cooler.limit = 53.6 F, where the record has 40 F ") &&
                   Contains("limit.us.cured.immersion.nitrite = 9999 ppm, where the record has "
                            "200 ppm [fsis1995]"));
    // A stricter one is judged by.
    own = base::Records::built_in();
    own.set("limit.us.cured.immersion.nitrite", "100 ppm", "--set");
    w.doses = {{"immersion", 150e-6, 0, 0, 1, 1}};
    CHECK(judge::judge(w, own).has("over-limit"));
    w.doses = {{"immersion", 99e-6, 0, 0, 1, 1}};
    CHECK_FALSE(judge::judge(w, own).has("over-limit"));
}
