// SPDX-License-Identifier: MIT
/// What the screen says in each of the ways an answer can come out.
#include "output/report.hpp"

#include "output/words.hpp"
#include "sample.hpp"

#include <catch2/catch.hpp>

#include <sstream>

using namespace tidemark;
using Catch::Contains;
using Catch::StartsWith;

namespace {

std::string screen(const cure::Prediction& p) {
    return output::report(p, output::sample_picture());
}

} // namespace

TEST_CASE("the screen begins with the pull window, rounded inwards", "[output]") {
    CHECK_THAT(
        screen(output::sample_prediction()),
        StartsWith("Invented block of pork loin\n"
                   "\n"
                   "PULL     from day 9.4 (about 9 days 12 hours): the core is cured\n"
                   "         to day 14.2 (about 14 days): then the mean salt passes 2.5 %\n"));
}

TEST_CASE("the screen is no wider than 80 characters and no longer than 40 lines", "[output]") {
    std::istringstream lines(screen(output::sample_prediction()));
    int count = 0;
    for (std::string line; std::getline(lines, line); ++count) {
        CAPTURE(line);
        CHECK(output::width_of(line) <= 80);
    }
    CHECK(count <= 40);
}

TEST_CASE("the screen tells the state of core, mean and brine, and the law's own number",
          "[output]") {
    const std::string text = screen(output::sample_prediction());
    CHECK_THAT(text, Contains("CORE     31 mm (1.2 in) from the nearest wet face; it holds 50 % of "
                              "the salt it\n         would hold if left for good."));
    CHECK_THAT(text, Contains("\ncore                         1.25 %        1.66 %          6.0 ppm"
                              "       4.0 ppm\n"));
    CHECK_THAT(text, Contains("\nbrine on day 9.4             4.80 %                               "
                              "        98 ppm\n"));
    CHECK_THAT(
        text,
        Contains(
            "LAW      ingoing nitrite 121 ppm, limit 200 ppm (nitrite over meat plus brine)\n"));
    CHECK_THAT(text, Contains("WARNING  an invented warning\n"));
    CHECK_THAT(text, Contains("CAUTION  an invented caution\n"));
}

TEST_CASE("the screen says how far cuts differ, by the record's spread", "[output]") {
    cure::Prediction p = output::sample_prediction();
    CHECK_THAT(screen(p),
               Contains("Meat varies: two cuts in three take 0.67 to 1.5 times these days."));
    p.parameters[0].spread = "none stated";
    CHECK_THAT(screen(p), Contains("How far cuts differ is not in these days."));
}

TEST_CASE("a core that is never cured is said to be so, with the reason", "[output]") {
    cure::Prediction p = output::sample_prediction();
    p.pull.reset();
    p.never = "the piece is too thick for nitrite to get there: inject";
    CHECK_THAT(screen(p), Contains("\nPULL     The core is not cured: the piece is too thick for "
                                   "nitrite to get there:\n         inject\n"));
}

TEST_CASE("an empty window is told with both days and the way out", "[output]") {
    cure::Prediction p = output::sample_prediction();
    p.last_good = 8.17 * output::day;
    p.window = "a brine of 4 % opens the window";
    const std::string text = screen(p);
    CHECK_THAT(text, Contains("PULL     There is no good day: the core is cured from day 9.4 "
                              "(about 9 days 12\n         hours), but day 8.1 is the last good "
                              "one.\n"));
    CHECK_THAT(text, Contains("a brine of 4 % opens the window"));
}

TEST_CASE("a brine without nitrite is reported by its salt alone", "[output]") {
    cure::Prediction p = output::sample_prediction();
    p.has_nitrite = false;
    p.target = 0.015;
    const std::string text = screen(p);
    CHECK_THAT(text, !Contains("ppm"));
    CHECK_THAT(text, Contains("salted, 1.50 % or more"));
}
