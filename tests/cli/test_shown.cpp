// SPDX-License-Identifier: MIT
/// What only some pieces have to show, in the words and drawings of the program. All invented.
#include "run.hpp"

#include <catch2/catch.hpp>

#include <regex>
#include <sstream>

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
    CHECK_THAT(drawn, Contains("2 kinds of pieces in one brine at 4 °C (39 °F)"));
    CHECK_THAT(drawn, Contains("Piece 1 (pork loin, 40 mm): best day "));
    CHECK_THAT(drawn, Contains("piece 2 (pork loin, 50"));
    const Ran alone = folder.run("bucket --thickness 40mm --weight 1kg --with b.ini --brine 4L "
                                 "--brine-salt 6% --brine-nitrite 150ppm --figure b.svg --cells 4 "
                                 "--draws 0");
    CHECK(alone.code == 0);
    CHECK_THAT(contents(folder / "b.svg"), Contains("<title>All cured to the core on day "));
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
    CHECK_THAT(drawn, Contains("<title>As set: "));
}

TEST_CASE("a figure tells the heading, the day and the chance of its screen", "[cli]") {
    const Folder folder;
    folder.write("b.ini", "shape = round\nthickness = 50 mm\nweight = 1.2 kg\n");
    const std::string piece = " --shape block --thickness 50mm --width 90mm --weight 1kg --brine "
                              "4L --brine-salt 6% --brine-nitrite 150ppm";
    for (const std::string& words :
         {"day" + piece, "day --at 1.25d" + piece, "day --draws 0" + piece,
          "bucket --with b.ini" + piece, "bucket --with b.ini --draws 0" + piece,
          "plan --stage 'brine, 3 d' --stage 'rest, 2 d' --pump 10%" + piece,
          "plan --stage 'brine, until cured' --draws 0" + piece,
          "choose --without needles --target-salt 2% --target-nitrite 150ppm" +
              piece.substr(0, piece.find(" --brine")),
          "choose --draws 0 --target-salt 2% --target-nitrite 150ppm" +
              piece.substr(0, piece.find(" --brine"))}) {
        CAPTURE(words);
        const Ran ran = folder.run(words + " --cells 4 --more --figure f.svg" +
                                       (words.find("--draws") == words.npos ? " --draws 256" : ""),
                                   "COLUMNS=100");
        REQUIRE(ran.code == 0);
        const std::string screen = std::regex_replace(ran.out, std::regex("\\s+"), " ");
        const std::string drawn = contents(folder / "f.svg");
        const auto between = [&](const std::string& from, const std::string& to) {
            const std::size_t begin = drawn.find(from) + from.size();
            return drawn.substr(begin, drawn.find(to, begin) - begin);
        };
        const std::string title = between("<title>", "</title>"),
                          desc = between("<desc>", "</desc>");
        std::string heading; // of the bucket's screen there is none
        for (std::istringstream lines(ran.out); std::getline(lines, heading);)
            if (heading.rfind("DANGER", 0) != 0 && !heading.empty())
                break;
        if (words.rfind("bucket", 0) != 0)
            CHECK(desc.rfind(heading + ".", 0) == 0);
        int told = 0;
        const auto all = [&](const std::string& text, const char* what, const auto& then) {
            const std::regex form(what);
            for (std::sregex_iterator m(text.begin(), text.end(), form), end; m != end; ++m, ++told)
                then(*m);
        };
        all(title, "day [0-9.]+(: (more than )?[0-9]+ in 100)?",
            [&](const std::smatch& m) { CHECK_THAT(screen, Contains(m.str())); });
        CHECK(told > 0);
        all(desc, "Day ([0-9.]+): cured", [&](const std::smatch& m) {
            CHECK_THAT(ran.out,
                       Contains("day " + m.str(1)) || Contains("a schedule of " + m.str(1) + " d"));
        });
        CHECK((words.find("--at") == words.npos || desc.find("Day 1.25: ") != desc.npos));
        CHECK((words.find("--without") == words.npos || drawn.find("needles") == drawn.npos));
    }
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
