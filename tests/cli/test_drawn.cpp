// SPDX-License-Identifier: MIT
/// What --json tells of the section, so that others can draw it: held against the other outputs and
/// against plain geometry.
#include "json.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <vector>

namespace test_drawn {

using namespace tidemark::cli;

namespace {

struct Spot {
    double x, y;
};
using Line = std::vector<Spot>;

Line line(const Json& points) {
    Line all;
    for (const Json& p : points)
        all.push_back({p[0], p[1]});
    return all;
}

/// Twice what a ring encloses, counter-clockwise [mm2].
double twice_area(const Line& ring) {
    double sum = 0;
    for (std::size_t k = 0; k < ring.size(); ++k) {
        const Spot &a = ring[k], &b = ring[(k + 1) % ring.size()];
        sum += a.x * b.y - b.x * a.y;
    }
    return sum;
}

/// By how often a way to the right crosses the ring.
bool inside(const Line& ring, const Spot& p) {
    bool in = false;
    for (std::size_t k = 0; k < ring.size(); ++k) {
        const Spot &a = ring[k], &b = ring[(k + 1) % ring.size()];
        if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x))
            in = !in;
    }
    return in;
}

double distance(const Line& ring, const Spot& p) {
    double least = 1e9;
    for (std::size_t k = 0; k < ring.size(); ++k) {
        const Spot &a = ring[k], &b = ring[(k + 1) % ring.size()];
        const double x = b.x - a.x, y = b.y - a.y;
        const double t = std::clamp(((p.x - a.x) * x + (p.y - a.y) * y) / (x * x + y * y), 0., 1.);
        least = std::min(least, std::hypot(a.x + t * x - p.x, a.y + t * y - p.y));
    }
    return least;
}

double area(const Json& rings) {
    double sum = 0;
    for (const Json& ring : rings)
        sum += twice_area(line(ring)) / 2;
    return sum;
}

/// Fronts in the outline, on the rims of what is not cured, which shrinks to nothing.
void sound(const Json& piece) {
    const Json& section = piece["section"];
    const Line outline = line(section["outline_mm"]);
    const double whole = twice_area(outline) / 2;
    const auto [low, high] = std::ranges::minmax(outline, {}, [](const Spot& p) { return p.y; });
    CHECK(high.y - low.y == Approx(piece["piece"]["thickness_mm"].get<double>()).epsilon(1e-3));
    REQUIRE(section["fronts"].size() >= 2);
    double before = whole, before_lasting = whole;
    for (const Json& front : section["fronts"]) {
        const double grey = area(front["not_cured_mm"]),
                     not_lasting = area(front["no_lasting_colour_mm"]);
        CAPTURE(front["day"]);
        CHECK(grey < before);
        CHECK(grey >= 0);
        CHECK(not_lasting >= grey);
        CHECK(not_lasting <= before_lasting);
        before = grey;
        before_lasting = not_lasting;
        double rim = 0;
        for (const Json& l : front["lines_mm"])
            for (const Spot& p : line(l)) {
                CHECK((inside(outline, p) || distance(outline, p) < 0.01));
                double nearest = 1e9;
                for (const Json& ring : front["not_cured_mm"])
                    nearest = std::min(nearest, distance(line(ring), p));
                rim = std::max(rim, nearest);
            }
        if (!front["not_cured_mm"].empty())
            CHECK(rim < 0.01);
    }
    CHECK(before < 1e-3 * whole); // the last one is the day the core is cured
    // On the finer mesh, whose schedule may end by the error of its days sooner.
    CHECK(section["fronts"].back()["day"].get<double>() ==
          Approx(piece["cured_day"].get<double>())
              .margin(piece["discretisation_error_days"].get<double>()));
}

/// Depths [mm] at which a profile of the CSV passes `target` [ppm] on `day`.
std::vector<double> passes(const std::string& csv, double day, double target) {
    std::vector<double> depths;
    std::istringstream rows(csv);
    std::string row;
    double depth_before = 0, before = std::nan("");
    while (std::getline(rows, row)) {
        std::vector<std::string> cells;
        std::istringstream in(row);
        for (std::string cell; std::getline(in, cell, ',');)
            cells.push_back(cell);
        if (cells[0] == "time_days" || std::abs(std::stod(cells[0]) - day) > 1e-6 * day)
            continue;
        const double depth = std::stod(cells[1]), now = std::stod(cells[4]);
        if ((before - target) * (now - target) < 0)
            depths.push_back(depth_before +
                             (target - before) / (now - before) * (depth - depth_before));
        depth_before = depth;
        before = now;
    }
    return depths;
}

} // namespace

TEST_CASE("fronts in the JSON lie in the outline and close in on the core", "[cli]") {
    const Folder folder;
    const std::string brine = "--brine-salt 6% --brine-nitrite 150ppm --cooler 4C --draws 0 ";
    const Json day =
        answer(folder, "day --shape loin --thickness 60mm --bones 2 --fat-cap 6mm " + brine);
    sound(day);
    CHECK(day["section"]["regions"].size() == 3);
    for (const Json& region : day["section"]["regions"])
        for (const Spot& p : line(region["ring_mm"])) {
            const Line outline = line(day["section"]["outline_mm"]);
            CHECK((inside(outline, p) || distance(outline, p) < 0.01));
        }
    for (const char* shape : {"sheet", "block"})
        sound(
            answer(folder, "day --thickness 40mm --width 70mm --shape " + (shape + (" " + brine))));
    sound(answer(folder, "day --thickness 40mm --shape round " + brine));
    const Json plan = answer(
        folder,
        "plan --thickness 40mm --width 70mm --shape block --stage \"brine, until cured\" " + brine);
    sound(plan);
    CHECK(plan["course"].size() > 10);

    folder.write(
        "a.ini",
        "shape = block\nthickness = 40 mm\nwidth = 70 mm\nweight = 1 kg\nbrine-salt = 6 %\n"
        "brine-nitrite = 150 ppm\nbrine = 6 L\ndraws = 0\n");
    folder.write("b.ini", "shape = round\nthickness = 50 mm\nweight = 1 kg\n");
    const Json bucket = answer(folder, "bucket --case a.ini --with b.ini");
    REQUIRE(bucket["pieces"].size() == 2);
    for (const Json& piece : bucket["pieces"]) {
        const Json& fronts = piece["section"]["fronts"];
        CHECK(piece["course"].back()["day"].get<double>() ==
              Approx(bucket["at_day"].get<double>()).epsilon(1e-9));
        for (std::size_t k = 1; k < piece["course"].size(); ++k) // salt only comes in
            CHECK(piece["course"][k]["mean_salt_percent"] >=
                  piece["course"][k - 1]["mean_salt_percent"]);
        REQUIRE(fronts.size() >= 2);
        for (std::size_t k = 1; k < fronts.size(); ++k)
            CHECK(area(fronts[k]["not_cured_mm"]) <= area(fronts[k - 1]["not_cured_mm"]));
    }
}

TEST_CASE("a front of the JSON crosses the column through the core where the CSV passes the target",
          "[cli]") {
    const Folder folder;
    const std::string words = "day --shape block --thickness 50mm --width 90mm --brine-salt 6% "
                              "--brine-nitrite 150ppm --cooler 4C --draws 0 ";
    const Json day = answer(folder, words);
    const std::string csv = folder.run(words + "--csv").out;
    const double target = day["target"]["arrived_nitrite_ppm"];
    const double x = day["core"]["x_mm"];
    const Json& outline = day["section"]["outline_mm"];
    double top = -1e9;
    for (const Json& p : outline)
        top = std::max(top, p[1].get<double>());
    int compared = 0;
    for (const Json& front : day["section"]["fronts"]) {
        if (front["not_cured_mm"].empty())
            continue;
        std::vector<double> depths;
        for (const Json& l : front["lines_mm"]) {
            const Line points = line(l);
            for (std::size_t k = 1; k < points.size(); ++k) {
                const Spot &a = points[k - 1], &b = points[k];
                if ((a.x > x) != (b.x > x))
                    depths.push_back(top - a.y - (x - a.x) / (b.x - a.x) * (b.y - a.y));
            }
        }
        std::ranges::sort(depths);
        const std::vector<double> told = passes(csv, front["day"], target);
        CAPTURE(front["day"]);
        REQUIRE(told.size() == 2);
        REQUIRE(depths.size() == 2);
        for (const std::size_t k : {0u, 1u}) // rows of the CSV are 0.42 mm apart, and read linearly
            CHECK(depths[k] == Approx(told[k]).margin(0.1));
        ++compared;
    }
    CHECK(compared >= 2);
}

} // namespace test_drawn
