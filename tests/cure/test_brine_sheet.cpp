// SPDX-License-Identifier: MIT
/// The sheet of a brine: its numbers and what it warns of.
#include "common.hpp"
#include "cure/brine_sheet.hpp"

#include "base/error.hpp"
#include "cure/ingoing.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

namespace test_brine_sheet {

using namespace tidemark;
using namespace tidemark::cure;
using Catch::Contains;

namespace {

BrineSheet sheet(const BrineQuestion& q) {
    return work_out(q, test::first_taken());
}

/// 2.5 kg of meat in 2 kg of brine of 5 %, with a given nitrite over both [kg/kg].
BrineQuestion constructed(double level) {
    BrineQuestion q;
    q.weight = 2.5;
    q.brine.premix = nitrite_for_whole(level, 2.5, 2) / 0.0625;
    q.brine.salt_added = 0.1 - *q.brine.premix * 0.9375;
    q.brine.water = 2 - 0.1 - *q.brine.premix * 0.0625;
    return q;
}

bool says(const std::vector<std::string>& lines, const std::string& text) {
    return std::ranges::any_of(
        lines, [&](const std::string& line) { return line.find(text) != std::string::npos; });
}

} // namespace

TEST_CASE("The sheet shows the handbook's arithmetic beside the limit", "[cure]") {
    const BrineSheet s = sheet(constructed(120e-6));
    const Dose& dose = *s.judged("nitrite");
    CHECK(1e3 * s.recipe.premix.value() == Approx(8.64)); // constructed, see test_ingoing.cpp
    CHECK(dose.method == "immersion");
    CHECK(1e6 * dose.value == Approx(120));
    CHECK(1e6 * dose.limit.value().value == Approx(200)); // [fsis1995] page 12
    CHECK(s.figure("mass")->value == Approx(2));
    CHECK(100 * s.figure("salt")->value == Approx(5));
    CHECK(s.figure("salometer")->value == Approx(100 * 5 / 26.395)); // its definition
    CHECK(s.findings.dangers().empty());
    CHECK(says(s.findings.cautions(),
               "24.6 g of a premix of 6.25 % can kill an adult and 0.672 g make one ill"));
}

TEST_CASE("Nothing is off when all was weighed, and spoons widen what they should", "[cure]") {
    BrineQuestion q = constructed(150e-6);
    for (const Figure& f : sheet(q).figures) {
        CHECK(f.low == f.value);
        CHECK(f.high == f.value);
    }
    q.brine.spread.premix = 1.2;
    const BrineSheet s = sheet(q);
    const Dose& dose = *s.judged("nitrite");
    // The premix is all of the nitrite and hardly any of the weight: to 1 %.
    CHECK(dose.high / dose.value == Approx(1.2).epsilon(0.01));
    CHECK(dose.value / dose.low == Approx(1.2).epsilon(0.01));
    q.brine.spread.premix = 1;
    q.brine.spread.salt = 1.2;
    const BrineSheet salty = sheet(q);
    CHECK(salty.figure("salt")->high / salty.figure("salt")->value == Approx(1.17).epsilon(0.02));
    CHECK(salty.judged("nitrite")->high / salty.judged("nitrite")->low < 1.02);
    // A spoon that may pass the limit is said to.
    q = constructed(190e-6);
    q.brine.spread.premix = 1.2;
    CHECK(says(sheet(q).findings.dangers(), "may be as high as 228 ppm"));
}

TEST_CASE("A brine over the limit is told how much premix it may have", "[cure]") {
    const BrineSheet s = sheet(constructed(240e-6));
    // 200 ppm x (4.5 kg - 17.28 g) / (6.25 % - 200 ppm) = 14.39 g, cut off; 14.4 g in a pot that
    // much lighter would be 200.1 ppm.
    CHECK(s.findings.dangers().at(0) ==
          "ingoing nitrite 240 ppm is above the us limit of 200 ppm, immersion: at most 14.3 g of "
          "premix in place of 17.3 g");
    CHECK(sheet(constructed(200e-6)).findings.dangers().empty()); // at the limit is not over it
    BrineQuestion bacon = constructed(115e-6);
    bacon.product = "bacon";
    CHECK_FALSE(says(sheet(bacon).findings.dangers(), "is above"));
    bacon.rind = true; // 108
    CHECK(says(sheet(bacon).findings.dangers(),
               "115 ppm is above the us limit of 108 ppm for bacon"));
}

TEST_CASE("A brine below the least of a cured product kept cold is told so", "[cure]") {
    CHECK(says(sheet(constructed(100e-6)).findings.warnings(),
               "ingoing nitrite 100 ppm is below the 120 ppm"));
    BrineQuestion q = constructed(90e-6);
    q.law = "canada";
    CHECK(says(sheet(q).findings.warnings(), "below the 100 ppm the canada code"));
    q.law = "eu"; // has no least
    CHECK(sheet(q).findings.dangers().empty());
}

TEST_CASE("Dosing for a weighed gain and leaving the meat in is caught", "[cure]") {
    // Constructed: 2 kg of pickle dosed for 120 ppm at 10 % holds 533 ppm at balance, 4.4 times.
    BrineQuestion q = constructed(120e-6);
    const double extra = 38.4e-3 - *q.brine.premix; // 2.4 g of nitrite: 120 ppm of 0.2 kg
    *q.brine.premix += extra;
    *q.brine.water -= extra;
    q.pick_up = 0.1;
    const BrineSheet s = sheet(q);
    CHECK(1e6 * s.judged("nitrite")->value == Approx(120));
    CHECK(s.judged("nitrite")->method == "pick-up");
    CHECK(says(s.findings.dangers(),
               "gained 10 %, 250 g (8.8 oz): left until balance it holds 533 ppm, 4.4 "
               "times as much"));
    q.pick_up.reset();
    CHECK(says(sheet(q).findings.dangers(), "ingoing nitrite 533 ppm is above"));
    q.pick_up = q.pump = 0.1;
    CHECK_THROWS_WITH(sheet(q), "--pump: 10 %: does not go with --pick-up; keep the one that is "
                                "weighed");
}

TEST_CASE("Premix in place of salt is caught", "[cure]") {
    // 20 g of premix to a kilogram of meat is 1250 ppm (reckoned apart): the salt of a dry cure.
    CHECK(ingoing_on_green(nitrite_in(0.020, 0.0625), 1) * 1e6 == Approx(1250));
    BrineQuestion q = constructed(120e-6);
    q.brine.premix = 0.1;
    q.brine.salt_added = 0.01;
    const BrineSheet s = sheet(q);
    CHECK(says(s.findings.dangers(), "was it taken for table salt?"));
    CHECK(
        says(s.findings.dangers(), "times the limit: look for a percent written as a proportion"));
    CHECK(says(s.findings.warnings(), "24.6 g of this premix can kill an adult, and "));
    // A nitrite salt of 0.6 % is meant as salt.
    q.brine.premix_strength = 0.006;
    CHECK_FALSE(says(sheet(q).findings.dangers(), "table salt"));
}

TEST_CASE("A premix with nitrate does not belong in a brine, least of all bacon's", "[cure]") {
    BrineQuestion q = constructed(120e-6);
    q.brine.premix_nitrate = 0.04;
    CHECK(says(sheet(q).findings.dangers(),
               "the premix holds nitrate, which is for dry cures of months"));
    CHECK_FALSE(says(sheet(q).findings.dangers(), "no nitrate is allowed"));
    CHECK(says(sheet(q).findings.warnings(),
               "limit for nitrate is from memory: verify with your authority"));
    q.product = "bacon";
    CHECK(says(sheet(q).findings.dangers(), "no nitrate is allowed in bacon"));
    // Canada counts both together: 120 ppm and 0.64 times that of nitrate.
    q.product = "cured";
    q.law = "canada";
    CHECK(1e6 * sheet(q).judged("nitrite")->value == Approx(120 * (1 + 0.04 / 0.0625)));
}

TEST_CASE("Pumped bacon without erythorbate is caught", "[cure]") {
    BrineQuestion q = constructed(120e-6);
    q.product = "bacon";
    q.pump = 0.1;
    CHECK(says(sheet(q).findings.dangers(), "pumped bacon needs 550 ppm"));
    q.brine.erythorbate = 2 * 550e-6 / 0.1;
    CHECK_FALSE(says(sheet(q).findings.dangers(), "pumped bacon needs 550 ppm"));
}

TEST_CASE("A warm brine or cooler, and ice that freezes the meat, are caught", "[cure]") {
    BrineQuestion q = constructed(120e-6);
    q.temperature = 279.15;
    CHECK(says(sheet(q).findings.dangers(),
               "cooler: 6 °C (43 °F) is warmer than a cure may be kept"));
    q.temperature = 277.15;
    q.brine.cooling = Brine::Cooling{363.15}; // 90 C
    const BrineSheet hot = sheet(q);
    CHECK(says(hot.findings.dangers(),
               "the brine comes to 90 °C (194 °F): no meat in it above 4.4 °C"));
    // The ice it asks for does it, and the strength then is as told.
    q.brine.ice = hot.cooled->ice_for_limit;
    const BrineSheet cold = sheet(q);
    CHECK(cold.cooled->mixed.temperature == Approx(273.15 + (40 - 32) / 1.8).epsilon(1e-9));
    CHECK_FALSE(says(cold.findings.dangers(), "no meat in it"));
    CHECK(cold.pickle.salt == Approx(hot.cooled->salt_then));
    q.brine.ice = 6;
    q.brine.cooling->ice_temperature = 255.15;
    q.brine.salt_added = 0.3;
    q.brine.premix = 0.02;
    CHECK(says(sheet(q).findings.dangers(), "freezes the meat: use less ice"));
}

TEST_CASE("The whole pot is cooled, even if the meat gets a part of it", "[cure]") {
    BrineQuestion q = constructed(120e-6);
    q.brine.cooling = Brine::Cooling{363.15}; // 90 C
    const double ice = sheet(q).cooled->ice_for_limit;
    q.brine.mass = 1;
    CHECK(sheet(q).cooled->ice_for_limit == Approx(ice).epsilon(1e-12));
    CHECK(sheet(q).figure("mass")->value == 1);
}

TEST_CASE("Ice kept back from the water is a recipe of the same strength", "[cure]") {
    BrineQuestion q = constructed(120e-6);
    q.brine.cooling = Brine::Cooling{363.15}; // 90 C
    const double ice = sheet(q).cooled->ice_in_place.value();
    *q.brine.water -= ice;
    q.brine.ice = ice;
    const BrineSheet s = sheet(q);
    CHECK(100 * s.pickle.salt == Approx(5));
    CHECK(s.cooled->mixed.temperature == Approx(273.15 + (40 - 32) / 1.8).epsilon(1e-9));
    CHECK(1e6 * s.judged("nitrite")->value == Approx(120));
}

TEST_CASE("Targets give a recipe that is legal after rounding", "[cure]") {
    BrineQuestion q;
    q.weight = 2.3;
    q.pieces = 2;
    q.wish = BrineQuestion::Wish{0.02, 150e-6, 9e-3, 1e-3, "fine-salt", "white-sugar"};
    const BrineSheet s = sheet(q);
    const double step = 1e-3 / (4.6 + s.pickle.mass) * 0.0625; // of premix, as ingoing nitrite
    CHECK(s.judged("nitrite")->value == Approx(150e-6).margin(0.6 * step));
    CHECK(100 * s.figure("salt_at_balance")->value == Approx(2).epsilon(0.005)); // half a gram
    CHECK(s.ingredients.size() == 3);
    CHECK(s.ingredients[1].spoon.has_value()); // salt
    CHECK_FALSE(s.ingredients[2].spoon);       // never premix
    // Coarse scales lose premix, and say so.
    q.wish->scale = 0.02;
    CHECK(says(sheet(q).findings.warnings(), "the premix: weigh it on finer scales"));
    q.wish->scale.reset(); // those that do are taken
    q.weight = 0.3;
    q.pieces = 1;
    q.wish->container = 0.6e-3;
    CHECK(sheet(q).step == 1e-4);
    CHECK_FALSE(says(sheet(q).findings.warnings(), "finer scales"));
    q.brine.water = 3;
    CHECK_THROWS_AS(sheet(q), base::InputError);
}

TEST_CASE("A recipe never draws a finding of the law that its target does not", "[cure]") {
    // 120 ppm is both the most of US bacon by immersion and the least of what is kept cold; 200 is
    // the most (fsis1995, pages 12 and 27 to 31). Amounts of meat and brine are invented.
    for (const char* product : {"cured", "bacon"})
        for (const double ppm : {120., 125., 200.})
            for (const double meat : {0.7, 1.3, 2.5, 4.9}) {
                if (ppm > 120 && product == std::string("bacon"))
                    continue;
                BrineQuestion q;
                q.product = product;
                q.weight = meat;
                q.brine.mass = 0.9 * meat;
                q.wish = BrineQuestion::Wish{0.02, ppm * 1e-6, {}, {}};
                const BrineSheet s = sheet(q);
                CAPTURE(product, ppm, meat, s.judged("nitrite")->value);
                CHECK(s.findings.dangers().empty());
                for (const char* code : {"below-least", "over-limit"})
                    CHECK_FALSE(s.findings.has(code));
            }
}

TEST_CASE("A recipe for pumped US bacon has the erythorbate it asks for", "[cure]") {
    // 550 ppm ingoing, a tenth less with the rind on (fsis1995, pages 27 to 31).
    for (const bool rind : {false, true}) {
        BrineQuestion q;
        q.product = "bacon";
        q.rind = rind;
        q.weight = 4;
        q.pump = 0.1;
        q.way = Way::needles;
        q.wish = BrineQuestion::Wish{0.02, rind ? 105e-6 : 115e-6, {}, {}};
        const BrineSheet s = sheet(q);
        CHECK(s.findings.dangers().empty());
        CHECK(s.judged("erythorbate")->value ==
              Approx((rind ? 495e-6 : 550e-6)).epsilon(0.1)); // half a gram of 2.2
    }
}

TEST_CASE("A recipe for hot brine keeps back the ice that cools it", "[cure]") {
    BrineQuestion q;
    q.weight = 2.5;
    q.brine.mass = 3;
    q.brine.cooling = Brine::Cooling{};
    q.wish = BrineQuestion::Wish{0.02, 130e-6, {}, {}};
    const BrineSheet s = sheet(q);
    CHECK(s.recipe.ice.value_or(0) > 1);
    CHECK(s.findings.dangers().empty());
    CHECK(s.cooled->mixed.temperature <= s.cooled->limit);
    CHECK(100 * s.figure("salt_at_balance")->value == Approx(2).epsilon(0.01));
}

TEST_CASE("A code that counts only what is left says that nothing can be reckoned", "[cure]") {
    BrineQuestion q = constructed(119e-6);
    q.law = "codex";
    CHECK_FALSE(sheet(q).judged("nitrite")->limit);
    CHECK_FALSE(sheet(q).findings.has("limit-is-on-what-is-left")); // no more is left than that
    q = constructed(121e-6); // above 80 ppm of the ion, 119.97 of the salt (codex192)
    q.law = "codex";
    CHECK(says(sheet(q).findings.warnings(), "the codex code limits what is left in the product, "
                                             "to 120 ppm (80 ppm as the ion), not what goes in"));
}

TEST_CASE("Without the weight of the meat only the brine is told", "[cure]") {
    BrineQuestion q = constructed(120e-6);
    q.weight = 0;
    const BrineSheet s = sheet(q);
    CHECK(s.doses.empty());
    CHECK(s.figure("salt_at_balance") == nullptr);
    CHECK_FALSE(says(s.findings.warnings(), "partition"));
    q.brine.salt_added = 0.004; // 0.6 %, below the 1.5 % the balance was measured from
    CHECK(says(sheet(q).findings.warnings(), "solute.salt.partition"));
    CHECK(says(s.findings.warnings(), "without --weight nothing can be said about the meat"));
}

TEST_CASE("cold water cools the pot by its own heat", "[cure]") {
    // By hand: 1.06 kg of a hot 5.7 % brine at 90 C, 3.9 kJ/(kg K), and 3 kg of water at 15 C,
    // 4.19 kJ/(kg K) (handbook values, from memory): (1.06 x 3.9 x 90 + 3 x 4.19 x 15) /
    // (1.06 x 3.9 + 3 x 4.19) = 33.6 C; half a degree for the specific heat.
    BrineQuestion q;
    q.brine.water = 1;
    q.brine.salt_added = 0.06;
    q.brine.cold_water = 3;
    q.brine.cooling = Brine::Cooling{363.15}; // 90 C
    const BrineSheet s = sheet(q);
    REQUIRE(s.cooled);
    CHECK(s.cooled->mixed.temperature - 273.15 == Approx(33.6).margin(0.5));
    CHECK(100 * s.pickle.salt == Approx(100 * 0.06 / 4.06));
}

} // namespace test_brine_sheet
