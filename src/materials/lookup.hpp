// SPDX-License-Identifier: MIT
/// Two helpers for reading models/: names given by a user, and tables in groups of records.
/// For the materials layer only.
#pragma once

#include "base/record.hpp"

#include <string>
#include <vector>

namespace tidemark::materials {

/// Gives `name` back if it is among `names`, else throws InputError naming the nearest, or all of
/// them. `what` heads the message: "muscle".
const std::string& known(const std::string& what, const std::string& name,
                         const std::vector<std::string>& names);

/// The places and values [SI] of a table kept as a group of records, by rising place.
struct Table {
    std::vector<double> x;
    std::vector<double> y;
};

/// Reads a table whose names are sNN for NN % of salt, giving x as a fraction [kg/kg], or tNNN for
/// NNN tenths of a degree Celsius, giving x as a temperature [K].
Table table(const base::Records& records, const std::string& group);

} // namespace tidemark::materials
