// SPDX-License-Identifier: MIT
/// The pages as files. What they say in a browser is tried by tests/page/test.sh.
#include "json.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <iomanip>
#include <regex>
#include <sstream>

namespace test_page {

using namespace tidemark::cli;
using Catch::Contains;
using Catch::StartsWith;

TEST_CASE("a page is one file that needs nothing else", "[cli]") {
    const Folder folder;
    const std::string name = GENERATE("page", "teach");
    const Ran ran = folder.run(name);
    REQUIRE(ran.code == 0);
    CHECK(ran.err == "");
    CHECK_THAT(ran.out, StartsWith("<!doctype html>\n<html lang=\"en\">"));
    CHECK_THAT(ran.out, Contains("</html>\n") && Contains("Nitrite can hurt people"));
    CHECK_THAT(ran.out, !Contains("{{"));
    // The module's text is long, and no address could stand in it.
    const auto module = ran.out.find("id=\"engine\">");
    const auto end = ran.out.find("</script>", module);
    REQUIRE(end != std::string::npos);
    CHECK(end - module > 1000000);
    const std::string rest = ran.out.substr(0, module) + ran.out.substr(end);
    CHECK_FALSE(
        std::regex_search(rest, std::regex("https?:|(src|href)=\"|url\\(|@import|fetch\\(")));
    CHECK(folder.files() == 0);
}

TEST_CASE("page and teach take no flags but help", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run("page --muscle pork-loin");
    CHECK(ran.code == 2);
    CHECK(ran.out == "");
    CHECK(ran.err ==
          "tidemark: --muscle: is more than tidemark page takes; see tidemark page --help\n");
    CHECK_THAT(folder.run("page --help").out, StartsWith("tidemark page > page.html\n"));
    CHECK_THAT(folder.run("teach -h").out, StartsWith("tidemark teach > teach.html\n"));
}

TEST_CASE("teach draws the days against the thickness, from the program's own answers", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run("teach --figure days.svg");
    CHECK(ran.code == 0);
    CHECK(ran.out == "");
    const std::string svg = contents(folder / "days.svg");
    // Days go with the square of the thickness where nothing is used up: a closed form.
    CHECK_THAT(svg, Contains("<title>Twice as thick: 4.0 times the days; "));
    const std::string loin =
        "day --brine-salt 5% --brine-nitrite 150ppm --cooler 4C --draws 0 --thickness ";
    for (const char* shape : {"sheet", "round"}) {
        const double day = answer(folder, loin + "100mm --shape " + shape)["cured_day"];
        std::ostringstream told;
        told << shape << ' ' << std::fixed << std::setprecision(1) << day;
        CHECK_THAT(svg, Contains(told.str()));
    }
    refused(folder, "teach --figure days.txt",
            "--figure: days.txt: does not end in .svg, .png or .pdf; name the figure like ham.svg");
}

TEST_CASE("day draws what its spread comes from, if it has one", "[cli]") {
    const Folder folder;
    const Json told = answer(folder, quick + "--spread spread.svg");
    const double share = told["range"]["spread_from"][0]["total"];
    CHECK_THAT(contents(folder / "spread.svg"),
               Contains('>' + std::to_string(std::lround(100 * share)) + " %<"));
    refused(folder, quick + "--draws 0 --spread never.svg",
            "--spread: never.svg: no chances were worked out, so there is no spread; leave out "
            "--draws 0");
}

} // namespace test_page
