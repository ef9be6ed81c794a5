// SPDX-License-Identifier: MIT
/// What only some pieces have to show, in the words and drawings of the program. All invented.
#include "run.hpp"

#include <catch2/catch.hpp>

namespace test_shown {

using namespace tidemark::cli;
using Catch::Contains;

namespace {

const std::string rough = " --cells 4 --draws 64";

} // namespace

TEST_CASE("the figure of a bucket has each piece's own best day", "[cli]") {
    const Folder folder;
    folder.write("b.ini", "shape = round\nthickness = 50 mm\nweight = 1.2 kg\n");
    const Ran ran = folder.run("bucket --thickness 40mm --weight 1kg --with b.ini --brine 4L "
                               "--brine-salt 6% --brine-nitrite 150ppm --figure b.svg" +
                               rough);
    CHECK(ran.code == 0);
    const std::string drawn = contents(folder / "b.svg");
    CHECK_THAT(drawn, Contains("In one brine at 4 °C (39 °F)"));
    CHECK_THAT(drawn, Contains("piece 1 (pork loin, 40 mm): best day "));
    CHECK_THAT(drawn, Contains("piece 2 (pork loin, 50"));
}

TEST_CASE("a pumped piece is shown across its needles too", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run("plan --thickness 40mm --weight 1kg --shape block --width 80mm "
                               "--brine-salt 6% --brine-nitrite 150ppm --pump 10% --stage "
                               "'brine, 3 d' --stage 'rest, 2 d' --more --figure p.svg" +
                               rough);
    CHECK(ran.code == 0);
    CHECK_THAT(ran.out,
               Contains("weight gained by the needles 10 %, needles 30 mm (1.2 in) apart"));
    CHECK_THAT(ran.out, Contains("The plane across the needles on day "));
    const std::string drawn = contents(folder / "p.svg");
    CHECK_THAT(drawn, Contains("Across the needles. Day "));
    CHECK_THAT(drawn, Contains("right when the schedule is kept"));
}

TEST_CASE("the calendar says to close a bag, and to take the piece out of it", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run("plan --thickness 40mm --weight 1kg --start 2026-12-01 --stage "
                               "'bag, salt 25 g/kg, nitrite 150 ppm, 20 d' --calendar a.ics" +
                               rough);
    CHECK(ran.code == 0);
    const std::string calendar = contents(folder / "a.ics");
    CHECK_THAT(calendar, Contains("SUMMARY:Rub and bag"));
    CHECK_THAT(calendar, Contains("Take it out of the bag"));
}

TEST_CASE("a brine is judged by the way it goes in, which is named", "[cli]") {
    const Folder folder;
    const std::string recipe = "brine --water 4L --salt 240g --premix 30g --weight 2kg --more ";
    CHECK_THAT(folder.run(recipe + "--pump 10%").out,
               Contains("nitrite, pumped to a gain of 10 %"));
    CHECK_THAT(folder.run(recipe + "--pick-up 10%").out,
               Contains("nitrite, taken out at a gain of 10 %"));
}

} // namespace test_shown
