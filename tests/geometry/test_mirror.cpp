// SPDX-License-Identifier: MIT
/// Sections that are their own image: what is meshed is a half or a quarter, and the rest its
/// image.
#include "geometry/mirror.hpp"
#include "geometry/shapes.hpp"

#include <catch2/catch.hpp>

#include <set>

using namespace tidemark;
using geometry::Dimensions;
using geometry::Mesh;
using geometry::Point;

namespace {

double area(const Mesh& m) {
    double sum = 0;
    for (const auto& [a, b, c] : m.triangles) {
        const Point &p = m.nodes[a], &q = m.nodes[b], &r = m.nodes[c];
        const double one = (q.x() - p.x()) * (r.y() - p.y()) - (q.y() - p.y()) * (r.x() - p.x());
        CHECK(one > 0);
        sum += one / 2;
    }
    return sum;
}

/// Nodes that are no images.
double own(const Mesh& m) {
    return static_cast<double>(std::set<int>(m.twin.begin(), m.twin.end()).size());
}

} // namespace

TEST_CASE("a loin with its ribs is a half and its image, also when refined", "[mirror]") {
    const auto section = geometry::loin(
        Dimensions{.thickness = 0.08, .width = 0.14, .fat_cap = 0.008, .bones = 3}, "test");
    Mesh mesh = geometry::triangulate(section, 0.08 / 24);
    for (const bool refined : {false, true}) {
        if (refined)
            mesh = geometry::refine(mesh);
        REQUIRE(mesh.twin.size() == mesh.nodes.size());
        for (std::size_t i = 0; i < mesh.nodes.size(); ++i) {
            const Point &p = mesh.nodes[i], &q = mesh.nodes[static_cast<std::size_t>(mesh.twin[i])];
            CHECK(std::abs(p.x()) ==
                  Approx(q.x()).margin(1e-9)); // the middle is at 0 but for 1e-17
            CHECK(p.y() == q.y());
            CHECK(mesh.wet[i] == mesh.wet[static_cast<std::size_t>(mesh.twin[i])]);
        }
        CHECK(own(mesh) < 0.54 * static_cast<double>(mesh.nodes.size()));
        const geometry::Areas all = geometry::areas(section);
        CHECK(area(mesh) == Approx(all.total).epsilon(2e-3)); // chords for curves
    }
}

TEST_CASE("a block is a quarter and its images", "[mirror]") {
    const auto section = geometry::block(Dimensions{.thickness = 0.06, .width = 0.1}, "test");
    const Mesh mesh = geometry::triangulate(section, 0.06 / 24);
    REQUIRE(mesh.twin.size() == mesh.nodes.size());
    CHECK(own(mesh) < 0.3 * static_cast<double>(mesh.nodes.size()));
    CHECK(area(mesh) == Approx(0.006).epsilon(1e-12));
    CHECK(mesh.curves.size() >= 4);
    for (const auto& curve : mesh.curves)
        CHECK((curve.outer && curve.wet && curve.mirror == 0));
}

TEST_CASE("what is not its own image is meshed whole", "[mirror]") {
    const auto whole = [](const geometry::Section& s) { return !geometry::half_of(s); };
    CHECK(whole(geometry::ham({.thickness = 0.12}, "test")));
    Dimensions d{.thickness = 0.08, .width = 0.14, .bones = 3};
    CHECK_FALSE(whole(geometry::loin(d, "test")));
    d.sealed = {"left"};
    CHECK(whole(geometry::loin(d, "test")));
    d.sealed = {"left", "right"};
    CHECK_FALSE(whole(geometry::loin(d, "test")));
    d.sealed = {};
    d.faces = {"left"}; // may be shut in a later stage
    CHECK(whole(geometry::loin(d, "test")));
    d.faces = {"bottom"};
    CHECK_FALSE(whole(geometry::loin(d, "test")));
}
