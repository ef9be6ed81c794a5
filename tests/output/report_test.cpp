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

std::string screen(const cure::Prediction& p, const std::optional<inference::Ranges>& ranges = {}) {
    return output::report(p, output::sample_picture(), ranges);
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
    CHECK_THAT(text, Contains("LAW      ingoing nitrite 121 ppm, limit 200 ppm (us, cured); "
                              "nitrite over meat\n         plus brine\n"));
    CHECK_THAT(text, Contains("WARNING  an invented warning\n"));
    CHECK_THAT(text, Contains("CAUTION  an invented caution\n"));
}

TEST_CASE("without a range the screen says that it is not in the days", "[output]") {
    CHECK_THAT(screen(output::sample_prediction()),
               Contains("How far cuts differ is not in these days."));
}

TEST_CASE("with a range the screen begins with the late day, then half, then early", "[output]") {
    const std::string text = screen(output::sample_prediction(), output::sample_ranges());
    CHECK_THAT(
        text,
        StartsWith(
            "Invented block of pork loin\n"
            "\n"
            "PULL     on day 12.1 (about 13 days): 95 in 100 such cuts are cured to the core\n"
            "         by then, half by day 9.5, 5 in 100 by day 6.4\n"
            "GOOD     95 in 100 stay good to day 10.0, half to day 14.2, 5 in 100 as long as\n"
            "         was looked at: then the mean salt passes 2.5 %\n"
            "         88 in 100 have a good day at all, 71 in 100 have it on day 12.1.\n"
            "         Colour that lasts reaches the core: 26 in 100 not in the time looked\n"
            "         at, half by day 11.5, 5 in 100 by day 8.0.\n"
            "         With every number at its middle, as shown below, the core is cured on\n"
            "         day 9.4.\n"));
}

TEST_CASE("the screen says where the spread comes from and what to do about it", "[output]") {
    const std::string text = screen(output::sample_prediction(), output::sample_ranges());
    CHECK_THAT(text, Contains("SPREAD   of the pull day comes from (shares overlap):\n"
                              "          62 %  invented speed: cut an invented slice\n"
                              "           9 %  invented partition\n"));
    CHECK_THAT(text, !Contains("too small to show"));
    CHECK_THAT(text, Contains("ingoing nitrite 121 ppm (as measured out up to 140 ppm), limit"));
    CHECK_THAT(text, Contains("as measured out the brine may have no more than 5.00 % salt"));
    CHECK_THAT(text, Contains("WARNING  an invented warning of the range\n"));
}

TEST_CASE("where too many cuts are never cured no day is advised", "[output]") {
    inference::Ranges r = output::sample_ranges();
    r.pull = {8 * output::day, inference::never, inference::never, 0.61};
    r.advised.reset();
    CHECK_THAT(
        screen(output::sample_prediction(), r),
        Contains("PULL     No day can be advised.\n         Such cuts are cured to the core: "
                 "61 in 100 not in the time looked at, 5\n         in 100 by day 8.0.\n"));
}

TEST_CASE("where the advised day is past good for most cuts, the screen says what to do",
          "[output]") {
    inference::Ranges r = output::sample_ranges();
    r.open_advised = 0.1;
    CHECK_THAT(
        screen(output::sample_prediction(), r),
        Contains("10 in 100 have it on day 12.1. Cut\n         one open on day 9.5, or learn "
                 "more of what is listed as SPREAD."));
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
