// SPDX-License-Identifier: MIT
/// Numbers used outside their range are named, once, with their source.
#include "materials/colour.hpp"
#include "materials/diffusion.hpp"
#include "materials/kinetics.hpp"
#include "materials/kitchen.hpp"
#include "materials/solutes.hpp"
#include "materials/warnings.hpp"

#include <catch2/catch.hpp>

using namespace tidemark;
using namespace tidemark::materials;
using namespace tidemark::materials::test;

TEST_CASE("Inside every range there is nothing to warn of", "[materials]") {
    auto records = base::Records::built_in();
    salt_diffusivity(records, "pork-loin", celsius(4));
    loss_rate(records, celsius(4), 5.6, false);
    pink_threshold(records, 1e-3);
    CHECK(range_warnings(records, {{"temperature", celsius(4)},
                                   {"brine salt", percent(6)},
                                   {"pH", 5.6},
                                   {"myoglobin", 1e-3}})
              .empty());
}

TEST_CASE("A number used outside its range is named with its source", "[materials]") {
    auto records = base::Records::built_in();
    pink_threshold(records, 5.5e-3); // beef: darker than the meats the rule was made from
    const auto texts = range_warnings(records, {{"myoglobin", 5.5e-3}});
    REQUIRE(texts.size() == 1);
    CHECK(texts[0] == "myoglobin 5.5 g/kg is outside the range of colour.threshold.slope "
                      "[heaton2000], myoglobin 0.5 .. 4.0 g/kg");
}

TEST_CASE("Only the records used so far are asked", "[materials]") {
    auto records = base::Records::built_in();
    CHECK(range_warnings(records, {{"brine salt", percent(1)}}).empty());
    partition(records, "salt"); // Donnan exclusion grows below 1.5 %
    CHECK(range_warnings(records, {{"brine salt", percent(1)}}).size() == 1);
    partition(records, "salt");
    CHECK(range_warnings(records, {{"brine salt", percent(1)}}).size() == 1);
}

TEST_CASE("A value the user gave has no range to leave", "[materials]") {
    auto records = base::Records::built_in();
    records.set("solute.salt.partition", "0.9", "--set");
    partition(records, "salt");
    CHECK(range_warnings(records, {{"brine salt", percent(1)}}).empty());
}
