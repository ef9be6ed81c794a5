// SPDX-License-Identifier: MIT
/// Numbers as a cook writes them, turned into SI once, and back again in both systems.
/// Accepts compound values ("1 lb 4 oz"), fractions ("1 1/2 in", "2 1/4 lb") and a unit with or
/// without a space ("65mm"). A bare number without a unit is refused, except for Dimension::number.
/// Capitals do not matter in units. Whether a value makes sense (its sign, its range) is for the
/// caller to judge.
#pragma once

#include <string>
#include <string_view>

namespace tidemark::base {

/// What kind of thing a value measures. The comment names the SI unit that parse() returns.
enum class Dimension {
    number,             // [1], no unit
    length,             // [m]      mm cm m in inch(es) " ft um
    mass,               // [kg]     g kg mg lb(s) oz
    volume,             // [m3]     mL L gal qt pt cup tbsp tsp floz (US), impgal m3
    temperature,        // [K]      C F K (with or without the degree sign)
    temperature_change, // [K]      C F K as a difference
    fraction,           // [1]      % ppm g/kg mg/kg (a bare proportion is refused)
    duration,           // [s]      s min h hour(s) d day(s) week(s)
    diffusivity,        // [m2/s]   m2/s mm2/d mm2/day cm2/s
    speed,              // [m/s]    m/s mm/d
    rate,               // [1/s]    1/s 1/h 1/d
    molar_energy,       // [J/mol]  J/mol kJ/mol
    density,            // [kg/m3]  kg/m3 g/mL
    angle,              // [rad]    deg rad
};

/// A value in SI with the dimension its unit had.
struct Quantity {
    double si = 0;
    Dimension dimension = Dimension::number;
};

/// Reads `text` as a value of the given dimension [SI]. `where` is the flag or file position put at
/// the head of the message. Throws InputError for an empty text, a missing or unknown unit (naming
/// the nearest known one), a unit of another dimension, a decimal comma, a hexadecimal number, NaN,
/// infinity, trailing text, or parts that do not fall in size ("4 oz 1 lb").
double parse(std::string_view text, Dimension dimension, const std::string& where);

/// Reads a value whose unit decides between two dimensions, such as a brine given by mass or
/// volume.
Quantity parse_either(std::string_view text, Dimension first, Dimension second,
                      const std::string& where);

/// `value`, given in `unit`, in SI. Throws InputError if the dimension has no such unit. "1" is the
/// unit of a pure number. Used by the parameter records; covers every unit above.
double to_si(double value, std::string_view unit, Dimension dimension);

/// The dimension of a unit, or throws InputError. Ambiguous temperature units give `temperature`.
Dimension dimension_of(std::string_view unit);

/// A length [m] in metric with the kitchen unit behind it: "65 mm (2.6 in)".
std::string show_length(double metres);
/// A temperature [K]: "3 °C (37 °F)".
std::string show_temperature(double kelvin);
/// A mass [kg]: "2.5 kg (5 lb 8 oz)".
std::string show_mass(double kilograms);
/// A volume [m3], in the largest measure that fits: "6 L (1.6 US gal)".
std::string show_volume(double cubic_metres);

} // namespace tidemark::base
