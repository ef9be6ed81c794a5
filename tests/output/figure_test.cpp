// SPDX-License-Identifier: MIT
/// The figure as far as a program can judge it: forms, labels, escaping, and no litter. That it can
/// be read was judged by eye.
#include "output/figure.hpp"

#include "base/error.hpp"
#include "output/chart.hpp"
#include "output/curve.hpp"
#include "output/gnuplot.hpp"
#include "output/teaching_figure.hpp"
#include "sample.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <filesystem>
#include <numbers>

namespace figure_test {

using namespace tidemark;
using Catch::Contains;
namespace fs = std::filesystem;

namespace {

output::SectionPanel sample_panel() {
    output::SectionPanel panel{output::sample_picture()};
    panel.marks.fronts = panel.picture.fronts;
    return panel;
}

} // namespace

TEST_CASE("the figure names its parts, its scale and its units", "[output]") {
    const inference::Answer answer =
        output::sample_answer(output::sample_prediction(), output::sample_ranges());
    const std::string svg = output::svg(output::section_figure(answer, {sample_panel()}));
    CHECK(svg.starts_with("<?xml"));
    for (const char* text :
         {"<title>Best day 12: 93 in 100 right</title>",
          "<desc>Invented block of pork loin. Day 9.4: grey in the middle.</desc>", ">fat<",
          ">bone<", ">day 2<", ">core, the last place to cure<", ">edge of the cure, by day<",
          ">10 mm (0.39 in)<", ">still grey<", ">cured, 6.0 ppm or more<",
          ">lasting colour, 25 ppm or more<"})
        CHECK_THAT(svg, Contains(text));
}

TEST_CASE("whatever a title says, it is text to the reader of a drawing", "[output]") {
    cure::Outcome o = output::sample_prediction();
    o.title = "</desc><script>alert('a')</script> \"b\" & \x1b\u202e";
    const std::string svg = output::svg(output::section_figure(output::sample_answer(o), {}));
    CHECK_THAT(svg, !Contains("<script") && !Contains("\u202e") && !Contains("\x1b"));
    CHECK_THAT(svg, Contains("&lt;/desc&gt;&lt;script&gt;alert(&#39;a&#39;)&lt;/script&gt; "
                             "&quot;b&quot; &amp;"));
}

TEST_CASE("a figure needs an ending that says its form", "[output]") {
    CHECK_NOTHROW(output::check_figure("ham.SVG", "--figure"));
    CHECK_THROWS_WITH(output::check_figure("ham", "--figure"),
                      "--figure: ham: does not end in .svg, .png or .pdf; name the figure like "
                      "ham.svg");
}

TEST_CASE("one description is drawn in three forms, the first without gnuplot", "[output]") {
    const fs::path folder = fs::temp_directory_path() / "tidemark it's a figure";
    fs::create_directory(folder);
    const output::Drawing drawing = output::section_figure(
        output::sample_answer(output::sample_prediction()), {sample_panel()});
    for (const char* name : {"a b.svg", "a.png", "a.pdf"})
        output::draw_page((folder / name).string(), drawing);
    CHECK(std::distance(fs::directory_iterator(folder), {}) == 3);
    fs::remove_all(folder);

    const std::string path = std::getenv("PATH");
    setenv("PATH", "/nowhere", 1);
    CHECK_NOTHROW(output::draw_page("ever.svg", drawing));
    CHECK_THROWS_AS(output::draw_page("never.png", drawing), base::RunError);
    setenv("PATH", path.c_str(), 1);
    CHECK(fs::remove("ever.svg"));
    CHECK_FALSE(fs::exists("never.png"));
}

TEST_CASE("a smoothed line has no kinks from cells, keeps its corners and stays in place",
          "[output]") {
    // A circle of 200 pixels read off cells 10 pixels wide: every other point is 0.6 pixels out.
    output::Points ring;
    for (int k = 0; k < 126; ++k) {
        const double a = 2 * std::numbers::pi * k / 126, r = 200 + (k % 2 ? 0.6 : 0);
        ring.emplace_back(r * std::cos(a), r * std::sin(a));
    }
    double out = 0;
    for (const output::Point& p : output::smoothed(ring, true))
        out = std::max(out, std::abs(std::hypot(p.x(), p.y()) - 200.3));
    CHECK(out < 0.35); // half of 0.6, and a tenth of a pixel of the writer's
    // A square stays one, to the pace of three pixels.
    const output::Points square = output::smoothed({{0, 0}, {100, 0}, {100, 100}, {0, 100}}, true);
    for (const output::Point& corner : output::Points{{0, 0}, {100, 0}, {100, 100}, {0, 100}}) {
        double near = 1e9;
        for (const output::Point& p : square)
            near = std::min(near, geometry::distance(p, corner));
        CHECK(near < 3);
    }
}

TEST_CASE("labels stand on their line, clear of the others, or are left out", "[output]") {
    const output::Points low = {{0, 200}, {400, 200}}, high = {{0, 150}, {400, 150}},
                         close = {{0, 190}, {400, 190}};
    output::LinePlaces places({});
    const output::Words first = places.place({low}, {high}, "day 2", 28);
    CHECK(first.at.y() == Approx(195)); // 5 pixels above it
    CHECK(first.angle == Approx(0).margin(1e-9));
    const output::Words second = places.place({low}, {high}, "day 3", 28);
    CHECK(std::abs(first.at.x() - second.at.x()) > output::text_width("day 2", 28));
    CHECK(places.place({low}, {close}, "day 4", 28).text.empty());
    // On a slope they turn with it: up to the right by 45 degrees.
    const output::Words turned = places.place({{{500, 400}, {900, 0}}}, {}, "day 5", 28);
    CHECK(turned.angle == Approx(45));
}

namespace {

/// The four corners of words on a page.
output::Points corners(const output::Words& w) {
    const double wide = output::text_width(w.text, w.size), a = w.angle * std::numbers::pi / 180;
    const double from = w.anchor == output::Anchor::start ? 0
                        : w.anchor == output::Anchor::end ? -wide
                                                          : -wide / 2;
    output::Points all;
    for (const auto& [t, up] :
         {std::pair{from, 0.}, {from + wide, 0.}, {from + wide, 1.}, {from, 1.}})
        all.emplace_back(w.at.x() + t * std::cos(a) - up * 0.7 * w.size * std::sin(a),
                         w.at.y() - t * std::sin(a) - up * 0.7 * w.size * std::cos(a));
    return all;
}

/// Whether a point lies in a convex ring.
bool within(const output::Points& ring, const geometry::Point& p) {
    int left = 0;
    for (std::size_t k = 0; k < ring.size(); ++k) {
        const auto &a = ring[k], &b = ring[(k + 1) % ring.size()];
        left += (b.x() - a.x()) * (p.y() - a.y()) > (b.y() - a.y()) * (p.x() - a.x());
    }
    return left == 0 || left == static_cast<int>(ring.size());
}

/// How many of the chart's own words are crossed by other words or by one of its thick lines.
int crossed(const output::Drawing& drawing) {
    std::vector<output::Points> words;
    std::vector<output::Points> lines;
    for (const auto& shape : drawing.shapes()) {
        if (const auto* w = std::get_if<output::Words>(&shape))
            words.push_back(corners(*w));
        if (const auto* l = std::get_if<output::Line>(&shape); l && l->points.size() > 2)
            lines.push_back(output::dense(l->points, false, 2));
    }
    int count = 0;
    for (std::size_t k = 0; k < words.size(); ++k) {
        bool hit = false;
        for (const output::Points& line : lines)
            hit = hit ||
                  std::ranges::any_of(line, [&](const auto& p) { return within(words[k], p); });
        for (std::size_t j = 0; j < words.size(); ++j)
            for (const auto& p : output::dense(words[j], true, 2))
                hit = hit || (j != k && within(words[k], p));
        count += hit;
    }
    return count;
}

/// A chance of each day where nothing is cured, too salty or salty enough before or after the days
/// given, all spread by the same factor.
inference::BestDay hump(double cured, double salty, double bland, double spread) {
    std::vector<inference::DayChance> days;
    for (double t = 0.25; t < 4 * cured + 10; t += t < 3 ? 0.25 : t < 10 ? 0.5 : 1) {
        const auto below = [&](double middle) {
            return 0.5 * std::erfc(-std::log(t / middle) / std::log(spread) / std::sqrt(2));
        };
        const double is_cured = below(cured), is_salty = below(salty), is_bland = 1 - below(bland);
        inference::DayChance c{t * output::day, is_cured};
        c.grey = 1 - is_cured;
        c.salty = is_cured * is_salty;
        c.bland = is_cured * std::min(is_bland, 1 - is_salty);
        c.in_band = 1 - is_salty - std::min(is_bland, 1 - is_salty);
        c.right = 1 - c.grey - c.salty - c.bland;
        days.push_back(c);
    }
    return inference::best_of(days, 0.9, 4096);
}

} // namespace

TEST_CASE("names in a chart of chances stand clear of all lines and of each other", "[output]") {
    int charts = 0, named = 0;
    for (const double cured : {1.5, 4., 9., 14., 28.})
        for (const double salty : {1.2, 2., 3.5, 8.})
            for (const double bland : {0.4, 0.9, 1.2, 1.8})
                for (const double spread : {1.15, 1.4, 2.}) {
                    const inference::BestDay best =
                        hump(cured, salty * cured, std::min(bland, 0.9 * salty) * cured, spread);
                    output::Drawing d("", "");
                    output::draw_chance(d, {0, output::narrow_width, 0, 460}, best);
                    CAPTURE(cured, salty, bland, spread);
                    CHECK(crossed(d) == 0);
                    ++charts;
                    for (const auto& shape : d.shapes())
                        if (const auto* w = std::get_if<output::Words>(&shape))
                            named += w->text == "right" || w->text == "still grey" ||
                                     w->text == "too salty" || w->text == "not salty enough";
                }
    CHECK(charts == 240);
    CHECK(named > 3 * charts - 60);
}

TEST_CASE("the figure of the spread tells what is worth telling, and the rest together",
          "[output]") {
    const std::string svg = output::svg(output::spread_figure(
        output::sample_answer(output::sample_prediction(), output::sample_ranges())));
    for (const char* text :
         {"<title>The core is cured: 95 in 100 by day 13, half by day 9.5, 5 in 100 by day "
          "6.4</title>",
          ">Invented speed<", ">62 %<", ">to know it better: cut an invented slice<", ">9 %<",
          ">known no better by anything a cook can do<", "others: at most 1 %."})
        CHECK_THAT(svg, Contains(text));
    CHECK_THAT(svg, !Contains("oo small to show"));
}

TEST_CASE("the figure of the thickness lays the rules over the days by their own numbers",
          "[output]") {
    std::vector<output::DaysOfThickness> rows; // days as the square of the thickness, exactly
    for (int mm = 20; mm <= 120; mm += 10) {
        const double t = mm * mm * 1e-3 * output::day;
        rows.push_back({1e-3 * mm, 1.2 * t, 0.8 * t, t, 0.7 * t, 0.5 * t, 1.1 * t});
    }
    base::Record rule;
    rule.value = 25.4 / 7;
    rule.unit = "mm/d";
    rule.mark = 'S';
    rule.source = "invented1911";
    rule.where = "an invented page";
    const output::Drawing d = output::thickness_figure(rows, {rule}, "Invented");
    CHECK(d.title() == "Twice as thick: 4.0 times the days; 4.0 as nitrite is used up");
    const std::string svg = output::svg(d);
    CHECK_THAT(svg, Contains(">7 days an inch [S]<") && Contains("an invented page, invented1911"));
    // Where the rule's line ends, at the chart's top: day 1.1 * 17.28 = 19.008, 7 days an inch on.
    const output::Line* dotted = nullptr;
    const output::Line* sheet = nullptr;
    for (const auto& shape : d.shapes())
        if (const auto* l = std::get_if<output::Line>(&shape)) {
            if (l->dash == output::Dash::dotted && l->points.size() == 2)
                dotted = l;
            if (l->points.size() == rows.size() && !sheet)
                sheet = l;
        }
    REQUIRE(dotted);
    REQUIRE(sheet);
    // Pixels per mm from the sheet's own line, 20 to 120 mm.
    const double scale = (sheet->points.back().x() - sheet->points.front().x()) / 100;
    CHECK((dotted->points.back().x() - dotted->points.front().x()) / scale ==
          Approx(19.008 / 7 * 25.4).epsilon(1e-9));
}

} // namespace figure_test
