// SPDX-License-Identifier: MIT
/// Cold-room warnings and the limits of growth.
#include "materials/kitchen.hpp"
#include "materials/safety.hpp"
#include "materials/targets.hpp"

#include <catch2/catch.hpp>

using namespace tidemark;
using namespace tidemark::materials;
using namespace tidemark::materials::test;

TEST_CASE("The cooler is warned about when warm and when freezing, and not between",
          "[materials]") {
    auto records = base::Records::built_in();
    for (const double good : {0., 2.2, 4., 4.4}) { // 40 F [nchfp] is 4.4 C
        CHECK(cooler_warning(records, celsius(good)).empty());
    }
    CHECK(cooler_warning(records, celsius(7)) ==
          "7 °C (45 °F) is warmer than a cure may be kept, 4.4 °C (40 °F): bacteria grow");
    CHECK(cooler_warning(records, celsius(-3)) == "-3 °C (27 °F) freezes lean meat, which begins "
                                                  "near -1.5 °C (29 °F): the cure stops moving");
}

TEST_CASE("Neither the cooler nor a cure a cook would eat stops everything", "[materials]") {
    // At 3 C two kinds still grow [icmsf1996], and 3.5 % salt in the water stops none (from
    // memory).
    auto records = base::Records::built_in();
    int cold = 0;
    REQUIRE(growth_limits(records).size() == 8);
    for (const Growth& growth : growth_limits(records)) {
        cold += growth.temperature < celsius(3);
        CHECK(growth.water_phase_salt > 0.035);
    }
    CHECK(cold == 2); // Listeria and Yersinia
}

TEST_CASE("Toxin comes sooner the warmer it is, and long before a long cure ends", "[materials]") {
    // [graham1997]: 5 weeks at 3 C, 3 to 4 at 4 C, 2 to 3 at 5 C.
    const auto records = base::Records::built_in();
    const auto times = toxin_times(records);
    REQUIRE(times.size() == 3);
    const double week = 7 * 86400;
    const double weeks[] = {5, 3, 2};
    for (std::size_t i = 0; i < times.size(); ++i) {
        CHECK(times[i].temperature == Approx(celsius(3. + double(i))));
        CHECK(times[i].duration == Approx(weeks[i] * week));
    }
}
