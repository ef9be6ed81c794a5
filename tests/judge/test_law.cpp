// SPDX-License-Identifier: MIT
/// The law's arithmetic, against the limits as the codes print them: US 200 ppm immersed or pumped,
/// 625 dry, bacon 120 immersed or pumped and 200 dry, a tenth less with the rind on, at least 120
/// in meat sold to be kept cold (fsis1995, pages 12 and 27 to 31); EU 80 ppm of the ion (eu2108),
/// which is 120 ppm of the salt; Canada 200 of nitrite and nitrate together, at least 100 (cfia).
#include "judge/judge.hpp"

#include "common.hpp"

#include <catch2/catch.hpp>

using namespace tidemark;
using namespace tidemark::judge;
using Catch::Contains;
using test::built_in;

namespace {

Weighed cure(std::vector<Dose> doses, const std::string& law = "us",
             const std::string& product = "cured") {
    Weighed w;
    w.law = law;
    w.product = product;
    w.doses = std::move(doses);
    return w;
}

Dose nitrite(const std::string& method, double ppm) {
    return {method, ppm * 1e-6, 0, 0, 1, 1};
}

bool over(const Weighed& w) {
    return judge::judge(w, built_in()).has("over-limit");
}

} // namespace

TEST_CASE("a limit is kept to the ppm, from both sides", "[judge]") {
    struct Case {
        const char *law, *product, *method;
        double limit;
    };
    for (const Case& c : {Case{"us", "cured", "immersion", 200},
                          {"us", "cured", "pumped", 200},
                          {"us", "cured", "dry", 625},
                          {"us", "bacon", "immersion", 120},
                          {"us", "bacon", "dry", 200},
                          {"us", "home", "immersion", 200},
                          {"us", "home", "dry", 200},
                          {"canada", "cured", "dry", 200},
                          {"canada", "bacon", "pumped", 120},
                          {"eu-old", "cured", "immersion", 150},
                          {"uk", "sterile", "pumped", 100}}) {
        CAPTURE(c.law, c.product, c.method);
        CHECK_FALSE(over(cure({nitrite(c.method, c.limit)}, c.law, c.product)));
        CHECK(over(cure({nitrite(c.method, 1.001 * c.limit)}, c.law, c.product)));
    }
    // The ion's 80 ppm are 80 x 69.00 / 46.01 of the salt, 119.97 (molar masses from memory).
    CHECK_FALSE(over(cure({nitrite("immersion", 119.9)}, "eu")));
    CHECK(over(cure({nitrite("immersion", 120.1)}, "eu")));
}

TEST_CASE("several methods add up and are held against the least of their limits", "[judge]") {
    const Weighed both = cure({nitrite("pumped", 150), nitrite("dry", 100)});
    const Law law = by_law(both, built_in());
    CHECK(law.ingoing == Approx(250e-6));
    REQUIRE(law.limit);
    CHECK(law.limit->value == Approx(200e-6)); // and not the 625 of dry cures
    CHECK(over(both));
    CHECK(over(cure({nitrite("dry", 100), nitrite("pumped", 150)})));
    CHECK_FALSE(over(cure({nitrite("pumped", 100), nitrite("dry", 100)})));
}

TEST_CASE("the rind takes a tenth off the limits of US bacon, and of nothing else", "[judge]") {
    Weighed w = cure({nitrite("immersion", 115)}, "us", "bacon");
    CHECK_FALSE(over(w));
    w.rind = true;
    CHECK(over(w));
    w.product = "cured";
    w.doses = {nitrite("immersion", 199)};
    CHECK_FALSE(over(w));
    CHECK_THAT(judge::judge(w, built_in()).texts(Severity::note).back(), // it does nothing here
               Contains("the rind lowers the limits of US bacon alone"));
    w.law = "canada"; // whose limit for bacon knows no rind
    w.product = "bacon";
    w.doses = {nitrite("immersion", 119)};
    CHECK_FALSE(over(w));
}

TEST_CASE("the least of a law is kept to the ppm", "[judge]") {
    const auto below = [](double ppm, const std::string& law) {
        return judge::judge(cure({nitrite("immersion", ppm)}, law), built_in()).has("below-least");
    };
    CHECK(below(119.9, "us"));
    CHECK_FALSE(below(120, "us"));
    CHECK(below(99.9, "canada"));
    CHECK_FALSE(below(100, "canada"));
    CHECK_FALSE(below(1, "eu")); // which sets none
    CHECK_FALSE(below(0, "us")); // that is told as no nitrite at all
}

TEST_CASE("US bacon has a most and a least that leave room between them", "[judge]") {
    // 120 ppm immersed or pumped, 200 dry, a tenth less with the rind on; a level is tested within
    // a fifth (fsis1995, pages 27 to 31; the fifth from memory).
    const auto has = [](const char* method, double ppm, bool rind, const char* code) {
        Weighed w = cure({nitrite(method, ppm)}, "us", "bacon");
        w.rind = rind;
        return judge::judge(w, built_in()).has(code);
    };
    for (const char* method : {"immersion", "pumped", "dry"}) {
        CAPTURE(method);
        CHECK(has(method, 95.9, false, "below-least"));
        CHECK_FALSE(has(method, 96.1, false, "below-least"));
        CHECK_FALSE(has(method, 119, false, "over-limit"));
    }
    CHECK(has("immersion", 108.1, true, "over-limit"));
    CHECK_FALSE(has("immersion", 107.9, true, "over-limit"));
    CHECK_FALSE(has("immersion", 107.9, true, "below-least"));
    CHECK(has("immersion", 86, true, "below-least")); // 96 less a tenth is 86.4
}

TEST_CASE("a home mix is held against what 21 CFR 172.170 and 172.175 let be left", "[judge]") {
    const auto home = [](double nitrite, double nitrate) {
        return judge::judge(cure({{"dry", nitrite * 1e-6, nitrate * 1e-6, 0, 1, 1}}, "us", "home"),
                            built_in());
    };
    CHECK_FALSE(home(200, 500).has("over-limit"));
    CHECK_FALSE(home(200, 500).has("nitrate-over-limit"));
    CHECK(home(201, 0).has("over-limit"));
    CHECK(home(200, 501).has("nitrate-over-limit"));
    CHECK_FALSE(home(60, 0).has("below-least")); // which is asked of what is sold
}

TEST_CASE("Canada lets nitrate into slow cures, beside the nitrite", "[judge]") {
    // 200 ppm of each (list of permitted preservatives); otherwise 200 in all (cfia).
    const auto slow = [](const char* method, double nitrite, double nitrate, const char* product) {
        return judge::judge(
            cure({{method, nitrite * 1e-6, nitrate * 1e-6, 0, 1, 1}}, "canada", product),
            built_in());
    };
    CHECK_FALSE(slow("dry", 190, 199, "slow").has("over-limit"));
    CHECK_FALSE(slow("dry", 190, 199, "slow").has("nitrate-over-limit"));
    CHECK(slow("dry", 190, 201, "slow").has("nitrate-over-limit"));
    CHECK(slow("dry", 201, 0, "slow").has("over-limit"));
    CHECK(slow("dry", 190, 20, "cured").has("over-limit"));
    CHECK_FALSE(slow("immersion", 100, 100, "slow").has("nitrate-in-brine"));
}

TEST_CASE("the EU counts the ion, and the message says so", "[judge]") {
    // 80 ppm of NO2 from 9 October 2025, 105 for Wiltshire bacon alone (eu2108); times 69.00/46.01.
    CHECK_FALSE(over(cure({nitrite("immersion", 157)}, "eu", "wiltshire-bacon")));
    CHECK(over(cure({nitrite("immersion", 158)}, "eu", "wiltshire-bacon")));
    CHECK_THAT(judge::judge(cure({nitrite("immersion", 130)}, "eu"), built_in()).dangers().front(),
               Contains("above the eu limit of 120 ppm (80 ppm as the ion)"));
}

TEST_CASE("erythorbate has a limit of its own", "[judge]") {
    const auto much = [](double ppm) { // 547 ppm in US cured meat (fsis1995, from memory)
        return judge::judge(cure({{"immersion", 150e-6, 0, ppm * 1e-6, 1, 1}}), built_in())
            .has("erythorbate-over-limit");
    };
    CHECK_FALSE(much(547));
    CHECK(much(548));
}

TEST_CASE("Canada counts nitrate with nitrite", "[judge]") {
    const Dose dose{"immersion", 150e-6, 60e-6, 0, 1, 1};
    CHECK(over(cure({dose}, "canada")));
    CHECK_FALSE(over(cure({dose}, "us")));
}

TEST_CASE("spoons are judged by their dangerous end, either way", "[judge]") {
    Dose dose = nitrite("immersion", 190);
    dose.high = 1.1; // 209 ppm
    CHECK(judge::judge(cure({dose}), built_in()).has("over-limit-by-spoon"));
    dose.high = 1.04; // 197.6
    CHECK_FALSE(judge::judge(cure({dose}), built_in()).has("over-limit-by-spoon"));
    dose = nitrite("immersion", 125);
    dose.low = 0.9; // 112.5
    CHECK(judge::judge(cure({dose}), built_in()).has("below-least-by-spoon"));
    CHECK_FALSE(judge::judge(cure({dose}), built_in()).has("below-least"));
    dose.low = 0.97; // 121.25
    CHECK_FALSE(judge::judge(cure({dose}), built_in()).has("below-least-by-spoon"));
}

TEST_CASE("a code without a limit on what goes in still sees what every code would", "[judge]") {
    CHECK_FALSE(judge::judge(cure({nitrite("immersion", 200)}, "codex"), built_in())
                    .has("over-every-limit"));
    CHECK(judge::judge(cure({nitrite("immersion", 201)}, "codex"), built_in())
              .has("over-every-limit"));
    CHECK(judge::judge(cure({nitrite("immersion", 1001)}, "codex"), built_in())
              .has("far-over-limit"));
    // Dry cures are let in more: 625 in the US.
    CHECK_FALSE(
        judge::judge(cure({nitrite("dry", 620)}, "codex"), built_in()).has("over-every-limit"));
}

TEST_CASE("the premix a danger names keeps to the limit, and a gram more does not", "[judge]") {
    // 2 kg of meat in 5 kg of water and 0.3 kg of salt: 45 g of a 6.25 % premix are 382 ppm.
    Weighed w = cure({nitrite("immersion", 1e6 * 0.0625 * 0.045 / 7.345)});
    w.scale = Scale{0.045, 0.0625, 0, 0.3, 7.3, 1};
    const auto dangers = judge::judge(w, built_in()).dangers();
    REQUIRE_FALSE(dangers.empty());
    // 200 ppm x 7.3 kg / (0.0625 - 200 ppm) = 23.435 g, cut off
    CHECK_THAT(dangers.front(), Contains(": at most 23.4 g of premix in place of 45 g"));
    const auto counted = [](double premix) { return 0.0625 * premix / (7.3 + premix); };
    CHECK(counted(0.0234) <= 200e-6);
    CHECK(counted(0.0244) > 200e-6);
}

TEST_CASE("nitrate is no part of a brine, nor of bacon, and limited in a dry cure", "[judge]") {
    const auto has = [](const std::string& method, double ppm, const std::string& product,
                        const std::string& code) {
        return judge::judge(cure({{method, 100e-6, ppm * 1e-6, 0, 1, 1}}, "us", product),
                            built_in())
            .has(code);
    };
    CHECK(has("immersion", 10, "cured", "nitrate-in-brine"));
    CHECK(has("pumped", 10, "cured", "nitrate-in-brine"));
    CHECK_FALSE(has("dry", 10, "cured", "nitrate-in-brine"));
    CHECK(has("dry", 10, "bacon", "nitrate-in-bacon"));
    CHECK_FALSE(has("dry", 2187, "cured", "nitrate-over-limit")); // fsis1995, from memory
    CHECK(has("dry", 2188, "cured", "nitrate-over-limit"));
    CHECK(has("dry", 501, "home", "nitrate-over-limit")); // cfr21 172.170
}

TEST_CASE("pumped US bacon is asked for its erythorbate, to within a fifth", "[judge]") {
    const auto asked = [](double ppm, const std::string& method, const std::string& law) {
        return judge::judge(cure({{method, 100e-6, 0, ppm * 1e-6, 1, 1}}, law, "bacon"), built_in())
            .has("bacon-without-erythorbate");
    };
    CHECK(asked(439, "pumped", "us")); // 550 less a fifth is 440
    CHECK_FALSE(asked(441, "pumped", "us"));
    CHECK_FALSE(asked(0, "immersion", "us"));
    CHECK_FALSE(asked(0, "pumped", "canada"));
}

TEST_CASE("nitrate in a brine is told whatever the meat weighs", "[judge]") {
    Weighed w = cure({});
    w.meat_known = false;
    w.brine_nitrate = 1e-6;
    CHECK(judge::judge(w, built_in()).has("nitrate-in-brine"));
    w.product = "bacon";
    CHECK(judge::judge(w, built_in()).has("nitrate-in-bacon"));
}

TEST_CASE("what no meat of known weight is in is told by what it would take", "[judge]") {
    Weighed w = cure({});
    w.meat_known = false;
    w.brine_nitrite = 1001e-6;
    CHECK(judge::judge(w, built_in()).has("strong-brine"));
    // x of meat to 1 of brine holds 1001 / (1 + x): 200 at 4.005, shown to the safe side.
    CHECK_THAT(judge::judge(w, built_in()).dangers().front(), Contains("only with 4.1 times"));
    w.brine_nitrite = 999e-6;
    CHECK_FALSE(judge::judge(w, built_in()).has("strong-brine"));
    CHECK(judge::judge(w, built_in()).has("weight-unknown"));
}
