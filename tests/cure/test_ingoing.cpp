// SPDX-License-Identifier: MIT
/// The regulator's arithmetic. The vectors were CONSTRUCTED from the handbook's formulae and
/// reckoned apart: its own printed examples were not seen. One is printed, and says so.
#include "cure/ingoing.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

namespace test_ingoing {

using namespace tidemark;
using namespace tidemark::cure;

namespace {
constexpr double ppm = 1e6;
}

TEST_CASE("Ground and dry-cured meat is dosed on its green weight", "[cure]") {
    CHECK(ingoing_on_green(0.156, 1000) * ppm == Approx(156.0));
    CHECK(ingoing_on_green(nitrite_in(0.25, 0.0625), 100) * ppm == Approx(156.25));
    // Grams of a 6.25 % mix per kilogram of meat, as constructed.
    struct Row {
        double ppm, grams;
    };
    const auto row =
        GENERATE(Row{120, 1.92}, Row{150, 2.40}, Row{156, 2.496}, Row{200, 3.20}, Row{625, 10.00});
    CHECK(ingoing_on_green(nitrite_in(row.grams / 1e3, 0.0625), 1) * ppm == Approx(row.ppm));
}

TEST_CASE("A percent entered as a proportion is refused", "[cure]") {
    // The trap: 6.25 in place of 0.0625 would give 15 625 ppm in place of 156.25.
    CHECK_THROWS_WITH(nitrite_in(0.25, 6.25),
                      "strength of the premix: 6.25: is not a proportion from 0 to 1; 6.25 % is "
                      "0.0625: a percent in its place is 100 times too much");
    CHECK_THROWS_AS(ingoing_taken_up(0.2, 10, 100), base::InputError);
    CHECK_THROWS_AS(ingoing_taken_up(0.2, -0.1, 100), base::InputError);
}

TEST_CASE("Pumped meat is dosed by the pickle it keeps", "[cure]") {
    // 3.2 lb of 6.25 % mix in 100 lb of finished pickle, 10 % pump: 200 ppm. Bacon at 12 % pump and
    // 120 ppm: 0.1 lb of nitrite, 1.6 lb of mix. Constructed.
    CHECK(ingoing_taken_up(nitrite_in(3.2, 0.0625), 0.1, 100) * ppm == Approx(200.0));
    CHECK(ingoing_taken_up(0.1, 0.12, 100) * ppm == Approx(120));
    CHECK(ingoing_taken_up(nitrite_in(1.6, 0.0625), 0.12, 100) * ppm == Approx(120));
    // Printed in a secondary text: 32 g of a 5.88 % mix in 1266 g of pickle at 10 %: 148.6 ppm.
    CHECK(ingoing_taken_up(nitrite_in(32, 0.0588), 0.1, 1266) * ppm ==
          Approx(148.6).margin(0.05).epsilon(0));
}

TEST_CASE("Meat and pickle left until balance are one system", "[cure]") {
    // 100 lb of meat, 50 lb of pickle, 200 ppm: 0.03 lb of nitrite, 0.48 lb of 6.25 % mix. 2.5 kg
    // and 2 kg at 120 ppm: 8.64 g of mix. Constructed.
    CHECK(nitrite_for_whole(200 / ppm, 100, 50) == Approx(0.0300));
    CHECK(nitrite_for_whole(200 / ppm, 100, 50) / 0.0625 == Approx(0.480));
    CHECK(ingoing_whole(0.03, 100, 50) * ppm == Approx(200));
    CHECK(nitrite_for_whole(120 / ppm, 2.5, 2) / 0.0625 * 1e3 == Approx(8.64));
}

TEST_CASE("A pickle dosed for a weighed gain holds four times as much at balance", "[cure]") {
    // 2 kg of pickle, 2.5 kg of meat, 120 ppm at 10 %: 2.4 g of nitrite, 38.4 g of mix, and 533 ppm
    // at balance, 4.4 times. Dosed for balance, 0.54 g, it reads 27 ppm the other way. Constructed.
    const double taken = nitrite_in(38.4e-3, 0.0625);
    CHECK(taken * 1e3 == Approx(2.40));
    CHECK(ingoing_taken_up(taken, 0.1, 2) * ppm == Approx(120));
    CHECK(ingoing_whole(taken, 2.5, 2) * ppm == Approx(533).margin(0.5).epsilon(0));
    CHECK(ingoing_whole(taken, 2.5, 2) / (120 / ppm) == Approx(4.4).margin(0.05).epsilon(0));
    const double whole = nitrite_for_whole(120 / ppm, 2.5, 2);
    CHECK(whole * 1e3 == Approx(0.540));
    CHECK(ingoing_taken_up(whole, 0.1, 2) * ppm == Approx(27));
}

} // namespace test_ingoing
