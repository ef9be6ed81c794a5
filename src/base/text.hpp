// SPDX-License-Identifier: MIT
/// Small text helpers shared by messages and tables.
#pragma once

#include <cstddef>
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

/// To which side of what is true a shown number falls: up for the first day that is safe, down for
/// the last one.
enum class Rounding { nearest, up, down };

/// `value` as a whole number of `step`s [its unit]; 3.0000000001 of them are 3, not 4.
double rounded(double value, double step, Rounding rounding);

/// A time [s] in days to a tenth, as "5.5".
std::string day_number(double seconds, Rounding rounding);

/// `text` without leading and trailing white space.
std::string trim(std::string_view text);

bool is_utf8(std::string_view text);

/// `text` as it may reach a terminal: spaces for control characters (C0, DEL, C1), for those that
/// turn the direction of text round and for Unicode's own line ends; U+FFFD for what is not UTF-8.
/// With `lines`, LF and CR LF stay.
std::string showable(std::string_view text, bool lines = false);

/// Throws InputError, headed by `where`, for a text that showable() would change: a name or a path.
void check_showable(const std::string& text, const std::string& where);

/// A UTF-8 text of at most `most` characters; if it is longer, "..." stands for its rest.
std::string shortened(const std::string& text, std::size_t most);

} // namespace tidemark::base
