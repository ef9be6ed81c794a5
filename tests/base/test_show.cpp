// SPDX-License-Identifier: MIT
/// Quantities as shown. Expected texts follow from 1 in = 25.4 mm, 1 lb = 16 oz = 453.59237 g and
/// 1 US gal = 3.785412 L (NIST SP 811, from memory), rounded by hand.
#include "base/quantity.hpp"
#include "base/show.hpp"

#include <catch2/catch.hpp>

using namespace tidemark::base;

TEST_CASE("lengths are shown in millimetres and inches", "[base]") {
    CHECK(show_length(0.065) == "65 mm (2.6 in)");
    CHECK(show_length(0.300) == "300 mm (11.8 in)");
    CHECK(show_length(0.0254) == "25 mm (1 in)");
    CHECK(show_length(0.0034) == "3.4 mm (0.13 in)");
    CHECK(show_length(0) == "0 mm (0 in)");
}

TEST_CASE("temperatures are shown in both scales", "[base]") {
    CHECK(show_temperature(276.15) == "3 °C (37 °F)");
    CHECK(show_temperature(276.483) == "3.3 °C (38 °F)");
    CHECK(show_temperature(273.15) == "0 °C (32 °F)");
    CHECK(show_temperature(255.15) == "-18 °C (0 °F)");
}

TEST_CASE("masses are shown in grams or kilograms and in pounds and ounces", "[base]") {
    CHECK(show_mass(2.5) == "2.5 kg (5 lb 8 oz)");
    CHECK(show_mass(0.25) == "250 g (8.8 oz)");
    CHECK(show_mass(0.00864) == "8.64 g (0.3 oz)");
    CHECK(show_mass(0.45359237) == "454 g (1 lb)");
    CHECK(show_mass(0.9) == "900 g (2 lb)"); // 31.7 oz, carried to whole pounds
    CHECK(show_mass(12.34) == "12.3 kg (27 lb 3 oz)");
    CHECK(show_mass(-2.5) == "-2.5 kg (-5 lb 8 oz)");
    CHECK(show_mass(0) == "0 g (0 oz)");
}

TEST_CASE("volumes are shown with the largest kitchen measure that fits", "[base]") {
    CHECK(show_volume(6e-3) == "6 L (1.6 US gal)");
    CHECK(show_volume(1e-3) == "1 L (1.1 US qt)");
    CHECK(show_volume(250e-6) == "250 mL (8.5 US fl oz)");
    CHECK(show_volume(15e-6) == "15 mL (1 US tbsp)");
    CHECK(show_volume(2.5e-6) == "2.5 mL (0.51 US tsp)");
}

TEST_CASE("one kind of units is shown where that is asked for", "[base]") {
    struct AsBefore { // other tests are of both
        ~AsBefore() { show_in(Units::both); }
    } at_the_end;
    show_in(Units::metric);
    CHECK(show_length(0.065) == "65 mm");
    CHECK(show_temperature(276.15) == "3 °C");
    CHECK(show_mass(2.5) == "2.5 kg");
    CHECK(show_volume(6e-3) == "6 L");
    show_in(Units::us);
    CHECK(show_length(0.065) == "2.6 in");
    CHECK(show_temperature(276.15) == "37 °F");
    CHECK(show_mass(2.5) == "5 lb 8 oz");
    CHECK(show_volume(6e-3) == "1.6 US gal");
    CHECK(show_mass(2.5, Units::metric) == "2.5 kg"); // of what is typed again
    CHECK(shown_units() == Units::us);
}

TEST_CASE("a mass off a scale is typed again as it was shown", "[base]") {
    CHECK(on_scales(0.215) == "215 g");
    CHECK(on_scales(2.75) == "2.75 kg");
    show_in(Units::us);
    const std::string small = on_scales(0.024), some = on_scales(0.215), much = on_scales(2.75);
    show_in(Units::both);
    CHECK(small == "0.84 oz");
    CHECK(some == "7.5 oz");
    CHECK(much == "6 lb 1 oz");
    CHECK(parse(some, Dimension::mass, "") == Approx(0.215).epsilon(0.015));
}
