// SPDX-License-Identifier: MIT
/// Rounding and wrapping.
#include "output/words.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"

#include <boost/algorithm/string/classification.hpp>
#include <boost/algorithm/string/join.hpp>
#include <boost/algorithm/string/split.hpp>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace tidemark::output {
namespace {

constexpr double hour = 3600, day = 24 * hour;

std::string counted(long count, const char* thing) {
    return std::to_string(count) + ' ' + thing + (count == 1 ? "" : "s");
}

} // namespace

std::string fixed(double value, int decimals) {
    if (!std::isfinite(value)) {
        return "-";
    }
    std::array<char, 400> buffer;
    const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value + 0.0,
                                   std::chars_format::fixed, decimals)
                         .ptr;
    const std::string text(buffer.data(), end);
    return text.find_first_of("123456789") == std::string::npos && text[0] == '-' ? text.substr(1)
                                                                                  : text;
}

std::string show_day(double seconds, Rounding rounding) {
    return "day " + fixed(base::rounded(seconds / day, 0.1, rounding), 1);
}

std::string show_days_hours(double seconds, Rounding rounding) {
    const double step = seconds < 2 * day ? hour : seconds < 10 * day ? 6 * hour : day;
    const long hours = std::lround(base::rounded(seconds, step, rounding) / hour);
    if (hours < 24) {
        return counted(hours, "hour");
    }
    return counted(hours / 24, "day") + (hours % 24 ? ' ' + counted(hours % 24, "hour") : "");
}

std::string day_range(const inference::DayRange& range) {
    std::vector<std::string> parts;
    if (!std::isfinite(range.late)) {
        parts.push_back(fixed(100 * range.share_never, 0) +
                        " in 100 not at all in the time looked at");
    }
    for (const auto& [share, seconds] :
         {std::pair{"95 in 100", range.late}, {"half", range.half}, {"5 in 100", range.early}}) {
        if (std::isfinite(seconds)) {
            parts.push_back(share + (" by day " + range_day(seconds)));
        }
    }
    return boost::join(parts, ", ");
}

std::string tenths(double seconds) {
    return fixed(base::rounded(seconds / day, 0.1, Rounding::up), 1);
}

std::string range_day(double seconds) {
    // Some thousand draws tell the ends to a few percent: from ten days on no tenths.
    return seconds < 10 * day ? tenths(seconds)
                              : fixed(base::rounded(seconds / day, 1, Rounding::up), 0);
}

std::string kept_day(double seconds) {
    return "day " + base::significant(seconds / day, 4);
}

std::string day_shown(const cure::Outcome& o, double seconds) {
    if (std::ranges::count(o.pieces, seconds, &cure::PieceOutcome::cured) > 0)
        return "day " + tenths(seconds);
    if (o.question.stages.back().open())
        return kept_day(seconds);
    if (seconds >= o.at) // the end, which each mesh comes to on a day of its own
        seconds = o.first().stages.back().to;
    const bool set = std::abs(std::remainder(seconds, day / 4)) < 1; // no day advised is finer
    return set ? kept_day(seconds) : "day " + base::day_number(seconds, Rounding::up);
}

std::string core_range(const inference::DayRange& range) {
    return "the core is cured: " + day_range(range);
}

std::string core_state(const cure::Outcome& o, bool cured) {
    return o.has_nitrite ? cured ? "cured to the core" : "grey in the middle"
           : cured       ? "salted to the core"
                         : "not yet salted in the middle";
}

std::string core_cured(const cure::Outcome& o) {
    const bool several = o.pieces.size() > 1;
    const auto& cured = o.slowest().cured;
    return cured     ? (several ? "all " : "") + core_state(o, true) + " on " + day_shown(o, *cured)
           : several ? "not all are cured to the core"
                     : "the core is not cured";
}

std::string show_percent(double proportion) {
    return fixed(proportion * 1e2, 2) + " %";
}

std::string show_ppm(double proportion) {
    const double ppm = proportion * 1e6;
    return fixed(ppm, std::abs(ppm) < 9.95 ? 1 : 0) + " ppm";
}

std::string limit_in_words(const std::optional<double>& limit, const std::string& law) {
    return (limit ? "limit " + show_ppm(*limit) : std::string("no limit for what goes in")) + " (" +
           law + ')';
}

std::optional<double> spread_factor(const std::string& spread) {
    if (!spread.starts_with("gsd ")) {
        return {};
    }
    return base::parse(spread.substr(4), base::Dimension::number, "spread");
}

std::string mark_in_words(char mark) {
    switch (mark) {
    case 'S':
        return "seen in the source";
    case 'M':
        return "from memory";
    case 'C':
        return "computed";
    case 'J':
        return "our judgement";
    case 'U':
        return "given by you";
    default:
        throw base::RunError(std::string("no such mark: ") + mark);
    }
}

std::size_t width_of(const std::string& text) {
    return std::ranges::count_if(text, [](char c) { return (c & 0xC0) != 0x80; });
}

std::vector<std::string> wrapped(const std::string& text, std::size_t width) {
    std::vector<std::string> words, lines;
    boost::split(words, text, boost::is_space(), boost::token_compress_on);
    for (const std::string& word : words) {
        if (lines.empty() || width_of(lines.back()) + 1 + width_of(word) > width) {
            lines.push_back(word);
        } else {
            lines.back() += ' ' + word;
        }
    }
    return lines;
}

std::string kinds_in_one_brine(const cure::Outcome& o) {
    return std::to_string(o.pieces.size()) + " kinds of pieces in one brine at " +
           base::show_temperature(o.question.base.temperature);
}

std::string stage_name(const cure::Stage& s) {
    switch (s.kind) {
    case cure::Stage::Kind::cover:
        return s.fresh || s.brine ? "fresh brine" : "brine";
    case cure::Stage::Kind::rub:
        return "rub";
    case cure::Stage::Kind::bag:
        return "bag";
    case cure::Stage::Kind::soak:
        return "soak";
    case cure::Stage::Kind::rest:
        break;
    }
    return "rest";
}

std::string capital(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

} // namespace tidemark::output
