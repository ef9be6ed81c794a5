// SPDX-License-Identifier: MIT
/// `tidemark sheet`: which command's answer it writes, and what it does with a file.
#include "commands.hpp"
#include "run.hpp"

#include <catch2/catch.hpp>

#include <boost/algorithm/string.hpp>

namespace test_sheet {

using namespace tidemark;
using namespace tidemark::cli;
using Catch::Contains;

TEST_CASE("a sheet is of a day, a schedule, a bucket or the ways, as the flags have it", "[cli]") {
    const Folder folder;
    const std::string flags = quick.substr(4);
    folder.write("other.ini", "muscle = beef-round\nshape = block\nthickness = 40 mm\n"
                              "width = 60 mm\nweight = 500 g\n");
    struct Row {
        std::string words, with;
    };
    for (const Row& row :
         {Row{"sheet " + flags + "--sheet a.html", "<p class=\"best\">Best: day "},
          {"sheet " + flags + "--stage \"brine, 9 d\" --sheet a.html", "<p>As set: "},
          {"sheet " + flags +
               "--weight \"1 kg\" --brine 4L --shape block --width 80mm "
               "--with other.ini --sheet a.html",
           "Take out piece 2 (beef round, 40 mm)"}}) {
        const Ran ran = folder.run(row.words);
        CAPTURE(row.words, ran.err);
        CHECK(ran.code == 0);
        CHECK(ran.err == "");
        CHECK(ran.out != "");
        const std::string html = contents(folder / "a.html");
        CHECK_THAT(html, Contains(row.with));
        CHECK_THAT(html, Contains("<h2>Calendar</h2>") && Contains("<svg "));
    }
}

TEST_CASE("the line to type on a sheet is taken by learn once the slice is filled in", "[cli]") {
    const Folder folder;
    REQUIRE(folder.run("sheet " + quick.substr(4) + "--sheet a.html").code == 0);
    const std::string html = contents(folder / "a.html");
    const std::size_t from = html.find("<code><span>tidemark learn") + 6;
    std::string line = html.substr(from, html.find("</code>", from) - from);
    boost::erase_all(line, "<span>");
    boost::erase_all(line, "</span>");
    boost::replace_all(line, "&quot;", "\"");
    boost::replace_first(line, "\"... d\"", "\"3 d\"");
    boost::replace_first(line, "\"... mm\"", "\"9 mm\"");
    const Ran ran = folder.run(line.substr(std::string("tidemark ").size()));
    CAPTURE(line, ran.err);
    CHECK(ran.code == 0);
    CHECK_THAT(contents(folder / "shop.csv"), Contains("pork-loin"));
}

TEST_CASE("a sheet's file is asked for, checked and never half written", "[cli]") {
    const Folder folder;
    const std::string flags = quick.substr(4);
    refused(folder, "sheet " + flags, "--sheet: is missing; name a file: --sheet loin.html");
    refused(folder, "sheet " + flags + "--sheet a.txt",
            "--sheet: a.txt: does not end in .html; name it like loin.html");
    refused(folder, quick + "--sheet none/a.html",
            "--sheet: none/a.html: is in a folder that does not exist; name a file that can be "
            "written");
    CHECK(folder.files() == 0);
}

} // namespace test_sheet
