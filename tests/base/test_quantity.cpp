// SPDX-License-Identifier: MIT
/// Quantities as typed. Sizes of units are held against the printed digits of NIST SP 811 (2008),
/// Appendix B.8, quoted from memory; tolerance half a unit of the last digit printed there.
#include "base/quantity.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

#include <numbers>

using namespace tidemark::base;
using enum Dimension;

namespace {

double length_of(const char* text) {
    return parse(text, length, "--x");
}

} // namespace

TEST_CASE("unit sizes agree with the printed conversion factors", "[base]") {
    struct Row {
        const char* text;
        Dimension dimension;
        double printed;
        double half_digit;
    };
    const Row row = GENERATE(values<Row>({
        {"1 gal", volume, 3.785412e-3, 0.5e-9},
        {"1 impgal", volume, 4.54609e-3, 1e-12}, // exact
        {"1 qt", volume, 9.463529e-4, 0.5e-10},
        {"1 pt", volume, 4.731765e-4, 0.5e-10},
        {"1 cup", volume, 2.365882e-4, 0.5e-10},
        {"1 fl oz", volume, 2.957353e-5, 0.5e-11},
        {"1 tbsp", volume, 1.478676e-5, 0.5e-11},
        {"1 tsp", volume, 4.928922e-6, 0.5e-12},
        {"1 lb", mass, 4.5359237e-1, 1e-12}, // exact
        {"1 oz", mass, 2.834952e-2, 0.5e-8},
        {"1 in", length, 2.54e-2, 1e-15},  // exact
        {"1 ft", length, 3.048e-1, 1e-15}, // exact
        {"0 F", temperature, 255.372222, 0.5e-6},
    }));
    CAPTURE(row.text);
    CHECK(parse(row.text, row.dimension, "") ==
          Approx(row.printed).margin(row.half_digit).epsilon(0));
}

TEST_CASE("metric units and times have their defined sizes", "[base]") {
    // Definitions of the SI prefixes, the minute, hour and day; compared to rounding error.
    struct Row {
        const char* text;
        Dimension dimension;
        double si;
    };
    const Row row = GENERATE(values<Row>({
        {"1 mm", length, 1e-3},
        {"1 cm", length, 1e-2},
        {"1 m", length, 1},
        {"1 um", length, 1e-6},
        {"1 µm", length, 1e-6},
        {"1 g", mass, 1e-3},
        {"1 kg", mass, 1},
        {"1 mg", mass, 1e-6},
        {"1 mL", volume, 1e-6},
        {"1 L", volume, 1e-3},
        {"1 C", temperature, 274.15},
        {"1 K", temperature, 1},
        {"41 F", temperature, 278.15},
        {"1 C", temperature_change, 1},
        {"9 F", temperature_change, 5},
        {"1 %", fraction, 1e-2},
        {"1 ppm", fraction, 1e-6},
        {"1 g/kg", fraction, 1e-3},
        {"1 mg/kg", fraction, 1e-6},
        {"1 s", duration, 1},
        {"1 min", duration, 60},
        {"1 h", duration, 3600},
        {"1 d", duration, 86400},
        {"2 days", duration, 172800},
        {"1 week", duration, 604800},
        {"1 m2/s", diffusivity, 1},
        {"1 cm2/s", diffusivity, 1e-4},
        {"86.4 mm2/d", diffusivity, 1e-9},
        {"86.4 mm²/day", diffusivity, 1e-9},
        {"1 m/s", speed, 1},
        {"86.4 mm/d", speed, 1e-6},
        {"3600 1/h", rate, 1},
        {"86400 1/d", rate, 1},
        {"1 1/s", rate, 1},
        {"25 kJ/mol", molar_energy, 25000},
        {"25 J/mol", molar_energy, 25},
        {"1060 kg/m3", density, 1060},
        {"1.06 g/mL", density, 1060},
        {"180 deg", angle, std::numbers::pi},
        {"1 rad", angle, 1},
        {"5.6", number, 5.6},
    }));
    CAPTURE(row.text);
    CHECK(parse(row.text, row.dimension, "") == Approx(row.si).epsilon(1e-14));
}

TEST_CASE("a value may be typed in many ways", "[base]") {
    // Expected values follow from 1 in = 0.0254 m and 1 lb = 0.45359237 kg (exact).
    for (const char* text : {"65mm", "65 mm", " 65  mm ", "+65 mm", "6.5cm", "65 MM", "65\u00A0mm",
                             "0.65e2 mm", "65. mm"}) {
        CAPTURE(text);
        CHECK(length_of(text) == Approx(0.065).epsilon(1e-14));
    }
    for (const char* text : {"1.5 in", "1 1/2 in", "3/2 in", "1½ in", "1 ½ in", "1.5\"", "1.5”",
                             "1.5 inches", "1 1⁄2 inch", ".15e1 in"}) {
        CAPTURE(text);
        CHECK(length_of(text) == Approx(0.0381).epsilon(1e-14));
    }
    for (const char* text : {"38 F", "38F", "38 °F", "38°F", "38 f"}) {
        CAPTURE(text);
        CHECK(parse(text, temperature, "") == Approx(273.15 + 6 / 1.8).epsilon(1e-14));
    }
    CHECK(parse("1/2 tsp", volume, "") == Approx(2.464461e-6).margin(0.5e-12).epsilon(0));
    CHECK(parse("2.4E-10 m²/s", diffusivity, "") == Approx(2.4e-10).epsilon(1e-14));
}

TEST_CASE("a compound value is the sum of its parts", "[base]") {
    CHECK(parse("1 lb 4 oz", mass, "") == Approx(1.25 * 0.45359237).epsilon(1e-14));
    CHECK(parse("1lb4oz", mass, "") == Approx(1.25 * 0.45359237).epsilon(1e-14));
    CHECK(length_of("5' 3 1/2\"") == Approx(63.5 * 0.0254).epsilon(1e-14));
    CHECK(parse("2 d 6 h 30 min", duration, "") == Approx(54.5 * 3600).epsilon(1e-14));
}

TEST_CASE("negative values parse, for the caller to judge", "[base]") {
    CHECK(parse("-2 C", temperature, "") == Approx(271.15).epsilon(1e-14));
    CHECK(parse("−2 C", temperature, "") == Approx(271.15).epsilon(1e-14));
    CHECK(length_of("-1 1/2 in") == Approx(-0.0381).epsilon(1e-14));
    CHECK(length_of("-½ in") == Approx(-0.0127).epsilon(1e-14));
}

TEST_CASE("a weight ounce and a fluid ounce are different things", "[base]") {
    CHECK(parse_either("8 oz", mass, volume, "").dimension == mass);
    CHECK(parse_either("8 fl oz", mass, volume, "").dimension == volume);
    CHECK(parse_either("8floz", mass, volume, "").dimension == volume);
    CHECK(parse_either("2 kg", volume, mass, "").si == Approx(2).epsilon(1e-14));
    CHECK_THROWS_WITH(parse("8 oz", volume, "--brine"),
                      "--brine: 8 oz: is a mass, not a volume; write it as 250 mL or 8 fl oz");
}

TEST_CASE("what cannot be read is refused with the rule and a remedy", "[base]") {
    struct Row {
        const char* text;
        const char* message;
    };
    const Row row = GENERATE(values<Row>({
        {"65", "--x: 65: has no unit; write it as 65 mm or 2.5 in"},
        {"", "--x: is empty; write it as 65 mm or 2.5 in"},
        {"  ", "--x: is empty; write it as 65 mm or 2.5 in"},
        {"65 mn", "--x: 65 mn: has an unknown unit \"mn\"; write it as 65 mm or 2.5 in"},
        {"65 furlongs",
         "--x: 65 furlongs: has an unknown unit \"furlongs\"; write it as 65 mm or 2.5 in"},
        {"65 kg", "--x: 65 kg: is a mass, not a length; write it as 65 mm or 2.5 in"},
        {"3 m2/s", "--x: 3 m2/s: is a diffusivity, not a length; write it as 65 mm or 2.5 in"},
        {"6,5 cm",
         "--x: 6,5 cm: has a comma; use a decimal point and no thousands separator, as in "
         "2.5"},
        {"thick", "--x: thick: does not begin with a number; write it as 65 mm or 2.5 in"},
        {"mm", "--x: mm: does not begin with a number; write it as 65 mm or 2.5 in"},
        {"--5 mm", "--x: --5 mm: does not begin with a number; write it as 65 mm or 2.5 in"},
        {"nan mm", "--x: nan mm: is not a finite number; write it as 65 mm or 2.5 in"},
        {"-inf mm", "--x: -inf mm: is not a finite number; write it as 65 mm or 2.5 in"},
        {"1e999 mm", "--x: 1e999 mm: is beyond the range of numbers; write it as 65 mm or 2.5 in"},
        {"0x10 mm", "--x: 0x10 mm: is a hexadecimal number; write it in decimal digits"},
        {"1/0 in", "--x: 1/0 in: divides by zero; write it as 65 mm or 2.5 in"},
        {"1.5 1/2 in", "--x: 1.5 1/2 in: has no unit; write it as 65 mm or 2.5 in"},
        {"2-3 in", "--x: 2-3 in: has a sign behind the number; write it as 65 mm or 2.5 in"},
        {"65 mm 3", "--x: 65 mm 3: has no unit; write it as 65 mm or 2.5 in"},
        {"1 in 1 ft",
         "--x: 1 in 1 ft: has parts that do not fall in size; write it like 1 lb 4 oz"},
        {"1 ft 2 ft",
         "--x: 1 ft 2 ft: has parts that do not fall in size; write it like 1 lb 4 oz"},
        {"-1 ft 2 in", "--x: -1 ft 2 in: has a sign in a value of several parts; write it like "
                       "1 lb 4 oz"},
        {"1 ft -2 in", "--x: 1 ft -2 in: has a sign in a value of several parts; write it like "
                       "1 lb 4 oz"},
    }));
    CAPTURE(row.text);
    CHECK_THROWS_AS(length_of(row.text), InputError);
    CHECK_THROWS_WITH(length_of(row.text), row.message);
}

TEST_CASE("dimensions other than length have their own remedies", "[base]") {
    CHECK_THROWS_WITH(parse("0.025", fraction, "--salt"),
                      "--salt: 0.025: has no unit; write it as 2.5 % or 25 g/kg");
    CHECK_THROWS_WITH(parse("5.6 pH", number, "--ph"),
                      "--ph: 5.6 pH: has text after the number; write the number alone");
    CHECK_THROWS_WITH(parse("3 C 2 C", temperature, "--cooler"),
                      "--cooler: 3 C 2 C: has text after the value; write it as 3 C or 38 F");
    CHECK_THROWS_WITH(
        parse_either("2", mass, volume, "--brine"),
        "--brine: 2: has no unit; write it as 2.5 kg or 5 lb 8 oz or 250 mL or 8 fl oz");
    CHECK_THROWS_WITH(parse("5 m", duration, "--time"),
                      "--time: 5 m: is a length, not a duration; write it as 5 d or 36 h");
}

TEST_CASE("every example offered as a remedy is itself accepted", "[base]") {
    for (int d = 1; d <= static_cast<int>(angle); ++d) {
        const auto dimension = static_cast<Dimension>(d);
        std::string message;
        try {
            parse("1", dimension, "");
        } catch (const InputError& error) {
            message = error.what();
        }
        const std::string lead = "1: has no unit; write it as ";
        CAPTURE(message);
        REQUIRE(message.starts_with(lead));
        std::string examples = message.substr(lead.size());
        const auto joint = examples.find(" or ");
        CHECK_NOTHROW(parse(examples.substr(0, joint), dimension, ""));
        if (joint != std::string::npos) {
            CHECK_NOTHROW(parse(examples.substr(joint + 4), dimension, ""));
        }
    }
}

TEST_CASE("units are converted and recognised for the records", "[base]") {
    CHECK(to_si(4, "C", temperature) == Approx(277.15).epsilon(1e-14));
    CHECK(to_si(4, "C", temperature_change) == Approx(4).epsilon(1e-14));
    CHECK(to_si(6.25, "%", fraction) == Approx(0.0625).epsilon(1e-14));
    CHECK(to_si(1.02, "1", number) == 1.02);
    CHECK(dimension_of("C") == temperature);
    CHECK(dimension_of("1") == number);
    CHECK(dimension_of("mm²/d") == diffusivity);
    CHECK_THROWS_WITH(dimension_of("m2/z"), "has an unknown unit \"m2/z\"; did you mean m2/s?");
    CHECK_THROWS_WITH(to_si(1, "kg", length),
                      "has an unknown unit \"kg\"; write it as 65 mm or 2.5 in");
}
