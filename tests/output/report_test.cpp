// SPDX-License-Identifier: MIT
/// What the screen says in each of the ways an answer can come out.
#include "output/view.hpp"

#include "output/best_view.hpp"
#include "output/screen.hpp"
#include "sample.hpp"

#include <catch2/catch.hpp>

#include <sstream>

namespace report_test {

using namespace tidemark;
using Catch::Contains;
using Catch::StartsWith;

namespace {

std::string screen(const cure::Outcome& p, const std::optional<inference::Ranges>& ranges = {},
                   const output::Advised& advised = {}, bool more = false) {
    return output::screen(output::view(output::sample_answer(p, ranges, advised.changes),
                                       {output::sample_picture()}, {advised.command}),
                          more);
}

} // namespace

TEST_CASE("the screen begins with the pull window, rounded inwards", "[output]") {
    CHECK_THAT(
        screen(output::sample_prediction()),
        StartsWith("Invented block of pork loin\n"
                   "\n"
                   "CURED    from day 9.4 (about 9 days 12 hours): the core is cured\n"
                   "         to day 14.2 (about 14 days): then the mean salt passes 2.5 %\n"));
}

TEST_CASE("the screen is no wider than 80 characters and no longer than 24 lines", "[output]") {
    std::istringstream lines(screen(output::sample_prediction(), output::sample_ranges()));
    int count = 0;
    for (std::string line; std::getline(lines, line); ++count) {
        CAPTURE(line);
        CHECK(output::width_of(line) <= 80);
    }
    CHECK(count <= 24);
}

TEST_CASE("the screen tells the state of core, mean and brine, and the law's own number",
          "[output]") {
    const std::string text = screen(output::sample_prediction(), {}, {}, true);
    CHECK_THAT(text, Contains("CORE     31 mm (1.2 in) from the nearest wet face; it holds 50 % of "
                              "the salt it\n         would hold at balance."));
    CHECK_THAT(text, Contains("\ncore                         1.25 %        1.66 %          6.0 ppm"
                              "       4.0 ppm\n"));
    CHECK_THAT(text, Contains("\nbrine on day 9.4             4.80 %                               "
                              "        98 ppm\n"));
    CHECK_THAT(
        text,
        Contains(
            "LAW      121 ppm ingoing nitrite over meat and brine, limit 200 ppm (us, cured)\n"));
    CHECK_THAT(text, Contains("WARNING  an invented warning\n"));
    CHECK_THAT(text, Contains("WARNING  an invented caution\n"));
}

TEST_CASE("without a range the screen says that it is not in the days", "[output]") {
    CHECK_THAT(screen(output::sample_prediction()),
               Contains("These days do not include variation between pieces."));
}

TEST_CASE("the screen begins with the best day, its chance and what is wrong with the others",
          "[output]") {
    inference::Ranges r = output::sample_ranges();
    CHECK_THAT(
        screen(output::sample_prediction(), r),
        StartsWith(
            "Invented block of pork loin\n"
            "\n"
            "BEST     day 12: 93 in 100 pieces like this are then right; 4 are still grey in\n"
            "         the middle, 2 too salty, 1 not salty enough. From day 11 to 13 at least\n"
            "         90 are.\n"
            "TYPICAL  cured to the core on day 9.4; on day 9.4 it holds 2.00 % salt, the core\n"));
    r.best.best->right = 0.71;
    r.best.window.reset();
    output::Advised advised;
    advised.changes.best = inference::Change{"4.25 % salt in the brine",
                                             {{"brine-salt", "4.25 %"}},
                                             16 * output::day,
                                             0.92,
                                             std::pair{14 * output::day, 19 * output::day},
                                             true};
    advised.changes.looked = true;
    advised.changes.tried = {{"an invented change", 15 * output::day, 0.8}};
    advised.changes.left_out = {"needles", "needles and brine"};
    advised.command =
        "tidemark day --case invented.ini --shape block --thickness 60mm --brine-salt "
        "\"4.25 %\"";
    CHECK_THAT(
        screen(output::sample_prediction(), r, advised),
        Contains("BEST     day 12: 71 in 100 pieces like this are then right; 4 are still grey "
                 "in\n         the middle, 2 too salty, 1 not salty enough.\n"
                 "CHANGE   for 90 in 100: 4.25 % salt in the brine; then day 16: 92 in 100 "
                 "right.\n         From day 14 to 19 at least 90 are.\n"
                 "         tidemark day --case invented.ini --shape block --thickness 60mm \\\n"
                 "             --brine-salt \"4.25 %\"\n"));
    CHECK_THAT(screen(output::sample_prediction(), r, advised, true),
               Contains("TRIED    an invented change: day 15: 80 in 100 right\n"
                        "         left out, as you asked: needles, needles and brine\n"));
    CHECK_THAT(screen(output::sample_prediction(), r, advised), !Contains("left out"));
    output::Advised none = advised; // nor is what is left out advised
    none.changes.best.reset();
    CHECK_THAT(screen(output::sample_prediction(), r, none),
               Contains("CHANGE   nothing that was tried makes it surer; see tidemark choose for "
                        "a rub or\n         a bag.\n"));
    r.best.best->right = 0.3;
    CHECK_THAT(
        screen(output::sample_prediction(), r, advised),
        Contains("NOT SURE no day suits most pieces; the best: day 12: 30 in 100 pieces like"));
    r.best.best.reset();
    cure::Outcome p = output::sample_prediction();
    p.first().never = "it is too thick";
    CHECK_THAT(screen(p, r),
               Contains("NO DAY   No piece like this comes out right on any day: it is "
                        "too thick.\n"));
}

TEST_CASE("where the spread comes from is a line, and all of it with more", "[output]") {
    const inference::Ranges r = output::sample_ranges();
    CHECK_THAT(screen(output::sample_prediction(), r), Contains("SPREAD   invented speed 62 %\n"));
    const std::string text = screen(output::sample_prediction(), r, {}, true);
    CHECK_THAT(text, Contains("SPREAD   of the day the core is cured comes from (shares overlap):\n"
                              "          62 %  invented speed: cut an invented slice\n"
                              "           9 %  invented partition\n"));
    CHECK_THAT(text, !Contains("too small to show"));
    CHECK_THAT(text, Contains("as measured out the ingoing nitrite may be up to 140 ppm"));
    CHECK_THAT(text, Contains("as measured out the brine may have no more than 5.00 % salt"));
    CHECK_THAT(text, Contains("WARNING  an invented warning of the range\n"));
    CHECK_THAT(text, Contains("The core is cured: 95 in 100 by day 13, half by day 9.5"));
}

TEST_CASE("notes on the model are counted, and told in full with more", "[output]") {
    cure::Outcome p = output::sample_prediction();
    p.findings.note("an invented note");
    CHECK_THAT(screen(p), !Contains("an invented note"));
    CHECK_THAT(screen(p), Contains("and 1 note."));
    CHECK_THAT(screen(p, {}, {}, true), Contains("NOTE     an invented note\n"));
}

TEST_CASE("a core that is never cured is said to be so, with the reason", "[output]") {
    cure::Outcome p = output::sample_prediction();
    p.first().cured.reset();
    p.first().never = "the piece is too thick for nitrite to get there: inject";
    CHECK_THAT(screen(p), Contains("\nCURED    The core is not cured: the piece is too thick for "
                                   "nitrite to get there:\n         inject\n"));
}

TEST_CASE("an empty window is told with both days and the way out", "[output]") {
    cure::Outcome p = output::sample_prediction();
    p.first().last_good = 8.17 * output::day;
    const std::string text = screen(p);
    CHECK_THAT(text, Contains("CURED    There is no good day: the core is cured from day 9.4 "
                              "(about 9 days 12\n         hours), but day 8.1 is the last good "
                              "one."));
    CHECK_THAT(text, Contains("Try a weaker brine, needles,"));
}

TEST_CASE("a brine without nitrite is reported by its salt alone", "[output]") {
    cure::Outcome p = output::sample_prediction();
    p.has_nitrite = false;
    p.first().target = 0.015;
    const std::string text = screen(p, {}, {}, true);
    CHECK_THAT(text, !Contains("ppm"));
    CHECK_THAT(text, Contains("salted, 1.50 % or more"));
}

} // namespace report_test
