// SPDX-License-Identifier: MIT
/// Weights of a mole against printed conversion factors; balance and mobility beside salt.
#include "materials/kitchen.hpp"
#include "materials/solutes.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace tidemark;
using namespace tidemark::materials;

TEST_CASE("Conversion between salt and ion agrees with the printed factor", "[materials]") {
    // Printed beside the European limits: 0.67. Margin: half the last digit.
    auto records = base::Records::built_in();
    CHECK(equivalent(records, "sodium-nitrite", "nitrite-ion") == Approx(0.67).margin(0.005));
}

TEST_CASE("Conversion there and back is no change", "[materials]") {
    auto records = base::Records::built_in();
    CHECK(equivalent(records, "nitrite-ion", "sodium-nitrite") *
              equivalent(records, "sodium-nitrite", "nitrite-ion") ==
          Approx(1).epsilon(1e-15));
}

TEST_CASE("The partition lies where charge and bound water put it", "[materials]") {
    // K = sqrt(1 + (X/2c)^2) - X/2c for fixed charge X and brine c [mol/kg water]. At c = 1 and
    // X = 0.03 .. 0.10 this is 0.985 .. 0.951; water that dissolves no salt brings it to 0.92 at
    // the least. The record must lie in that span for both solutes.
    const auto donnan = [](double X, double c) {
        return std::sqrt(1 + std::pow(X / (2 * c), 2)) - X / (2 * c);
    };
    CHECK(donnan(0.10, 1) == Approx(0.951).margin(0.0005).epsilon(0));
    auto records = base::Records::built_in();
    for (const char* solute : {"salt", "nitrite"}) {
        CHECK(partition(records, solute) < donnan(0.03, 1));
        CHECK(partition(records, solute) > 0.92);
    }
}

TEST_CASE("Nitrite keeps pace with salt as ion mobilities say", "[materials]") {
    // Moving in with the salt, an anion of diffusivity D feels the salt's own potential: it moves
    // with D (1 + (c - a)/(c + a)), c and a being sodium's and chloride's; alone, with D. Over that
    // of salt, 1.611e-9 m2/s, nitrite gets 0.94 and 1.19. Margins: half the last digit.
    auto records = base::Records::built_in();
    // Ions at 25 C in 1e-9 m2/s: sodium, chloride, nitrite [kirk2004] Table 2.3, seen.
    const double c = 1.33, a = 2.03, nitrite = 1.91;
    const double together = nitrite * (1 + (c - a) / (c + a)) / 1.611, alone = nitrite / 1.611;
    CHECK(together == Approx(0.94).margin(0.005).epsilon(0));
    CHECK(alone == Approx(1.19).margin(0.005).epsilon(0));
    CHECK(diffusivity_ratio(records, "nitrite") > together);
    CHECK(diffusivity_ratio(records, "nitrite") < alone);
    CHECK(diffusivity_ratio(records, "salt") == 1);
}

TEST_CASE("Unknown solutes and substances are refused", "[materials]") {
    auto records = base::Records::built_in();
    CHECK_THROWS_WITH(partition(records, "nitrit"),
                      "solute: nitrit: is not known; did you mean nitrite?");
    CHECK_THROWS_AS(equivalent(records, "sugar", "nitrite-ion"), base::InputError);
}
