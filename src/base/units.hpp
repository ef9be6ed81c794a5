// SPDX-License-Identifier: MIT
/// The table of units behind quantity.hpp. For base only; others use parse() and to_si().
#pragma once

#include "base/quantity.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace tidemark::base {

/// si = value * factor + offset.
struct Unit {
    std::string_view name;
    Dimension dimension;
    double factor;
    double offset = 0;
};

/// How a dimension is called in a message, and a value of it written well.
struct Wording {
    std::string_view name;
    std::string_view example;
};
const Wording& wording(Dimension dimension);

/// Equal but for ASCII capitals: "ML" is read as mL, since no two units differ by capitals alone.
bool same_name(std::string_view a, std::string_view b);

/// The unit of that name, in the wanted dimension if it is there, else in the first that has it.
const Unit* find_unit(std::string_view name, Dimension wanted);

/// Throws InputError naming the nearest unit of the wanted dimension, or of all.
[[noreturn]] void unknown_unit(const std::string& where, const std::string& value,
                               std::string_view name, std::optional<Dimension> wanted);

/// The many ways of typing one sign ("½", "²", "°", "”"), reduced to ASCII and trimmed.
std::string plain(std::string_view text);

} // namespace tidemark::base
