// SPDX-License-Identifier: MIT
/// Spoons and cups against rules printed in weights.
#include "materials/measures.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace tidemark;
using namespace tidemark::materials;

namespace {
double volume(const char* text) {
    return base::parse(text, base::Dimension::volume, "test");
}
double mass(const char* text) {
    return base::parse(text, base::Dimension::mass, "test");
}
} // namespace

TEST_CASE("A teaspoon of premix to five pounds is 156 ppm", "[materials]") {
    // An ounce to 25 lb, or a teaspoon to 5 lb: 156.25 mg/kg at 6.25 %. The spoon is printed as
    // 5.67 g. Margin: half its last digit, 0.09 %.
    auto records = base::Records::built_in();
    const double nitrite =
        0.0625 * measured_mass(records, "premix", volume("1 tsp")) / mass("5 lb");
    CHECK(nitrite * 1e6 == Approx(156.25).epsilon(0.0009));
}

TEST_CASE("A teaspoon of salt agrees with the government figure within a spoon's spread",
          "[materials]") {
    // About 2000 mg of sodium in a teaspoon, 5.1 g of salt; the printed 6.0 g is 18 % more and our
    // spread is a fifth.
    auto records = base::Records::built_in();
    CHECK(measured_mass(records, "fine-salt", volume("1 tsp")) == Approx(5.1e-3).epsilon(0.2));
}

TEST_CASE("Three teaspoons are a tablespoon and sixteen of those a cup, near enough",
          "[materials]") {
    // Printed figures were weighed or rounded apart: 2 %.
    auto records = base::Records::built_in();
    for (const std::string& item : measure_names(records)) {
        CAPTURE(item);
        const double cup = measured_mass(records, item, volume("1 cup"));
        CHECK(16 * measured_mass(records, item, volume("1 tbsp")) == Approx(cup).epsilon(0.02));
        CHECK(48 * measured_mass(records, item, volume("1 tsp")) == Approx(cup).epsilon(0.025));
    }
}

TEST_CASE("A cup of fine salt is almost twice a cup of flakes", "[materials]") {
    // The range from fine to coarse flake is about two to one: ask which salt it is.
    auto records = base::Records::built_in();
    CHECK(measured_mass(records, "fine-salt", volume("1 cup")) >
          1.6 * measured_mass(records, "flake-salt", volume("1 cup")));
}

TEST_CASE("Half a cup is eight tablespoons, and nothing weighs nothing", "[materials]") {
    auto records = base::Records::built_in();
    CHECK(measured_mass(records, "white-sugar", volume("1/2 cup")) == Approx(0.100)); // 12.5 g each
    // Where tablespoon and cup differ, what holds less than a cup goes by the tablespoon: 18.0 g of
    // fine salt, not half of a cup's 292 g.
    CHECK(measured_mass(records, "fine-salt", volume("1/2 cup")) == Approx(0.144));
    CHECK(measured_mass(records, "fine-salt", volume("2 cup")) == Approx(0.584));
    CHECK(measured_mass(records, "white-sugar", 0) == 0);
}

TEST_CASE("Unknown things and negative volumes are refused", "[materials]") {
    auto records = base::Records::built_in();
    CHECK_THROWS_WITH(measured_mass(records, "fine-slat", 1e-5),
                      "measure: fine-slat: is not known; did you mean fine-salt?");
    CHECK_THROWS_AS(measured_mass(records, "premix", -1e-6), base::InputError);
    CHECK_THROWS_AS(measured_mass(records, "premix", std::nan("")), base::InputError);
}

TEST_CASE("A mass goes back to the nearest spoon", "[materials]") {
    auto records = base::Records::built_in();
    // 18.0 g to a tablespoon and 292 g to a cup of fine salt: 201 g are 11 tablespoons (198 g), and
    // 403 g a cup and a half (438 g), which is nearer than a quarter less (365 g).
    CHECK(spoon_volume(records, "fine-salt", 0.201) == Approx(volume("11 tbsp")));
    CHECK(spoon_volume(records, "fine-salt", 0.403) == Approx(volume("1 1/2 cup")));
    CHECK(spoon_volume(records, "fine-salt", 0.0031) == Approx(volume("1/2 tsp")));
    CHECK_THROWS_AS(spoon_volume(records, "fine-slat", 0.1), base::InputError);
}
