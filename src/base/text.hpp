// SPDX-License-Identifier: MIT
/// Small text helpers shared by messages and tables.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tidemark::base {

/// The one candidate that `word` was most likely meant to be; "" if two are as near, or none is
/// within one slip for every three letters of the parts (between hyphens, dots or spaces) in which
/// the two differ. A letter more, less or another, or two in the wrong order, is one slip.
std::string nearest(std::string_view word, const std::vector<std::string>& candidates);

/// `value` with `digits` significant digits, no exponent between 1e-4 and 1e7, no trailing zeros.
std::string significant(double value, int digits);

/// `text` without leading and trailing white space.
std::string trim(std::string_view text);

} // namespace tidemark::base
