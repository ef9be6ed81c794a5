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

std::string fault_of(const geometry::Drawing& drawing, std::size_t* cells = nullptr,
                     std::string* notes = nullptr) {
    try {
        const auto section = geometry::outline_from_csv(drawing.table, "cut.csv");
        if (notes)
            for (const auto& n : section.notes)
                *notes += n + "\n";
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

} // namespace

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
