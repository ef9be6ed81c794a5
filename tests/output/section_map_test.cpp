// SPDX-License-Identifier: MIT
/// Maps of the small picture by hand; see sample.hpp for its rings.
#include "output/section_map.hpp"

#include "sample.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

namespace section_map_test {

using namespace tidemark;
using Lines = std::vector<std::string>;

TEST_CASE("the map shows fat, bone, the core and four degrees of cure", "[output]") {
    const auto map = output::section_map(output::sample_picture(), {true, 6e-6, 25e-6}, 12, 8);
    // Two raster rows a character: means of (4, 4), (4, 1) and so on, bottom row last.
    CHECK(map.lines == Lines{"~~~~~~~~~~~~",   // fat
                             "#+-......-+#",   // 80, 10, 4, then (1 + 1) / 2
                             "#+OO..X..-+#",   // the bone, and the core on its cell
                             "############"}); // (80 + 10) / 2 = 45 ppm is lasting
}

TEST_CASE("the legend explains what was drawn and nothing else", "[output]") {
    cure::Picture picture = output::sample_picture();
    const auto map = output::section_map(picture, {true, 6e-6, 25e-6}, 12, 8);
    CHECK(map.legend == Lines{"#  lasting colour, 25 ppm or more", "+  cured, 6.0 ppm or more",
                              "-  not yet, less than 6.0 ppm", ".  grey, less than half of that",
                              "~  fat", "O  bone", "X  core, the last place to cure",
                              "=====  25 mm (0.98 in)"});
    picture.section.regions.clear();
    std::ranges::fill(picture.kind, 'l');
    std::ranges::fill(picture.salt, 0.02);
    const auto salted = output::section_map(picture, {false, 0.015, 0}, 12, 8);
    CHECK(salted.legend == Lines{"+  salted, 1.50 % or more", "X  core, the last place to cure",
                                 "=====  25 mm (0.98 in)"});
}

TEST_CASE("a large picture is shrunk to the room there is, and thin fat stays visible",
          "[output]") {
    cure::Picture big;
    big.nx = 100;
    big.ny = 80;
    big.step = 1e-3;
    big.x0 = big.y0 = 0.5e-3;
    big.core = {0.05, 0.0405};
    big.kind.assign(8000, 'l');
    big.arrived.assign(8000, 1e-6);
    big.salt.assign(8000, 0);
    std::fill_n(big.kind.end() - 200, 200, 'f'); // 2 mm of fat in a character 5 mm high
    const auto map = output::section_map(big, {true, 6e-6, 25e-6}, 40, 20);
    REQUIRE(map.lines.size() == 16); // 80 rows, five to a character
    CHECK(map.lines[0] == std::string(40, '~'));
    CHECK(map.lines[15] == std::string(40, '.'));
    CHECK(map.lines[7][20] == 'X'); // 50 mm from the left, 40.5 mm up, so 39.5 mm down
}

} // namespace section_map_test
