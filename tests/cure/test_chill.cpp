// SPDX-License-Identifier: MIT
/// Ice in hot brine: against printed examples with the constants of their print, and against heat
/// balances made apart.
#include "common.hpp"
#include "cure/chill.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "materials/brine.hpp"
#include "materials/heat.hpp"

#include <catch2/catch.hpp>

#include <random>

namespace test_chill {

using namespace tidemark;
using namespace tidemark::cure;

namespace {

double celsius(double value) {
    return value + 273.15;
}

/// The records with a print's own constants [kJ/kg, kJ/kg K].
base::Records with(const char* fusion, const char* water, const char* ice) {
    auto records = test::first_taken();
    records.set("heat.fusion", fusion, "test");
    records.set("heat.water", water, "test");
    records.set("heat.brine.s00", water, "test");
    records.set("heat.ice", ice, "test");
    return records;
}

/// Water of a temperature [C] with ice [C].
Chill water(double mass, double temperature, double ice = 0, double ice_temperature = 0) {
    return {mass, 0, celsius(temperature), 0, celsius(15), ice, celsius(ice_temperature)};
}

} // namespace

TEST_CASE("Printed examples of ice in water are returned", "[cure]") {
    // Exercises on answer pages (low authority), each with the constants of its print, which the
    // first states and the others were found to use. Margins: half the last digit.
    auto first = with("340", "4.2", "2.1");
    CHECK(ice_for(water(2, 30), celsius(12), first) == Approx(0.387).margin(0.0005).epsilon(0));
    auto second = with("333", "4.186", "2.22");
    const Chilled some = chill(water(0.390, 15, 0.090, -19), second);
    CHECK(1e3 * some.melted == Approx(62.1).margin(0.05).epsilon(0));
    CHECK(some.temperature == Approx(celsius(0)).margin(1e-9).epsilon(0));
    const Chilled all = chill(water(0.390, 15, 0.045, -19), second);
    CHECK(all.temperature == Approx(celsius(4.2)).margin(0.05).epsilon(0));
    CHECK(all.melted == 0.045);
    auto third = with("334", "4.186", "2.1");
    CHECK(chill(water(0.777, 53, 0.124), third).temperature ==
          Approx(celsius(34.76)).margin(0.05).epsilon(0)); // its constants are not printed
}

TEST_CASE("A thousand kilograms of fish from 30 C take 300 kg of ice", "[cure]") {
    // A fisheries manual: ice = fish x 0.8 x degrees / 80, in kcal. 80 kcal are 334.7 kJ.
    auto records = with("334.72", "3.3472", "2.1");
    CHECK(ice_for(water(1000, 30), celsius(0), records) == Approx(300).epsilon(1e-9));
    // Fish per kilogram of ice from 30 C at 0.88, 0.83 and 0.78 kcal/kg K: printed 3.0, 3.2, 3.4.
    for (const auto& [heat, fish] : {std::pair{"3.682", 3.0}, {"3.473", 3.2}, {"3.264", 3.4}}) {
        auto other = with("334.72", heat, "2.1");
        CHECK(1 / ice_for(water(1, 30), celsius(0), other) == Approx(fish).margin(0.05).epsilon(0));
    }
}

TEST_CASE("Hot water takes about its own weight of ice to reach the cooler", "[cure]") {
    // Reckoned apart, kg of ice per kg of water to 4 C, three decimals; ice at 0 and -18 C.
    struct Row {
        double hot, plain, frozen;
    };
    const auto row = GENERATE(Row{100, 1.148, 1.036}, Row{90, 1.028, 0.928}, Row{80, 0.909, 0.820});
    auto records = test::first_taken();
    CHECK(ice_for(water(1, row.hot), celsius(4), records) ==
          Approx(row.plain).margin(0.001).epsilon(0));
    CHECK(ice_for(water(1, row.hot, 0, -18), celsius(4), records) ==
          Approx(row.frozen).margin(0.001).epsilon(0));
}

TEST_CASE("Half the water as ice serves from 88 C at best", "[cure]") {
    // Reckoned apart: 1 kg of ice to 1 kg of water reaches 4 C from about 88 C.
    auto records = test::first_taken();
    CHECK(chill(water(1, 87.5, 1), records).temperature <= celsius(4));
    CHECK(chill(water(1, 89, 1), records).temperature > celsius(4));
}

TEST_CASE("Hot strong brine ends at half its strength", "[cure]") {
    // 20 % brine from 90 to 4 C: 0.827 kg of ice per kg, ending at 10.95 %; reckoned apart.
    auto records = test::first_taken();
    Chill mix{1, 0.2, celsius(90), 0, celsius(15), 0, celsius(0)};
    mix.ice = ice_for(mix, celsius(4), records);
    CHECK(mix.ice == Approx(0.827).margin(0.0005).epsilon(0));
    const Chilled done = chill(mix, records);
    CHECK(100 * done.salt == Approx(10.95).margin(0.005).epsilon(0));
    CHECK(done.temperature == Approx(celsius(4)).margin(1e-9).epsilon(0));
    CHECK(done.melted == mix.ice);
}

TEST_CASE("Heat and salt are kept whatever is put together", "[cure]") {
    // Random mixes, the balance written out anew; 1e-9 of the heat of the brine.
    auto records = test::first_taken();
    std::mt19937 random(7);
    const auto draw = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int left_over = 0;
    for (int k = 0; k < 400; ++k) {
        const Chill mix{draw(3, 9),           draw(0, 0.26), celsius(draw(20, 100)), draw(0, 5),
                        celsius(draw(2, 20)), draw(0, 9),    celsius(draw(-10, 0))};
        const Chilled done = chill(mix, records);
        const double t = done.temperature;
        const double melt = materials::ice_heat(records) * (celsius(0) - mix.ice_temperature) +
                            materials::heat_of_fusion(records) +
                            materials::water_heat(records) * (t - celsius(0));
        const double heat =
            mix.brine * materials::brine_heat(records, mix.salt) * (mix.hot - t) +
            mix.cold_water * materials::water_heat(records) * (mix.cold_temperature - t) -
            done.melted * melt -
            (mix.ice - done.melted) * materials::ice_heat(records) * (t - mix.ice_temperature);
        CAPTURE(k, t, done.melted);
        CHECK(std::abs(heat) < 1e-9 * mix.brine * 4190 * 100);
        CHECK(done.salt * (mix.brine + mix.cold_water + done.melted) ==
              Approx(mix.salt * mix.brine).epsilon(1e-12));
        if (done.melted < mix.ice) {
            ++left_over;
            CHECK(t == Approx(materials::freezing_point(records, done.salt)).epsilon(1e-12));
        } else {
            CHECK(t >= materials::freezing_point(records, done.salt) - 1e-9);
        }
    }
    CHECK(left_over > 20); // both ways of ending were met
}

TEST_CASE("Ice kept back from the water cools a brine without weakening it", "[cure]") {
    auto records = test::first_taken();
    // 6 kg of 8 % brine: the hot part and the ice, put together again, are the brine, at 4.4 C.
    const Chill whole{6, 0.08, celsius(95), 0, celsius(15), 0, celsius(0)};
    const double ice = ice_in_place_of_water(whole, celsius(4.4), records).value();
    CHECK(ice > 2);
    Chill parts = whole;
    parts.brine = 6 - ice;
    parts.salt = 6 * 0.08 / parts.brine;
    parts.ice = ice;
    const Chilled done = chill(parts, records);
    CHECK(done.temperature == Approx(celsius(4.4)).margin(1e-9).epsilon(0));
    CHECK(done.salt == Approx(0.08));
    // A 20 % brine cannot: what holds the salt hot is too much.
    CHECK_FALSE(
        ice_in_place_of_water({6, 0.2, celsius(95), 0, 0, 0, celsius(0)}, celsius(4.4), records));
    CHECK(ice_in_place_of_water({6, 0.08, celsius(3), 0, 0, 0, celsius(0)}, celsius(4.4),
                                records) == 0.);
}

TEST_CASE("Ice warmer than ice is refused", "[cure]") {
    auto records = test::first_taken();
    CHECK_THROWS_WITH(chill(water(1, 90, 1, 5), records),
                      "--ice-temperature: 5 °C (41 °F): is above the melting point of ice; give 0 "
                      "C or less");
}

TEST_CASE("So much and so cold an ice that nothing stays liquid is refused", "[cure]") {
    // 0.5 kg of 1 % brine at 20 C gives off 43 kJ down to -0.6 C; 5 kg of ice at -20 C takes 204 kJ
    // to get there.
    auto records = test::first_taken();
    CHECK_THROWS_WITH(chill({0.5, 0.01, celsius(20), 0, 0, 5, celsius(-20)}, records),
                      Catch::StartsWith("--ice: 5 kg") &&
                          Catch::EndsWith("is so much and so cold that the brine freezes through; "
                                          "use less ice"));
}

} // namespace test_chill
