// SPDX-License-Identifier: MIT
/// Quantities as shown to the cook: metric first, the kitchen unit in brackets.
#include "base/show.hpp"

#include "base/quantity.hpp"

#include "base/text.hpp"

#include <cmath>

namespace tidemark::base {
namespace {

double in_unit(double si, std::string_view unit, Dimension dimension) {
    return si / to_si(1, unit, dimension);
}

Units wanted = Units::both;

std::string as_wanted(Units units, const std::string& metric, const std::string& kitchen) {
    return units == Units::metric ? metric
           : units == Units::us   ? kitchen
                                  : metric + " (" + kitchen + ')';
}

/// Rounded to a whole number of steps.
std::string stepped(double value, double step) {
    return significant(std::round(value / step) * step, 9);
}

} // namespace

void show_in(Units units) {
    wanted = units;
}

Units shown_units() {
    return wanted;
}

std::string show_length(double metres) {
    const double mm = in_unit(metres, "mm", Dimension::length);
    const double inches = in_unit(metres, "in", Dimension::length);
    return as_wanted(wanted, (std::abs(mm) < 10 ? significant(mm, 2) : stepped(mm, 1)) + " mm",
                     (std::abs(inches) < 1 ? significant(inches, 2) : stepped(inches, 0.1)) +
                         " in");
}

std::string show_temperature(double kelvin) {
    return show_temperature(kelvin, wanted);
}

std::string show_temperature(double kelvin, Units units) {
    const double celsius = kelvin - to_si(0, "C", Dimension::temperature);
    return as_wanted(units, stepped(celsius, 0.1) + " °C", stepped(celsius * 1.8 + 32, 1) + " °F");
}

std::string show_mass(double kilograms) {
    return show_mass(kilograms, wanted);
}

std::string show_mass(double kilograms, Units units) {
    const std::string metric = std::abs(kilograms) < 1 ? significant(kilograms * 1000, 3) + " g"
                                                       : significant(kilograms, 3) + " kg";
    const double ounces = in_unit(kilograms, "oz", Dimension::mass);
    if (std::round(std::abs(ounces)) < 16) {
        return as_wanted(units, metric, significant(ounces, 2) + " oz");
    }
    const double whole = std::round(std::abs(ounces));
    const double rest = std::fmod(whole, 16);
    std::string pounds = significant(std::copysign((whole - rest) / 16, ounces), 9) + " lb";
    if (rest > 0) {
        pounds += ' ' + significant(rest, 2) + " oz";
    }
    return as_wanted(units, metric, pounds);
}

std::string on_scales(double kilograms) {
    if (wanted != Units::us)
        return kilograms < 1 ? significant(1000 * kilograms, 6) + " g"
                             : significant(kilograms, 6) + " kg";
    // Down: what was worked out to reach a limit does not pass it.
    const auto down = [](double value, double step) { return std::floor(value / step + 1e-6); };
    const double ounces = in_unit(kilograms, "oz", Dimension::mass), tenths = down(ounces, 0.1),
                 rest = std::fmod(tenths, 160);
    const std::string pounds = significant((tenths - rest) / 160, 9) + " lb";
    return ounces < 3     ? significant(down(ounces, 0.01) / 100, 3) + " oz"
           : tenths < 320 ? significant(tenths / 10, 3) + " oz"
           : rest > 0     ? pounds + ' ' + significant(rest / 10, 3) + " oz"
                          : pounds;
}

std::string show_volume(double cubic_metres) {
    return show_volume(cubic_metres, wanted);
}

std::string show_volume(double cubic_metres, Units units) {
    const double litres = in_unit(cubic_metres, "L", Dimension::volume);
    const std::string metric = std::abs(litres) < 1 ? significant(litres * 1000, 3) + " mL"
                                                    : significant(litres, 3) + " L";
    // The largest spoon or measure that holds at least one.
    constexpr const char* measures[] = {"gal", "qt", "fl oz", "tbsp", "tsp"};
    const char* chosen = "tsp";
    for (const char* measure : measures) {
        if (std::abs(in_unit(cubic_metres, measure, Dimension::volume)) >= 0.995) {
            chosen = measure;
            break;
        }
    }
    return as_wanted(units, metric,
                     significant(in_unit(cubic_metres, chosen, Dimension::volume), 2) + " US " +
                         chosen);
}

} // namespace tidemark::base
