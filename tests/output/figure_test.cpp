// SPDX-License-Identifier: MIT
/// The figure as far as a program can judge it: forms, labels, colours in order, and no litter.
/// That it can be read was judged by eye.
#include "output/figure.hpp"

#include "base/error.hpp"
#include "output/figure_layout.hpp"
#include "sample.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

using namespace tidemark;
using Catch::Contains;
namespace fs = std::filesystem;

namespace {

std::string contents(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

} // namespace

TEST_CASE("the figure names its parts, its scale and its units", "[output]") {
    const fs::path folder = fs::temp_directory_path() / "tidemark it's a figure";
    fs::create_directory(folder);
    const fs::path path = folder / "a b.svg";
    output::draw_figure(output::sample_prediction(), output::sample_picture(), path.string(),
                        output::sample_ranges());
    const std::string svg = contents(path);
    for (const char* text :
         {"Invented block of pork loin", "Best: day 12, 93 in 100", ">day 2<", ">fat<", ">bone<",
          ">core, cured last<", "edge of pink, by day", "edge of pink, day 9.4", "20 mm (0.79 in)",
          "nitrite arrived by day 9.4 [ppm of the meat]", ">pink<", ">lasting<"}) {
        CHECK_THAT(svg, Contains(text));
    }
    CHECK(std::distance(fs::directory_iterator(folder), {}) == 1);
    fs::remove_all(folder);
}

TEST_CASE("a figure needs an ending that says its form", "[output]") {
    CHECK_NOTHROW(output::check_figure("ham.SVG", "--figure"));
    CHECK_THROWS_WITH(output::check_figure("ham", "--figure"),
                      "--figure: ham: does not end in .svg, .png or .pdf; name the figure like "
                      "ham.svg");
}

TEST_CASE("without gnuplot nothing is drawn and the reader is told", "[output]") {
    const std::string path = std::getenv("PATH");
    setenv("PATH", "/nowhere", 1);
    CHECK_THROWS_AS(
        output::draw_figure(output::sample_prediction(), output::sample_picture(), "never.svg"),
        base::RunError);
    setenv("PATH", path.c_str(), 1);
    CHECK_FALSE(fs::exists("never.svg"));
}

TEST_CASE("the colours rise through nothing, pink and lasting to the most there is", "[output]") {
    cure::Picture picture = output::sample_picture();
    const output::ColourScale scale(true, 6e-6, 25e-6, picture);
    // The most is 80 ppm, below four times 25; then the next round number above 1.1 * 80.
    REQUIRE(scale.steps() == 3);
    CHECK(scale.label(0) == "0\\n ");
    CHECK(scale.label(1) == "6\\npink");
    CHECK(scale.label(2) == "25\\nlasting");
    CHECK(scale.label(3) == "100\\n ");
    picture.arrived = {0,       3e-6,   6e-6,
                       15.5e-6, 25e-6,  62.5e-6,
                       100e-6,  999e-6, std::numeric_limits<double>::quiet_NaN()};
    const std::vector<double> expected = {0, 0.5, 1, 1.5, 2, 2.5, 3, 3};
    const std::vector<double> steps = scale.raster(picture);
    for (std::size_t k = 0; k < expected.size(); ++k) {
        CHECK(steps[k] == Approx(expected[k]).margin(1e-12));
    }
    CHECK(std::isnan(steps.back()));
}

TEST_CASE("labels of fronts keep off each other, and a front with no room has none", "[output]") {
    cure::Picture picture = output::sample_picture();
    const output::Layout layout(picture, "title");
    const auto labels = output::place_labels(picture, layout);
    REQUIRE(labels.size() == 2);
    CHECK(labels[0].text == "day 2");
    CHECK(labels[1].text == "day 9.3");
    // 110 by 44 pixels is the size of a label.
    CHECK((std::abs(labels[0].at.x() - labels[1].at.x()) * layout.pixels_per_metre > 110 ||
           std::abs(labels[0].at.y() - labels[1].at.y()) * layout.pixels_per_metre > 44));
    picture.fronts = {{output::day, {{picture.core}}}};
    CHECK(output::place_labels(picture, layout).empty());
}
