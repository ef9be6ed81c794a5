// SPDX-License-Identifier: MIT
/// The pages as files. What they say in a browser is tried by tests/page/test.sh.
#include "run.hpp"

#include <catch2/catch.hpp>

#include <regex>

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
