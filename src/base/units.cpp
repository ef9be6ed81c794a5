// SPDX-License-Identifier: MIT
/// The table of units and their exact factors.
#include "base/units.hpp"

#include "base/error.hpp"
#include "base/text.hpp"

#include <boost/algorithm/string/replace.hpp>

#include <algorithm>
#include <array>
#include <cstddef>
#include <numbers>
#include <utility>
#include <vector>

namespace tidemark::base {
namespace {

// Exact definitions of the inch, pound and US gallon: NIST Handbook 44 App. C and NIST SP 811
// App. B; the imperial gallon: UK Weights and Measures Act 1985. All from memory.
constexpr double inch = 0.0254;
constexpr double pound = 0.45359237;
constexpr double gallon = 231 * inch * inch * inch;
constexpr double hour = 3600;
constexpr double day = 24 * hour;
constexpr double celsius_zero = 273.15;
constexpr double fahrenheit_zero = celsius_zero - 32 / 1.8;

using enum Dimension;

/// Every unit; in each dimension the first ones are the names offered in messages.
constexpr std::array units{
    Unit{"1", number, 1},
    Unit{"mm", length, 1e-3},
    Unit{"cm", length, 1e-2},
    Unit{"m", length, 1},
    Unit{"in", length, inch},
    Unit{"ft", length, 12 * inch},
    Unit{"um", length, 1e-6},
    Unit{"inch", length, inch},
    Unit{"inches", length, inch},
    Unit{"\"", length, inch},
    Unit{"foot", length, 12 * inch},
    Unit{"feet", length, 12 * inch},
    Unit{"'", length, 12 * inch},
    Unit{"g", mass, 1e-3},
    Unit{"kg", mass, 1},
    Unit{"mg", mass, 1e-6},
    Unit{"lb", mass, pound},
    Unit{"oz", mass, pound / 16},
    Unit{"lbs", mass, pound},
    Unit{"pound", mass, pound},
    Unit{"pounds", mass, pound},
    Unit{"ounce", mass, pound / 16},
    Unit{"ounces", mass, pound / 16},
    Unit{"grams", mass, 1e-3},
    Unit{"mL", volume, 1e-6},
    Unit{"L", volume, 1e-3},
    Unit{"gal", volume, gallon},
    Unit{"qt", volume, gallon / 4},
    Unit{"pt", volume, gallon / 8},
    Unit{"cup", volume, gallon / 16},
    Unit{"floz", volume, gallon / 128},
    Unit{"tbsp", volume, gallon / 256},
    Unit{"tsp", volume, gallon / 768},
    Unit{"impgal", volume, 4.54609e-3},
    Unit{"m3", volume, 1},
    Unit{"fl oz", volume, gallon / 128},
    Unit{"cups", volume, gallon / 16},
    Unit{"gallon", volume, gallon},
    Unit{"gallons", volume, gallon},
    Unit{"quart", volume, gallon / 4},
    Unit{"quarts", volume, gallon / 4},
    Unit{"pint", volume, gallon / 8},
    Unit{"pints", volume, gallon / 8},
    Unit{"liter", volume, 1e-3},
    Unit{"liters", volume, 1e-3},
    Unit{"litre", volume, 1e-3},
    Unit{"litres", volume, 1e-3},
    Unit{"C", temperature, 1, celsius_zero},
    Unit{"F", temperature, 1 / 1.8, fahrenheit_zero},
    Unit{"K", temperature, 1},
    Unit{"C", temperature_change, 1},
    Unit{"F", temperature_change, 1 / 1.8},
    Unit{"K", temperature_change, 1},
    Unit{"%", fraction, 1e-2},
    Unit{"ppm", fraction, 1e-6},
    Unit{"g/kg", fraction, 1e-3},
    Unit{"mg/kg", fraction, 1e-6},
    Unit{"s", duration, 1},
    Unit{"min", duration, 60},
    Unit{"h", duration, hour},
    Unit{"d", duration, day},
    Unit{"week", duration, 7 * day},
    Unit{"hour", duration, hour},
    Unit{"hours", duration, hour},
    Unit{"day", duration, day},
    Unit{"days", duration, day},
    Unit{"weeks", duration, 7 * day},
    Unit{"m2/s", diffusivity, 1},
    Unit{"mm2/d", diffusivity, 1e-6 / day},
    Unit{"cm2/s", diffusivity, 1e-4},
    Unit{"mm2/day", diffusivity, 1e-6 / day},
    Unit{"m/s", speed, 1},
    Unit{"mm/d", speed, 1e-3 / day},
    Unit{"1/s", rate, 1},
    Unit{"1/h", rate, 1 / hour},
    Unit{"1/d", rate, 1 / day},
    Unit{"J/mol", molar_energy, 1},
    Unit{"kJ/mol", molar_energy, 1e3},
    Unit{"kg/m3", density, 1},
    Unit{"g/mL", density, 1e3},
    Unit{"deg", angle, std::numbers::pi / 180},
    Unit{"rad", angle, 1},
};

/// In the order of the enumeration.
constexpr std::array wordings{
    Wording{"a pure number", "1.5"},
    Wording{"a length", "65 mm or 2.5 in"},
    Wording{"a mass", "2.5 kg or 5 lb 8 oz"},
    Wording{"a volume", "250 mL or 8 fl oz"},
    Wording{"a temperature", "3 C or 38 F"},
    Wording{"a temperature difference", "2 C or 4 F"},
    Wording{"a proportion", "2.5 % or 25 g/kg"},
    Wording{"a duration", "5 d or 36 h"},
    Wording{"a diffusivity", "2.4e-10 m2/s or 20 mm2/d"},
    Wording{"a speed", "1e-6 m/s or 80 mm/d"},
    Wording{"a rate", "1e-6 1/s or 0.08 1/d"},
    Wording{"a molar energy", "25 kJ/mol"},
    Wording{"a density", "1060 kg/m3 or 1.06 g/mL"},
    Wording{"an angle", "30 deg or 0.52 rad"},
};
} // namespace

const Wording& wording(Dimension dimension) {
    return wordings.at(static_cast<std::size_t>(dimension));
}

bool same_name(std::string_view a, std::string_view b) {
    const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : int{c}; };
    return std::ranges::equal(a, b, {}, lower, lower);
}

const Unit* find_unit(std::string_view name, Dimension wanted) {
    const Unit* found = nullptr;
    for (const Unit& unit : units) {
        if (same_name(unit.name, name) && (!found || unit.dimension == wanted)) {
            found = &unit;
        }
    }
    return found;
}

void unknown_unit(const std::string& where, const std::string& value, std::string_view name,
                  std::optional<Dimension> wanted) {
    std::vector<std::string> names;
    for (const Unit& unit : units) {
        if (!wanted || unit.dimension == *wanted) {
            names.emplace_back(unit.name);
        }
    }
    std::string remedy;
    if (const std::string near = nearest(name, names); !near.empty()) {
        remedy = "did you mean " + near + "?";
    } else if (wanted) {
        remedy = "write it as " + std::string(wording(*wanted).example);
    }
    throw InputError(where, value, "has an unknown unit \"" + std::string(name) + '"', remedy);
}

std::string plain(std::string_view text) {
    std::string out(text);
    if (std::ranges::any_of(out, [](char c) { return static_cast<unsigned char>(c) > 127; })) {
        constexpr std::pair<const char*, const char*> signs[] = {
            {"½", " 1/2"}, {"¼", " 1/4"},   {"¾", " 3/4"},   {"⅓", " 1/3"},  {"⅔", " 2/3"},
            {"⅛", " 1/8"}, {"⅜", " 3/8"},   {"⅝", " 5/8"},   {"⅞", " 7/8"},  {"⁄", "/"},
            {"²", "2"},    {"³", "3"},      {"µ", "u"},      {"μ", "u"},     {"−", "-"},
            {"″", "\""},   {"”", "\""},     {"′", "'"},      {"’", "'"},     {"°", ""},
            {"º", ""},     {"\u00A0", " "}, {"\u2009", " "}, {"\u202F", " "}};
        for (const auto& [sign, ascii] : signs) {
            boost::replace_all(out, sign, ascii);
        }
    }
    return trim(out);
}

double to_si(double value, std::string_view unit, Dimension dimension) {
    const std::string name = plain(unit);
    const Unit* found = find_unit(name, dimension);
    if (found == nullptr || found->dimension != dimension) {
        unknown_unit("", "", name, dimension);
    }
    return value * found->factor + found->offset;
}

Dimension dimension_of(std::string_view unit) {
    const std::string name = plain(unit);
    const Unit* found = find_unit(name, Dimension::number);
    if (found == nullptr) {
        unknown_unit("", "", name, {});
    }
    return found->dimension;
}

} // namespace tidemark::base
