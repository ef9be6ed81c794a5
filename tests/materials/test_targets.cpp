// SPDX-License-Identifier: MIT
/// Targets, premixes and limits against figures printed in another unit or another place.
#include "materials/kitchen.hpp"
#include "materials/targets.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <map>
#include <tuple>

using namespace tidemark;
using namespace tidemark::materials;
using namespace tidemark::materials::test;

TEST_CASE("US limits in ppm are the old rules in ounces and pounds", "[materials]") {
    // 1970 rules: nitrite 2 lb per 100 gal of pickle at a tenth pump, 1 oz per 100 lb dry; nitrate
    // 7 lb per 100 gal, 3.5 oz per 100 lb dry. The first of each holds for a gallon of 10 lb.
    // Margin: half a ppm, the last digit printed.
    auto records = base::Records::built_in();
    std::map<std::tuple<std::string, std::string, std::string>, double> table;
    for (const Limit& limit : limits(records)) {
        table[{limit.code, limit.method, limit.substance}] = limit.value * 1e6;
    }
    const auto pickle = [](double pounds) { return pounds / (100 * 10) * 0.1 * 1e6; };
    const auto dry = [](double ounces) { return ounces / 16 / 100 * 1e6; };
    const auto near = [](double value) { return Approx(value).margin(0.5).epsilon(0); };
    CHECK(table.at({"us", "immersion", "nitrite"}) == near(pickle(2)));
    CHECK(table.at({"us", "pumped", "nitrite"}) == near(pickle(2)));
    CHECK(table.at({"us", "immersion", "nitrate"}) == near(pickle(7)));
    CHECK(table.at({"us", "dry", "nitrite"}) == near(dry(1)));
    // 2187.5 is printed as 2187: cut off, not rounded.
    CHECK(table.at({"us", "dry", "nitrate"}) == Approx(std::floor(dry(3.5))));
    // The European limit counts the ion, 80; as the sodium salt it is 120.0, reckoned apart.
    CHECK(table.at({"eu", "all", "nitrite"}) == Approx(120.0).margin(0.05).epsilon(0));
    CHECK(table.count({"us", "refrigerated-minimum", "nitrite"}) == 0); // a least, not a most
}

TEST_CASE("The least for cold-kept meat is at or below every limit", "[materials]") {
    auto records = base::Records::built_in();
    CHECK(refrigerated_minimum(records) == Approx(ppm(120))); // [fsis1995] page 12
    for (const Limit& limit : limits(records)) {
        CAPTURE(limit.code, limit.method);
        // To a twentieth of a ppm, since 80 ppm of the ion is 119.98 ppm of the salt.
        CHECK(limit.value > refrigerated_minimum(records) - ppm(0.05));
    }
}

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
    CHECK_THROWS_WITH(premix(records, "us-no3"),
                      "premix: us-no3: is not known; did you mean us-no1?");
}

TEST_CASE("Salt of products follows from their sodium", "[materials]") {
    // Sodium x 2.542, two decimals, reckoned apart. Margin: half the last digit.
    struct Row {
        const char* product;
        double salt;
    };
    const auto row = GENERATE(Row{"ham-joint-uk", 2.24}, Row{"bacon-uk", 3.91},
                              Row{"salami-uk", 3.41}, Row{"corned-beef-brisket", 3.09});
    auto records = base::Records::built_in();
    CHECK(100 * finished_salt(records, row.product) == Approx(row.salt).margin(0.0055).epsilon(0));
}

TEST_CASE("The taste band holds the hams of the trade and stands above the floor", "[materials]") {
    auto records = base::Records::built_in();
    const Band band = taste_band(records);
    CHECK(salt_floor(records) < band.low);
    CHECK(finished_salt(records, "ham-joint-uk") > band.low);
    CHECK(finished_salt(records, "ham-joint-uk") < band.high);
    CHECK(finished_salt(records, "bacon-uk") > band.high); // eaten thin
}
