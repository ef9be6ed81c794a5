// SPDX-License-Identifier: MIT
/// Hand-drawn slices are meshed, and what the numerics ask of a mesh holds on it and on its
/// halving.
#include "base/error.hpp"
#include "geometry/mesh.hpp"
#include "geometry/shapes.hpp"
#include "hand_drawn.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <iostream>
#include <map>

using namespace tidemark;
using geometry::Mesh;
using geometry::Point;

namespace {

/// What is wrong with a mesh, or "": triangles turn left, every wall stands in it, and no edge has
/// a negative conductance from any one kind of tissue (the sum of the cotangents facing it there).
std::string fault(const Mesh& m) {
    std::map<std::pair<std::pair<int, int>, int>, double> conductance;
    std::map<std::pair<int, int>, int> sides;
    for (std::size_t t = 0; t < m.triangles.size(); ++t)
        for (int k = 0; k < 3; ++k) {
            const auto& n = m.triangles[t];
            const Point &a = m.nodes[n[k]], &b = m.nodes[n[(k + 1) % 3]],
                        &c = m.nodes[n[(k + 2) % 3]];
            const double ux = a.x() - c.x(), uy = a.y() - c.y(), vx = b.x() - c.x(),
                         vy = b.y() - c.y(), twice = ux * vy - uy * vx;
            if (!(twice > 0))
                return "a triangle turns right or is flat";
            const auto side = std::minmax(n[k], n[(k + 1) % 3]);
            conductance[{side, m.region[t]}] += (ux * vx + uy * vy) / twice;
            if (++sides[side] > 2)
                return "three triangles on a side";
        }
    for (const auto& e : m.edges) {
        const auto found = sides.find(std::minmax(e.a, e.b));
        if (found == sides.end())
            return "a wall is missing";
        if (m.curves[e.curve].outer && found->second != 1)
            return "a cell beyond the outline";
    }
    for (const auto& [side, sum] : conductance)
        if (sum < -1e-7) // roundoff of coordinates
            return "negative conductance " + std::to_string(sum);
    return "";
}

std::string fault_of(const geometry::Drawing& drawing, std::size_t* cells = nullptr) {
    try {
        const auto section = geometry::outline_from_csv(drawing.table, "cut.csv");
        const auto m = geometry::triangulate(section, section.thickness / 24);
        if (cells)
            *cells = m.triangles.size();
        const auto fine = geometry::refine(m);
        for (const auto& mesh : {m, fine})
            if (const std::string found = fault(mesh); !found.empty())
                return found;
        const auto want = geometry::areas(section);
        double lean = 0, fat = 0;
        for (std::size_t t = 0; t < fine.triangles.size(); ++t) {
            const auto& [i, j, k] = fine.triangles[t];
            const Point &a = fine.nodes[i], &b = fine.nodes[j], &c = fine.nodes[k];
            (fine.kinds[fine.region[t]] == "fat" ? fat : lean) +=
                ((b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x())) / 2;
        }
        if (std::abs(fat - want.fat) > 0.01 * want.total ||
            std::abs(lean - want.lean) > 0.01 * want.total)
            return "lean or fat differ from the section by more than 1 %";
    } catch (const base::InputError& e) {
        return e.what();
    } catch (const base::RunError& e) {
        return e.what();
    }
    return "";
}

std::string refusal(const std::string& rows) {
    try {
        (void)geometry::outline_from_csv("part,kind,x [mm],y [mm]\n" + rows, "cut.csv");
    } catch (const base::InputError& e) {
        return e.what();
    }
    return "";
}

std::string row(double x, double y) {
    return "s,outline," + std::to_string(x) + "," + std::to_string(y) + "\n";
}

} // namespace

TEST_CASE("slices drawn by a shaky hand become cells that keep what the numerics need",
          "[geometry]") {
    const unsigned seed = GENERATE(range(0u, 50u));
    const auto drawing = geometry::hand_drawn(seed);
    CAPTURE(seed, drawing.what);
    CHECK(fault_of(drawing) == "");
}

TEST_CASE("corners from 5 degrees up, and tapers as thin, become cells", "[geometry]") {
    for (const double degrees : {5, 6, 8, 10, 12, 15, 20, 30}) {
        CAPTURE(degrees);
        const double slope = std::tan(degrees * 3.14159265358979 / 180);
        std::string wedge = row(0, 0) + row(200, 0) + row(200, 200 * slope);
        CHECK(fault_of({"wedge", "part,kind,x [mm],y [mm]\n" + wedge}) == "");
        // A block 120 x 60 mm with fat along its top that tapers off at both ends.
        std::string cap =
            "part,kind,x [mm],y [mm]\n" + row(0, 0) + row(120, 0) + row(120, 60) + row(0, 60);
        const double deep = std::min(15.0, 40 * slope);
        for (const auto& [x, y] :
             std::initializer_list<std::pair<double, double>>{{110, 60},
                                                              {10, 60},
                                                              {10 + deep / slope, 60 - deep},
                                                              {110 - deep / slope, 60 - deep}})
            cap += "cap,fat," + std::to_string(x) + "," + std::to_string(y) + "\n";
        CHECK(fault_of({"cap", cap}) == "");
    }
}

TEST_CASE("what can be no slice is refused in one line, whatever its size", "[geometry]") {
    std::string many, scattered, line, circle;
    std::uint32_t state = 1; // a linear congruential sequence, for scatter
    const auto next = [&] { return (state = state * 1664525u + 1013904223u) / 4294967296.0; };
    for (int i = 0; i < 10000; ++i)
        many += row(100 * std::cos(i * 6.2831853e-4), 60 * std::sin(i * 6.2831853e-4));
    CHECK(refusal(many) == "cut.csv: outline: has 10000 points, more than 5000; thin them out");
    for (int i = 0; i < 3000; ++i) {
        const double x = 100 * next();
        scattered += row(x, 100 * next());
    }
    CHECK_THAT(refusal(scattered),
               Catch::StartsWith("cut.csv: outline: crosses or touches itself near x ") &&
                   Catch::EndsWith("put its points in order around it"));
    for (int i = 0; i < 50; ++i)
        line += row(i, 2 * i);
    CHECK_THAT(refusal(line), Catch::StartsWith("cut.csv: outline: ") && !Catch::Contains("\n"));
    CHECK_THAT(refusal(row(0, 0) + row(50, 0) + row(100, 0) + row(0, 60) + row(0, 0)),
               Catch::Equals("")); // three on a side: a triangle
    CHECK_THAT(refusal(row(0, 0) + row(50, 50) + row(0, 0) + row(50, 50)),
               Catch::StartsWith("cut.csv: outline: "));
    CHECK_THAT(refusal(row(5, 5) + row(5, 5) + row(5, 5)),
               Catch::StartsWith("cut.csv: thickness 0 mm"));
    CHECK_THAT(refusal(row(0, 0) + row(50, 50) + row(50, 0) + row(0, 50)),
               Catch::Contains("near x 25 mm, y 25 mm"));
}

// By hand: test_geometry "[.audit]". Counts by family, and what went wrong.
TEST_CASE("audit of hand-drawn slices", "[.audit]") {
    std::map<std::string, std::pair<int, int>> count;
    std::map<std::string, std::map<std::string, int>> why;
    std::size_t most = 0, all = 0, meshed = 0;
    for (unsigned seed = 0; seed < 371; ++seed) {
        const auto drawing = geometry::hand_drawn(seed);
        std::size_t cells = 0;
        const std::string found = fault_of(drawing, &cells);
        ++count[drawing.what].second;
        most = std::max(most, cells), all += cells, meshed += cells > 0;
        if (!found.empty())
            ++count[drawing.what].first,
                std::cout << seed << " " << drawing.what << ": " << found << "\n";
    }
    int failed = 0;
    for (const auto& [what, n] : count) {
        std::cout << what << ": " << n.first << " of " << n.second << "\n";
        failed += n.first;
    }
    std::cout << failed << " failed in all; cells: mean " << all / std::max<std::size_t>(1, meshed)
              << ", most " << most << "\n";
    CHECK(failed <= 7);
}
