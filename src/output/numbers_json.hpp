// SPDX-License-Identifier: MIT
/// The library of numbers as one JSON object.
#pragma once

#include "base/record.hpp"

#include <string>
#include <vector>

namespace tidemark::output {

/// The records of these keys, with the works that they name.
std::string numbers_json(const base::Records& records, const std::vector<std::string>& keys);

} // namespace tidemark::output
