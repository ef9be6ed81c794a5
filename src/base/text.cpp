// SPDX-License-Identifier: MIT
/// Edit distance, number formatting independent of the locale, and what may be shown.
#include "base/text.hpp"

#include "base/error.hpp"

#include <boost/locale/utf.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <utility>

namespace tidemark::base {
namespace {

char lower(char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

/// Edits that make one word of the other; two letters in the wrong order are one edit, and capitals
/// count as small letters.
std::size_t distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before, last, row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        before = std::exchange(last, row);
        row[0] = i + 1;
        for (std::size_t j = 0; j < b.size(); ++j) {
            const auto same = [&](std::size_t m, std::size_t n) {
                return lower(a[m]) == lower(b[n]);
            };
            row[j + 1] = std::min({last[j] + (same(i, j) ? 0 : 1), last[j + 1] + 1, row[j] + 1});
            if (i > 0 && j > 0 && same(i, j - 1) && same(i - 1, j)) {
                row[j + 1] = std::min(row[j + 1], before[j - 1] + 1);
            }
        }
    }
    return row.back();
}

/// Takes the parts off both words that are the same at their heads and ends: of pork-lion and
/// pork-loin, lion and loin are left.
void drop_common_parts(std::string_view& a, std::string_view& b) {
    constexpr std::string_view separators = "-. ";
    const auto head = [&](std::string_view word) {
        return word.substr(0, word.find_first_of(separators) + 1);
    };
    const auto end = [&](std::string_view word) {
        const auto at = word.find_last_of(separators);
        return at == std::string_view::npos ? std::string_view{} : word.substr(at);
    };
    for (auto part = head(a); !part.empty() && head(b) == part; part = head(a)) {
        a.remove_prefix(part.size());
        b.remove_prefix(part.size());
    }
    for (auto part = end(a); !part.empty() && end(b) == part; part = end(a)) {
        a.remove_suffix(part.size());
        b.remove_suffix(part.size());
    }
}

using Utf8 = boost::locale::utf::utf_traits<char>;
using boost::locale::utf::code_point;
using boost::locale::utf::is_valid_codepoint;

bool commands_terminal(code_point c) {
    const auto within = [c](code_point first, code_point last) { return first <= c && c <= last; };
    return c < 0x20 || within(0x7F, 0x9F) ||                   // C0; DEL and C1
           c == 0x61C || within(0x200E, 0x200F) ||             // marks of direction
           within(0x202A, 0x202E) || within(0x2066, 0x2069) || // embeddings, overrides, isolates
           within(0x2028, 0x2029);                             // ends of line and paragraph
}

} // namespace

std::string nearest(std::string_view word, const std::vector<std::string>& candidates) {
    std::string best;
    std::size_t least = word.size() + 1;
    for (const std::string& candidate : candidates) {
        std::string_view a = word, b = candidate;
        drop_common_parts(a, b);
        const std::size_t d = distance(a, b);
        const std::size_t slips = a.size() < 2 ? 0 : std::max<std::size_t>(1, a.size() / 3);
        if (d <= slips && d < least) {
            least = d;
            best = candidate;
        } else if (d == least && candidate != best) {
            best.clear(); // no guess between two: one may be the wrong premix
        }
    }
    return best;
}

std::string significant(double value, int digits) {
    char buffer[64];
    const auto write = [&](double v, auto... how) {
        const char* end = std::to_chars(buffer, buffer + sizeof buffer, v, how...).ptr;
        return std::string_view(buffer, static_cast<std::size_t>(end - buffer));
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

bool is_utf8(std::string_view text) {
    for (const char* at = text.begin(); at != text.end();) {
        if (!is_valid_codepoint(Utf8::decode(at, text.end()))) {
            return false;
        }
    }
    return true;
}

std::string showable(std::string_view text, bool lines) {
    std::string shown;
    shown.reserve(text.size());
    for (const char* at = text.begin(); at != text.end();) {
        const char* const start = at;
        const code_point c = Utf8::decode(at, text.end());
        if (!is_valid_codepoint(c)) {
            shown += "\uFFFD";
            at = start + 1; // what follows may be sound again
        } else if (lines && (c == '\n' || (c == '\r' && at != text.end() && *at == '\n'))) {
            shown += *start;
        } else if (commands_terminal(c)) {
            shown += ' ';
        } else {
            shown.append(start, at);
        }
    }
    return shown;
}

void check_showable(const std::string& text, const std::string& where) {
    if (showable(text) != text) {
        throw InputError(where, text, "holds a control character, or one that is not UTF-8",
                         "write it with letters, digits and signs that can be seen");
    }
}

std::string shortened(const std::string& text, std::size_t most) {
    constexpr std::string_view rest = "...";
    std::size_t seen = 0, cut = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if ((text[i] & 0xC0) != 0x80) {
            cut = seen == most - rest.size() ? i : cut;
            if (seen++ == most) {
                return text.substr(0, cut).append(rest);
            }
        }
    }
    return text;
}

} // namespace tidemark::base
