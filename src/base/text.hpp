// SPDX-License-Identifier: MIT
/// Small text helpers shared by messages and tables.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tidemark::base {

/// The candidate nearest to `word` by edit distance, or "" if none is within half its length.
std::string nearest(std::string_view word, const std::vector<std::string>& candidates);

/// `value` with `digits` significant digits, no exponent between 1e-4 and 1e7, no trailing zeros.
std::string significant(double value, int digits);

/// To which side of what is true a shown number falls: up for the first day that is safe, down for
/// the last one.
enum class Rounding { nearest, up, down };

/// `value` as a whole number of `step`s [its unit]; 3.0000000001 of them are 3, not 4.
double rounded(double value, double step, Rounding rounding);

/// A time [s] in days to a tenth, as "5.5".
std::string day_number(double seconds, Rounding rounding);

/// `text` without leading and trailing white space.
std::string trim(std::string_view text);

} // namespace tidemark::base
