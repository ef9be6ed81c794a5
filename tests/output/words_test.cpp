// SPDX-License-Identifier: MIT
/// Rounding and wrapping; every expected text is worked out by hand.
#include "output/words.hpp"

#include "output/best_view.hpp"
#include "sample.hpp"

#include <catch2/catch.hpp>

#include <limits>

namespace words_test {

using namespace tidemark;
using namespace tidemark::output;

TEST_CASE("days are rounded so that the window never looks wider than it is", "[output]") {
    constexpr double day = 86400;
    CHECK(show_day(9.34 * day) == "day 9.3");
    CHECK(show_day(9.31 * day, Rounding::up) == "day 9.4");
    CHECK(show_day(9.39 * day, Rounding::down) == "day 9.3");
    CHECK(show_day(3 * day, Rounding::up) == "day 3.0");
    CHECK(show_day(0.1 * 3 * day, Rounding::up) == "day 0.3"); // 0.30000000000000004
}

TEST_CASE("a day of an answer is told as it was set, or to a tenth where it was worked out",
          "[output]") {
    constexpr double day = 86400;
    cure::Outcome o = sample_prediction(); // cured on day 9.34
    CHECK(day_shown(o, *o.first().cured) == "day 9.4");
    CHECK(day_shown(o, 1.25 * day) == "day 1.25");
    CHECK(day_shown(o, 26 * day) == "day 26");
    CHECK(day_shown(o, 16.41 * day) == "day 16.41"); // asked for, of a brine without an end
    o.question.stages.front().duration = 16.41 * day;
    CHECK(day_shown(o, 8.41 * day) == "day 8.5"); // where a stage ends
    CHECK(day_shown(o, 2.25 * day) == "day 2.25");
    o.at = 16.38 * day; // the finer mesh's
    o.first().stages.back().to = 16.41 * day;
    CHECK(day_shown(o, o.at) == "day 16.5"); // where the schedule ends
    CHECK(core_cured(o) == "cured to the core on day 9.4");
    o.has_nitrite = false;
    CHECK(core_cured(o) == "salted to the core on day 9.4");
    CHECK(core_state(o, false) == "not yet salted in the middle");
    o.pieces.push_back(o.first());
    o.pieces.back().cured = 12.31 * day; // the last of them
    CHECK(core_cured(o) == "all salted to the core on day 12.4");
    o.pieces.back().cured.reset();
    CHECK(core_cured(o) == "not all are cured to the core");
}

TEST_CASE("a title names the best day as surely as the screen does", "[output]") {
    inference::BestDay best = sample_ranges().best;
    CHECK(best_brief(best) == "best day 12: 93 in 100 right");
    CHECK(best_brief(best, "end stage 2 (brine) on ") ==
          "best: end stage 2 (brine) on day 12: 93 in 100 right");
    best.best->right = 0.3; // NOT SURE on the screen
    CHECK(best_brief(best) == "not sure, best day 12: 30 in 100 right");
    best.best->right = 0.004; // NO DAY
    CHECK(best_brief(best) == "no day is right");
}

TEST_CASE("days and hours are told no finer than a cook can use", "[output]") {
    constexpr double hour = 3600;
    CHECK(show_days_hours(1 * hour) == "1 hour");
    CHECK(show_days_hours(23.4 * hour) == "23 hours");
    CHECK(show_days_hours(25.4 * hour) == "1 day 1 hour");
    CHECK(show_days_hours(47.8 * hour) == "2 days");
    CHECK(show_days_hours(9.34 * 24 * hour) == "9 days 6 hours");
    CHECK(show_days_hours(9.9 * 24 * hour) == "10 days");
    CHECK(show_days_hours(14.6 * 24 * hour) == "15 days");
    CHECK(show_days_hours(9.3 * 24 * hour, Rounding::up) == "9 days 12 hours");
    CHECK(show_days_hours(9.2 * 24 * hour, Rounding::down) == "9 days");
}

TEST_CASE("amounts keep the digits they deserve", "[output]") {
    CHECK(show_percent(0.01624) == "1.62 %");
    CHECK(show_ppm(5.63e-6) == "5.6 ppm");
    CHECK(show_ppm(9.96e-6) == "10 ppm");
    CHECK(show_ppm(121.4e-6) == "121 ppm");
    CHECK(fixed(-0.001, 2) == "0.00");
    CHECK(fixed(-1.5, 0) == "-2");
    CHECK(fixed(std::numeric_limits<double>::quiet_NaN(), 2) == "-");
    CHECK(fixed(std::numeric_limits<double>::infinity(), 2) == "-");
}

TEST_CASE("a spread has a factor only when it is written as one", "[output]") {
    CHECK(spread_factor("gsd 1.6").value() == 1.6);
    CHECK_FALSE(spread_factor("sd 4"));
    CHECK_FALSE(spread_factor("none stated"));
}

TEST_CASE("text is wrapped at spaces and counted in characters", "[output]") {
    CHECK(wrapped("one two  three", 8) == std::vector<std::string>{"one two", "three"});
    CHECK(wrapped("unbreakable", 4) == std::vector<std::string>{"unbreakable"});
    CHECK(width_of("3 °C") == 4);
    CHECK(wrapped("3 °C 4 °C", 4) == std::vector<std::string>{"3 °C", "4 °C"});
}

} // namespace words_test
