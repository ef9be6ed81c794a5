// SPDX-License-Identifier: MIT
/// Heat of ice and water against printed figures for cooling with ice.
#include "materials/heat.hpp"
#include "materials/kitchen.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

using namespace tidemark;
using namespace tidemark::materials;
using namespace tidemark::materials::test;

TEST_CASE("A kilogram of ice cools about three of water from 25 C", "[materials]") {
    // A fisheries training text prints "about 3 kg"; reckoned apart 3.2. Margin: half a digit.
    auto records = base::Records::built_in();
    CHECK(heat_of_fusion(records) / (25 * water_heat(records)) ==
          Approx(3.2).margin(0.05).epsilon(0));
}

TEST_CASE("Heat of brine is that of the table, and less than a mixture of water and salt",
          "[materials]") {
    // [ashrae] in Btu/lb F, three decimals, from memory; a Btu/lb F is 4.1868 kJ/kg K. Margin: half
    // the last digit of the kJ. Mixing rule (water 4.187, salt 0.86) reckoned apart.
    struct Row {
        double percent, btu, mixed;
    };
    const auto row = GENERATE(Row{5, 0.938, 4.02}, Row{10, 0.888, 3.85}, Row{15, 0.843, 3.69},
                              Row{20, 0.805, 3.52}, Row{25, 0.768, 3.36});
    auto records = base::Records::built_in();
    const double heat = brine_heat(records, percent(row.percent));
    CHECK(heat / 1e3 == Approx(4.1868 * row.btu).margin(0.005).epsilon(0));
    const double mixed = 4.187 + percent(row.percent) * (0.86 - 4.187);
    CHECK(mixed == Approx(row.mixed).margin(0.005).epsilon(0));
    CHECK(mixed / (heat / 1e3) - 1 > 0.02);  // printed as 2.4 to 4.5 % too high,
    CHECK(mixed / (heat / 1e3) - 1 < 0.046); // to the last digit of either
}

TEST_CASE("Without salt brine is water, and beyond boiling saturation there is none",
          "[materials]") {
    auto records = base::Records::built_in();
    CHECK(brine_heat(records, 0) == Approx(water_heat(records)));
    CHECK(brine_heat(records, percent(28)) < brine_heat(records, percent(25)));
    CHECK(ice_heat(records) < water_heat(records));
    CHECK_THROWS_WITH(brine_heat(records, 0.3),
                      "heat of brine: 30 %: lies outside the table, 0 % to 29 %; give the salt as "
                      "a share of the whole brine");
    CHECK_THROWS_AS(brine_heat(records, -0.01), base::InputError);
}
