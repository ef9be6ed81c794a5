// SPDX-License-Identifier: MIT
/// Dates read and shown. Days of the week are from a wall calendar of 2026 and from std::chrono.
#include "base/calendar.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

#include <limits>

using namespace tidemark::base;
using std::chrono::days;
using std::chrono::hours;
using std::chrono::local_days;
using std::chrono::local_seconds;
using std::chrono::minutes;
using std::chrono::month;
using std::chrono::seconds;
using std::chrono::year;

namespace {

local_seconds at(int y, unsigned m, unsigned d, int h = 0, int min = 0, int s = 0) {
    return local_days{year(y) / static_cast<int>(m) / static_cast<int>(d)} + hours(h) +
           minutes(min) + seconds(s);
}

#define REFUSED(text, message) CHECK_THROWS_WITH(parse_moment(text, "--start"), message)

const std::string form = ": is not a date, or a date and a time, with the year first in four digits"
                         "; write it as 2026-12-05 or 2026-12-05 18:00";

} // namespace

TEST_CASE("dates and times are read in the ways a person writes them", "[base]") {
    CHECK(parse_moment("2026-12-05", "") == at(2026, 12, 5));
    CHECK(parse_moment("2026-12-05 18:00", "") == at(2026, 12, 5, 18));
    CHECK(parse_moment("2026-12-05T18:05", "") == at(2026, 12, 5, 18, 5));
    CHECK(parse_moment(" 2026-12-05 23:59:58\t", "") == at(2026, 12, 5, 23, 59, 58));
    CHECK(parse_moment("2026-2-5 7:05", "") == at(2026, 2, 5, 7, 5));
    CHECK(parse_moment("2028-02-29", "") == at(2028, 2, 29)); // a leap year
    CHECK(parse_moment("2000-02-29", "") == at(2000, 2, 29)); // by the rule of 400 years
    CHECK(parse_moment("1970-01-01", "") == local_seconds{});
    CHECK(parse_moment("2199-12-31 00:00", "") == at(2199, 12, 31));
}

TEST_CASE("every minute of a leap year and of a common one reads back as it was written",
          "[base]") {
    for (auto t = at(2027, 1, 1); t < at(2029, 1, 1); t += minutes(61)) {
        REQUIRE(parse_moment(format_moment(t, "%Y-%m-%d %H:%M"), "") == t);
    }
}

TEST_CASE("what is no date is refused with the way to write it", "[base]") {
    REFUSED("", "--start: is empty; write it as 2026-12-05 or 2026-12-05 18:00");
    REFUSED("  ", "--start: is empty; write it as 2026-12-05 or 2026-12-05 18:00");
    for (const std::string bad : {"tomorrow",
                                  "26-12-05",
                                  "05-12-2026",
                                  "12/05/2026",
                                  "2026/12/05",
                                  "2026.12.05",
                                  "2026-12",
                                  "2026-12-05T",
                                  "2026-12-05 18",
                                  "2026-12-05 18.00",
                                  "2026-12-05  18:00",
                                  "2026-12-05 6:00 pm",
                                  "2026-12-05 18:00:",
                                  "2026-12-05 18:00:00.5",
                                  "2026--12-05",
                                  "-2026-12-05",
                                  "+2026-12-05",
                                  "2026-012-05",
                                  "20261205",
                                  "12026-12-05",
                                  "2026-12-05,18:00",
                                  "2026-12-0x",
                                  "99999999999999999999-01-01",
                                  "\xC3\xA9"}) {
        REFUSED(bad, "--start: " + bad + form);
    }
    for (const std::string zoned :
         {"2026-12-05T18:00Z", "2026-12-05 18:00:00+01:00", "2026-12-05 18:00 -05:00"}) {
        REFUSED(zoned, "--start: " + zoned +
                           ": has a time zone; write the time of the clock on the wall, without a "
                           "zone");
    }
}

TEST_CASE("a date alone is the hour that is asked for, and a date with an hour is not moved",
          "[base]") {
    CHECK(parse_moment("2026-12-05", "") == parse_moment("2026-12-05 00:00", ""));
    CHECK(parse_moment("2026-12-05", "", working_hour) == parse_moment("2026-12-05 08:00", ""));
    CHECK(parse_moment("2026-12-05 00:00", "", working_hour) ==
          parse_moment("2026-12-05 00:00", ""));
}

TEST_CASE("days and hours that do not exist are refused by name", "[base]") {
    REFUSED("2026-13-05", "--start: 2026-13-05: there is no month 13; write year-month-day");
    REFUSED("2026-00-05", "--start: 2026-00-05: there is no month 0; write year-month-day");
    REFUSED("2026-02-30 08:00", "--start: 2026-02-30 08:00: there is no day 30 in that month; its "
                                "last day is 2026-02-28");
    REFUSED("2028-02-30",
            "--start: 2028-02-30: there is no day 30 in that month; its last day is 2028-02-29");
    REFUSED("2100-02-29",
            "--start: 2100-02-29: there is no day 29 in that month; its last day is 2100-02-28");
    REFUSED("2026-04-00",
            "--start: 2026-04-00: there is no day 0 in that month; its last day is 2026-04-30");
    REFUSED("0026-12-05", "--start: 0026-12-05: the year is not from 1970 to 2199; check the year");
    REFUSED("2200-01-01", "--start: 2200-01-01: the year is not from 1970 to 2199; check the year");
    for (const std::string late : {"24:00", "18:60", "18:00:60", "99:99"}) {
        REFUSED("2026-12-05 " + late, "--start: 2026-12-05 " + late +
                                          ": there is no such time of day; write it from 00:00 to "
                                          "23:59");
    }
}

TEST_CASE("a moment is shown with its day of the week", "[base]") {
    CHECK(show_moment(at(2026, 12, 5, 18)) == "Sat 5 Dec 2026 18:00");
    CHECK(show_moment(at(2026, 11, 25, 9, 5, 59)) == "Wed 25 Nov 2026 09:05");
    CHECK(show_moment(at(2028, 2, 29)) == "Tue 29 Feb 2028 00:00");
    CHECK(show_moment(at(1969, 12, 31, 23, 59)) == "Wed 31 Dec 1969 23:59");
}

TEST_CASE("seconds are added over ends of months and years, to the nearest minute", "[base]") {
    CHECK(minute_after(at(2028, 2, 28, 12), 86400) == at(2028, 2, 29, 12));
    CHECK(minute_after(at(2026, 2, 28, 12), 86400) == at(2026, 3, 1, 12));
    CHECK(minute_after(at(2026, 12, 31, 23, 59), 60) == at(2027, 1, 1));
    CHECK(minute_after(at(2026, 12, 5), 9.34 * 86400) == at(2026, 12, 14, 8, 10)); // 8 h 9.6 min
    CHECK(minute_after(at(2026, 12, 5), -31) == at(2026, 12, 4, 23, 59));
    CHECK(minute_after(at(2026, 12, 5, 0, 0, 20), 0) == at(2026, 12, 5));
    for (const double bad : {1e12, -1e12, std::numeric_limits<double>::infinity(),
                             std::numeric_limits<double>::quiet_NaN()}) {
        CHECK_THROWS_WITH(minute_after(at(2026, 12, 5), bad),
                          "a moment is beyond the calendar of the years 1000 to 9999");
        CHECK_THROWS_AS(minute_after(at(2026, 12, 5), bad), RunError);
    }
}
