// SPDX-License-Identifier: MIT
/// Targets and premixes against figures printed in another unit or another place.
#include "materials/kitchen.hpp"
#include "materials/targets.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

using namespace tidemark;
using namespace tidemark::materials;
using namespace tidemark::materials::test;

TEST_CASE("Premixes are whole, and a quarter pound in a hundred gives 156.25 ppm", "[materials]") {
    // 0.25 lb of a 6.25 % mix in 100 lb of meat: 156.25 ppm, reckoned apart.
    auto records = base::Records::built_in();
    for (const std::string& name : premix_names(records)) {
        const Premix mix = premix(records, name);
        CAPTURE(name);
        CHECK(mix.salt + mix.nitrite + mix.nitrate == Approx(1).epsilon(1e-12));
        CHECK(mix.nitrite > 0);
    }
    CHECK(0.25 * premix(records, "us-no1").nitrite / 100 * 1e6 == Approx(156.25));
    // No. 2 at 156 ppm of nitrite brings 99.8 ppm of nitrate, reckoned apart.
    const Premix slow = premix(records, "us-no2");
    CHECK(156 / slow.nitrite * slow.nitrate == Approx(99.8).margin(0.05).epsilon(0));
    CHECK_THROWS_WITH(
        premix(records, "us-no3"),
        "premix: us-no3: is not known; use eu, eu-strong, eu-weak, uk, us-no1, us-no2, us-no2-low");
}

TEST_CASE("The taste band holds the hams of the trade and stands above the floor", "[materials]") {
    // Sodium of raw products on sale, a survey [ukfsa2002], through a secondary source: ham joints
    // 0.88 %, bacon 1.54 %, salami 1.34 %; corned brisket 1.217 % [usda2014], seen. Salt is 39.337
    // % sodium [saltinstitute].
    const auto salt = [](double sodium) { return sodium / 0.39337 / 100; };
    auto records = base::Records::built_in();
    const Band band = taste_band(records);
    CHECK(salt_floor(records) < band.low);
    CHECK(salt(0.88) > band.low);
    CHECK(salt(0.88) < band.high);
    for (const double eaten_thin_or_simmered : {1.54, 1.34, 1.217}) {
        CHECK(salt(eaten_thin_or_simmered) > band.high);
    }
    // A brisket that is simmered may leave the cure with more than is eaten: still less than sold.
    CHECK(salt(1.217) < band.high * salt_afterwards(records, "simmered"));
}
