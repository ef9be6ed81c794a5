// SPDX-License-Identifier: MIT
/// A cooler's log read from CSV: what is understood, what is put right with a remark, and every
/// refusal word for word. All logs are invented.
#include "common.hpp"
#include "cure/cooler_log.hpp"

#include "base/calendar.hpp"
#include "base/error.hpp"
#include "base/file.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <numbers>
#include <utility>

namespace test_cooler_log {

using namespace tidemark;
using cure::CoolerLog;
using Remarks = std::vector<std::string>;
using test::hour;

namespace {

constexpr double zero = 273.15; // 0 C [K], exact by definition

CoolerLog read(const std::string& text) {
    return cure::cooler_log_from_csv(text, "log.csv");
}

/// Readings of 3 C at the times given, which begin at line 2.
std::string at_times(const std::vector<std::string>& times, const std::string& header = "time") {
    std::string text = header + ",temperature [C]\n";
    for (const std::string& time : times) {
        text += time + ",3\n";
    }
    return text;
}

/// Readings of 3 C by the clock on the wall, every `minutes` from `from`; after `count` readings
/// the clock is moved by `jump` minutes and as many follow.
std::string clock_moved(const std::string& from, int minutes, int count, int jump) {
    std::vector<std::string> times;
    auto t = base::parse_moment(from, "test");
    for (int i = 0; i < 2 * count; ++i) {
        times.push_back(base::format_moment(t, "%Y-%m-%d %H:%M"));
        t += std::chrono::minutes(minutes + (i + 1 == count ? jump : 0));
    }
    return at_times(times);
}

#define REFUSED(text, message) CHECK_THROWS_WITH(read(text), message)

} // namespace

TEST_CASE("a log is read in each unit and by dates, hours and days", "[cure]") {
    for (const std::string text :
         {"time,temperature [C]\n2026-12-05 18:00,2\n2026-12-06T06:00:00,5\n2026-12-07,-0.5\n",
          "# invented\n\nhours,temperature [F]\r\n-6 , 35.6\r\n 6,41\r\n\r\n# late\r\n24,31.1\r\n",
          "Days, Temperature [°C]\n1.25,2\n1 3/4,5\n2.5,−0.5\n",
          "hours,temperature[K]\n0,275.15\n12,278.15\n30,272.65\n"}) {
        CAPTURE(text);
        const CoolerLog log = read(text);
        REQUIRE(log.time.size() == 3);
        CHECK(log.time[0] == 0);
        CHECK(log.time[1] == Approx(12 * hour).epsilon(1e-14));
        CHECK(log.last() == Approx(30 * hour).epsilon(1e-14));
        CHECK(log.temperature[0] - zero == Approx(2).margin(1e-12));
        CHECK(log.temperature[1] - zero == Approx(5).margin(1e-12));
        CHECK(log.temperature[2] - zero == Approx(-0.5).margin(1e-12));
        CHECK(log.remarks.empty());
        CHECK(log.start.has_value() == text.starts_with("time"));
    }
    CHECK(read(at_times({"2026-12-05 18:00", "2026-12-06"})).start ==
          base::parse_moment("2026-12-05 18:00", "test"));
}

TEST_CASE("the temperature runs straight between readings and is held outside them", "[cure]") {
    const CoolerLog log = read("hours,temperature [C]\n10,2\n20,4\n40,1\n");
    CHECK(log.at(0) == 2 + zero);
    CHECK(log.at(5 * hour) == Approx(3 + zero).epsilon(1e-15));
    CHECK(log.at(10 * hour) == 4 + zero);
    CHECK(log.at(25 * hour) == Approx(1.75 + zero).epsilon(1e-15));
    CHECK(log.at(-hour) == 2 + zero);
    CHECK(log.at(99 * hour) == 1 + zero);
    CHECK(log.mean() - zero == Approx((10 * 3 + 20 * 2.5) / 30).epsilon(1e-12)); // trapezia
    CHECK(log.beyond(0, 30 * hour).empty());
    CHECK(log.beyond(0, 31 * hour).at(0) ==
          "the cooler's log ends 30 h after its first reading; its last "
          "temperature, 1 °C (34 °F), is taken to hold from then on");
    CHECK(read(at_times({"2026-12-05", "2026-12-06 07:00"})).beyond(0, 32 * hour).at(0) ==
          "the cooler's log ends on Sun 6 Dec 2026 07:00; its last temperature, 3 °C (37 °F), is "
          "taken to hold from then on");
    // Before its first date the first is held, and said to be; without dates nothing is before it.
    CHECK(
        read(at_times({"2026-12-05", "2026-12-06 07:00"})).beyond(-hour, 0) ==
        Remarks{"the cooler's log begins on Sat 5 Dec 2026 00:00; its first temperature, 3 °C (37 "
                "°F), is taken to hold before then"});
    CHECK(log.beyond(-hour, 0).empty());
}

TEST_CASE("the time above a temperature is that of the straight lines", "[cure]") {
    // Above 4 C: 1 h of the way up and 1 h of the way down, 2 h at 6 C; 0.5 h at the end is less.
    const CoolerLog log = read("hours,temperature [C]\n0,2\n2,6\n4,6\n6,2\n7,4\n8,2\n9,6\n");
    CHECK(log.longest_above(4 + zero) == Approx(4 * hour).epsilon(1e-12));
    CHECK(log.longest_above(1 + zero) == 9 * hour);
    CHECK(log.longest_above(6 + zero) == 0); // at it, not above
    // 2 + 2 sin on a fine grid is above 3 for a third of the time, in one stretch of each period.
    std::string sine = "hours,temperature [C]\n";
    for (int i = 0; i <= 480; ++i) {
        sine += std::to_string(i * 0.1) + ',' +
                std::to_string(2 + 2 * std::sin(std::numbers::pi * i / 120)) + '\n';
    }
    // Chords lie below the arc by h2/8 times the curvature: some 1e-4 of the period here.
    CHECK(read(sine).longest_above(3 + zero) == Approx(8 * hour).epsilon(3e-4));
}

TEST_CASE("gaps are bridged with a remark, and long ones refused", "[cure]") {
    const std::vector<std::string> hourly{"0", "1", "2", "3", "4", "5"};
    const auto then = [&](const std::string& next) {
        auto times = hourly;
        times.push_back(next);
        return at_times(times, "hours");
    };
    CHECK(read(then("11")).remarks.empty()); // 6 h
    CHECK(read(then("11.1")).remarks ==
          Remarks{"log.csv:8: no reading from 5 hours to 11.1 hours (6.1 h); bridged by a straight "
                  "line"});
    CHECK(read(then("53")).remarks ==
          Remarks{"log.csv:8: no reading from 5 hours to 53 hours (48 h); bridged by a straight "
                  "line"});
    REFUSED(then("54"), "log.csv:8: 54 hours: no reading for 49 h, since 5 hours; at most 48 h can "
                        "be bridged: add what is known, or begin the log here");
    // Read by hand three times a day: a missed night is no gap, more than a day is.
    CHECK(read(at_times({"0", "8", "16", "24", "47", "55"}, "hours")).remarks.empty());
    CHECK(read(at_times({"0", "8", "16", "24", "49", "57"}, "hours")).remarks.size() == 1);
    CHECK(read(at_times({"2026-12-05 08:00", "2026-12-05 09:00", "2026-12-05 10:00",
                         "2026-12-06 10:00"}))
              .remarks == Remarks{"log.csv:5: no reading from 2026-12-05 10:00 to 2026-12-06 10:00 "
                                  "(24 h); bridged by a straight line"});
    REFUSED(at_times({"1", "4"}, "days"),
            "log.csv:3: 4 days: no reading for 72 h, since 1 days; at "
            "most 48 h can be bridged: add what is known, or begin "
            "the log here");
}

TEST_CASE("an hour's change of the clock is put right once, with a remark", "[cure]") {
    // The last Sundays of October 2026 and March 2027, and the Sundays on which the clocks change
    // elsewhere; dates of a wall calendar.
    const std::pair<const char*, int> changes[] = {
        {"2026-10-25 00:30", -60}, {"2026-11-01 00:00", -60}, {"2027-04-04 00:45", -60},
        {"2027-03-27 23:30", 60},  {"2027-03-13 23:45", 60},  {"2026-10-03 23:50", 60}};
    const int minutes = GENERATE(1, 5, 10, 15, 30, 60);
    for (const auto& [from, jump] : changes) {
        CAPTURE(from, minutes);
        const CoolerLog log = read(clock_moved(from, minutes, 120 / minutes + 1, jump));
        for (std::size_t i = 0; i < log.time.size(); ++i) {
            REQUIRE(log.time[i] == 60. * minutes * static_cast<double>(i));
        }
        CHECK(log.remarks ==
              Remarks{"log.csv:" + std::to_string(120 / minutes + 3) +
                      (jump < 0 ? ": the clock goes back an hour, as when summer time ends; the "
                                  "readings from here on are taken an hour later"
                                : ": the clock goes on an hour, as when summer time begins; the "
                                  "readings from here on are taken an hour earlier")});
    }
}

TEST_CASE("what is no change of the clock is not taken for one", "[cure]") {
    // Four readings lost on a Saturday, on a Sunday in December, and by day.
    for (const std::string from : {"2027-03-27 00:30", "2026-12-06 00:30", "2027-03-28 12:00"}) {
        const CoolerLog log = read(clock_moved(from, 15, 6, 60));
        CHECK(log.remarks.empty());
        CHECK(log.last() == (11 * 15 + 60) * 60);
    }
    // One reading too many, in the very night.
    const CoolerLog extra = read(clock_moved("2026-10-24 23:30", 60, 4, -57));
    CHECK(extra.remarks.empty());
    CHECK(extra.last() == (7 * 60 - 57) * 60);
    const std::string remedy = "; put them in order of time, each time once; if the clock was put "
                               "back, add what it lost to the rest";
    const auto not_later = [&](int line, const std::string& time, const std::string& before) {
        return "log.csv:" + std::to_string(line) + ": " + time +
               ": is not later than the line before it, " + before + remedy;
    };
    REFUSED(clock_moved("2026-10-25 01:00", 15, 5, -120),
            not_later(7, "2026-10-25 00:15", "2026-10-25 02:00"));
    REFUSED(clock_moved("2026-10-25 01:00", 15, 5, -45),
            not_later(7, "2026-10-25 01:30", "2026-10-25 02:00"));
    REFUSED(clock_moved("2026-10-25 01:00", 120, 2, -180),
            not_later(4, "2026-10-25 02:00", "2026-10-25 03:00"));
    REFUSED(clock_moved("2026-10-24 01:00", 15, 5, -60), // a Saturday
            not_later(7, "2026-10-24 01:15", "2026-10-24 02:00"));
    REFUSED(clock_moved("2026-12-08 01:00", 60, 5, -60), // a line given twice
            not_later(7, "2026-12-08 05:00", "2026-12-08 05:00"));
    const std::string once = clock_moved("2026-10-25 01:00", 15, 5, -60);
    CHECK(read(once).remarks.size() == 1);
    REFUSED(once + "2026-10-25 01:30,3\n", // a second time
            not_later(12, "2026-10-25 01:30", "2026-10-25 02:15"));
    // A column of numbers has no clock that is changed.
    REFUSED(at_times({"1", "1.25", "1.5", "1.75", "1"}, "hours"),
            not_later(6, "1 hours", "1.75 hours"));
    REFUSED(at_times({"2", "1", "0"}, "days"), not_later(3, "1 days", "2 days"));
    REFUSED(at_times({"0", "1", "1", "2"}, "hours"), not_later(4, "1 hours", "1 hours"));
}

TEST_CASE("temperatures of no cooler are refused, or their unit is", "[cure]") {
    const auto log = [](const std::string& unit, const std::vector<std::string>& readings) {
        std::string text = "hours,temperature [" + unit + "]\n";
        for (std::size_t i = 0; i < readings.size(); ++i) {
            text += std::to_string(i) + ',' + readings[i] + '\n';
        }
        return text;
    };
    const auto wrong = [](int line, const std::string& value, const std::string& unit) {
        return "log.csv:" + std::to_string(line) + ": " + value +
               ": lies outside -5 to 20 °C (23 to 68 °F), but looks like " + unit +
               "; if that is so, write temperature [" + unit + "] in the first line";
    };
    REFUSED(log("C", {"38", "37.5", "39"}), wrong(2, "38 C", "F"));
    REFUSED(log("C", {"38", "37.5", "71"}), // the last in neither
            wrong(2, "38 C", "F"));
    REFUSED(log("F", {"30", "3", "4"}), wrong(3, "3 F", "C"));
    REFUSED(log("C", {"276.2", "276"}), wrong(2, "276.2 C", "K"));
    const std::string rule =
        ": lies outside -5 to 20 °C (23 to 68 °F); take out what was read with "
        "the probe outside the cooler";
    REFUSED(log("C", {"3", "4", "25"}), "log.csv:4: 25 C" + rule);
    REFUSED(log("C", {"3", "-5.1"}), "log.csv:3: -5.1 C" + rule);
    REFUSED(log("F", {"38", "68.1"}), "log.csv:3: 68.1 F" + rule);
    REFUSED(log("C", {"-18", "-18"}), "log.csv:2: -18 C" + rule);
    CHECK_NOTHROW(read(log("C", {"-5", "20"})));
    CHECK_NOTHROW(read(log("F", {"23", "68"})));
    CHECK_NOTHROW(read(log("K", {"268.15", "293.15"})));
}

TEST_CASE("what is no log is refused with its line", "[cure]") {
    const std::string header = ": the first line must be: time,temperature [C]; name the unit in "
                               "brackets: C, F or K; write hours or days for time where it is a "
                               "number";
    for (const std::string bad : {"0,3", "time|temperature [C]", "time,temperature", "hours,3",
                                  "time,temperature [C],humidity", "date,temperature [C]"}) {
        REFUSED("# note\n" + bad + "\n0,3\n1,3\n", "log.csv:2: " + bad + header);
    }
    for (const std::string empty : {"", "\n\n", "# nothing\n"}) {
        REFUSED(empty, "log.csv: has no reading; begin with the line time,temperature [C]");
    }
    REFUSED("days,temperature [C]\n",
            "log.csv: has no reading; give two or more, or a steady temperature instead");
    REFUSED("days,temperature [C]\n0,3\n",
            "log.csv: has one reading; give two or more, or a steady temperature instead");
    REFUSED("hours,temperature [C]\n0,3\n1,3,5\n", "log.csv:3: 1,3,5: has 3 fields, not 2; write "
                                                   "time,temperature with decimal points");
    REFUSED("hours,temperature [C]\n0;3\n", "log.csv:2: 0;3: has 1 fields, not 2; write "
                                            "time,temperature with decimal points");
    REFUSED("hours;temperature [C]\n0,3\n",
            "log.csv:2: 0,3: has 1 fields, not 2; write a time and a temperature, parted as in the "
            "first line");
    REFUSED("hours,temperature [C]\n0,\n", "log.csv:2: is empty; write it as 1.5");
    REFUSED("hours,temperature [C]\n,3\n", "log.csv:2: is empty; write it as 1.5");
    REFUSED("time,temperature [C]\n2026-02-30,3\n",
            "log.csv:2: 2026-02-30: there is no day 30 in that month; its last day is 2026-02-28");
    for (const std::string bad : {"nan", "NaN", "inf", "-inf", "--", "1e999", "1e308", "0x3", "3 C",
                                  "\x1b[m", "\xFF\xFE"}) {
        CAPTURE(bad);
        for (const std::string& row : {"1," + bad, bad + ",3"}) {
            CHECK_THROWS_WITH(read("hours,temperature [C]\n0,3\n" + row + '\n'),
                              Catch::StartsWith("log.csv:3: "));
            CHECK_THROWS_AS(read("hours,temperature [C]\n0,3\n" + row + '\n'), base::InputError);
        }
    }
}

TEST_CASE("a log in another encoding is refused before it is read, a byte-order mark is not",
          "[cure]") {
    const auto path = (std::filesystem::path(TIDEMARK_BINARY_DIR) / "test-cooler-log.csv").string();
    const auto through_file = [&](const std::string& bytes) {
        std::ofstream(path, std::ios::binary) << bytes;
        return read(base::read_text(path, "--cooler-log", 4000));
    };
    CHECK(through_file("\xEF\xBB\xBFhours,temperature [°C]\r\n0,3\r\n1,4\r\n").last() == hour);
    CHECK_THROWS_WITH(through_file("hours,temperature [\xB0"
                                   "C]\n0,3\n1,4\n"), // Latin-1
                      "--cooler-log: " + path + ": is not UTF-8; save it as plain UTF-8 text");
    CHECK_THROWS_WITH(through_file(std::string("\xFF\xFEh\0o\0", 6)), // UTF-16
                      "--cooler-log: " + path + ": holds NUL bytes; save it as plain UTF-8 text");
    std::filesystem::remove(path);
}

TEST_CASE("two hundred thousand readings are one log", "[cure]") {
    std::string text = "time,temperature [F]\n";
    auto t = base::parse_moment("2026-12-05", "test");
    for (int i = 0; i < 200000; ++i, t += std::chrono::minutes(1)) {
        text += base::format_moment(t, "%Y-%m-%dT%H:%M:%S") + (i % 2 ? ",37\n" : ",38\n");
    }
    const CoolerLog log = read(text);
    CHECK(log.time.size() == 200000);
    CHECK(log.last() == 199999 * 60.0);
    CHECK(log.remarks.empty());
    CHECK(log.mean() == Approx(zero + 5.5 / 1.8).epsilon(200000 * 2.2e-16)); // 37.5 F, rounding
    CHECK(log.at(123456.5 * 60) == Approx(zero + 5.5 / 1.8).epsilon(1e-12));
}

} // namespace test_cooler_log
