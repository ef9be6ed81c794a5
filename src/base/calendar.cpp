// SPDX-License-Identifier: MIT
/// Reading by hand, as this compiler's library has no std::chrono::parse; showing by std::put_time.
/// Assumes POSIX: gmtime_r(), with time counted without leap seconds.
#include "base/calendar.hpp"

#include "base/error.hpp"
#include "base/text.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <ctime>
#include <iomanip>
#include <locale>
#include <sstream>

namespace tidemark::base {
namespace {

using namespace std::chrono;

std::tm broken_down(local_seconds moment) {
    const std::time_t count = moment.time_since_epoch().count();
    std::tm parts{};
    gmtime_r(&count, &parts); // no zone is applied: the count is local already
    return parts;
}

} // namespace

local_seconds parse_moment(std::string_view text, const std::string& where, hours alone) {
    const std::string shown = trim(text);
    const auto fail = [&](const std::string& rule, const std::string& remedy) {
        throw InputError(where, shown, rule, remedy);
    };
    const std::string remedy = "write it as 2026-12-05 or 2026-12-05 18:00";
    if (shown.empty()) {
        fail("is empty", remedy);
    }
    std::array<unsigned, 6> part{}; // year, month, day, hour, minute, second
    std::size_t count = 0;
    std::string_view rest = shown;
    for (const std::string_view before : {"", "-", "-", " T", ":", ":"}) {
        if (count > 0) {
            if (rest.empty() || before.find(rest[0]) == std::string_view::npos) {
                break;
            }
            rest.remove_prefix(1);
        }
        const auto end = std::from_chars(rest.begin(), rest.end(), part[count]).ptr;
        const auto digits = end - rest.begin();
        if (count == 0 ? digits != 4 : digits < 1 || digits > 2) {
            count = 0;
            break;
        }
        rest.remove_prefix(digits);
        ++count;
    }
    if (const std::string zone = trim(rest); count > 4 && zone.find_first_of("Zz+-") == 0) {
        fail("has a time zone", "write the time of the clock on the wall, without a zone");
    }
    if (!rest.empty() || count < 3 || count == 4) {
        fail("is not a date, or a date and a time, with the year first in four digits", remedy);
    }
    const year_month_day date{year(static_cast<int>(part[0])), month(part[1]), day(part[2])};
    if (part[0] < 1970 || part[0] > 2199) {
        fail("the year is not from 1970 to 2199", "check the year");
    }
    if (!date.month().ok()) {
        fail("there is no month " + std::to_string(part[1]), "write year-month-day");
    }
    if (!date.ok()) {
        const local_days last{date.year() / date.month() / std::chrono::last};
        fail("there is no day " + std::to_string(part[2]) + " in that month",
             "its last day is " + format_moment(last, "%Y-%m-%d"));
    }
    if (part[3] > 23 || part[4] > 59 || part[5] > 59) {
        fail("there is no such time of day", "write it from 00:00 to 23:59");
    }
    if (count == 3)
        return local_days(date) + alone;
    return local_days(date) + hours(part[3]) + minutes(part[4]) + seconds(part[5]);
}

local_seconds minute_after(local_seconds moment, double seconds_after) {
    constexpr local_days first{year(1000) / 1 / 1}, end{year(10000) / 1 / 1};
    const auto since_epoch = [](local_seconds m) {
        return static_cast<double>(m.time_since_epoch().count());
    };
    const double count = 60 * std::round((since_epoch(moment) + seconds_after) / 60);
    if (!(count >= since_epoch(first) && count < since_epoch(end))) {
        throw RunError("a moment is beyond the calendar of the years 1000 to 9999");
    }
    return local_seconds(seconds(std::lround(count)));
}

std::string show_moment(local_seconds moment) {
    // The day has no leading zero, which put_time cannot leave out.
    return format_moment(moment,
                         "%a " + std::to_string(broken_down(moment).tm_mday) + " %b %Y %H:%M");
}

std::string format_moment(local_seconds moment, const std::string& pattern) {
    const std::tm parts = broken_down(moment);
    std::ostringstream out;
    out.imbue(std::locale::classic());
    out << std::put_time(&parts, pattern.c_str());
    return out.str();
}

} // namespace tidemark::base
