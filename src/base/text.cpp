// SPDX-License-Identifier: MIT
/// Edit distance and number formatting, independent of the locale.
#include "base/text.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <numeric>

namespace tidemark::base {
namespace {

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

/// Levenshtein distance with one row kept; capitals count as small letters.
std::size_t distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        std::size_t diagonal = row[0]++;
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t replaced = diagonal + (lower(a[i]) == lower(b[j]) ? 0 : 1);
            diagonal = row[j + 1];
            row[j + 1] = std::min({replaced, diagonal + 1, row[j] + 1});
        }
    }
    return row.back();
}

} // namespace

std::string nearest(std::string_view word, const std::vector<std::string>& candidates) {
    std::string best;
    std::size_t least = word.size() / 2 + 1;
    for (const std::string& candidate : candidates) {
        if (const std::size_t d = distance(word, candidate); d < least) {
            least = d;
            best = candidate;
        }
    }
    return best;
}

std::string significant(double value, int digits) {
    char buffer[64];
    const auto write = [&](double v, auto... how) {
        return std::string_view(buffer,
                                std::to_chars(buffer, buffer + sizeof buffer, v, how...).ptr);
    };
    const std::string_view rounded = write(value, std::chars_format::scientific, digits - 1);
    std::from_chars(rounded.begin(), rounded.end(), value);
    if (value == 0) {
        return "0"; // also for -0
    }
    const bool plain = std::abs(value) >= 1e-4 && std::abs(value) < 1e7;
    return std::string(
        write(value, plain ? std::chars_format::fixed : std::chars_format::scientific));
}

double rounded(double value, double step, Rounding rounding) {
    constexpr double slack = 1e-6;
    const double steps = value / step;
    return step * (rounding == Rounding::up     ? std::ceil(steps - slack)
                   : rounding == Rounding::down ? std::floor(steps + slack)
                                                : std::round(steps));
}

std::string day_number(double seconds, Rounding rounding) {
    return significant(rounded(seconds / 86400, 0.1, rounding), 9);
}

std::string trim(std::string_view text) {
    constexpr std::string_view white = " \t\r\n\f\v";
    const auto first = text.find_first_not_of(white);
    if (first == std::string_view::npos) {
        return "";
    }
    return std::string(text.substr(first, text.find_last_not_of(white) - first + 1));
}

} // namespace tidemark::base
