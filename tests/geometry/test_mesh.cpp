// SPDX-License-Identifier: MIT
/// The mesh against the section it was cut from, over a hundred random parametric shapes (invented,
/// each a function of its seed): areas, regions, walls, angles and refinement.
#include "geometry/measure.hpp"
#include "geometry/mesh.hpp"
#include "geometry/shapes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <random>
#include <set>
#include <tuple>

using namespace tidemark;
using geometry::Mesh;
using geometry::Point;

namespace {

struct Piece {
    std::string what;
    geometry::Section section;
    double spacing = 0;
};

Piece random_piece(unsigned seed) {
    std::mt19937 engine(seed);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(engine);
    };
    const auto chance = [&](double p) { return between(0, 1) < p; };
    geometry::Dimensions d;
    d.thickness = between(0.03, 0.15);
    d.width = d.thickness * between(1.1, 2.2);
    Piece p;
    p.spacing = d.thickness / between(6, 30);
    if (chance(0.5))
        d.fat_cap = d.thickness * between(0.04, 0.15);
    for (const char* side : {"bottom", "left", "right"})
        if (chance(0.2))
            d.sealed.push_back(side);
    if (seed % 8 > 3)
        d.faces = geometry::face_names();
    switch (seed % 4) {
    case 0:
        p.what = "disc";
        d.fat_cap = 0;
        d.sealed.clear();
        if (chance(0.5))
            d.width = 0;
        p.section = geometry::disc(d, p.what);
        break;
    case 1:
        p.what = "block";
        p.section = geometry::block(d, p.what);
        break;
    case 2:
        p.what = "loin";
        d.bones = std::uniform_int_distribution<int>(0, 4)(engine);
        if (d.bones > 0)
            d.bone_diameter = d.thickness * between(0.06, 0.12);
        p.section = geometry::loin(d, p.what);
        break;
    default:
        p.what = "ham";
        d.bones = 1;
        p.section = geometry::ham(d, p.what);
    }
    return p;
}

/// Area of each kind.
std::map<std::string, double> areas(const Mesh& m) {
    std::map<std::string, double> sum;
    for (std::size_t t = 0; t < m.triangles.size(); ++t)
        sum[m.kinds[m.region[t]]] += area(m, t);
    return sum;
}

/// Corner of triangle t opposite its k-th side [rad].
double corner(const Mesh& m, std::size_t t, int k) {
    const auto& n = m.triangles[t];
    const Point &a = m.nodes[n[k]], &b = m.nodes[n[(k + 1) % 3]], &c = m.nodes[n[(k + 2) % 3]];
    const double ux = b.x() - a.x(), uy = b.y() - a.y(), vx = c.x() - a.x(), vy = c.y() - a.y();
    return std::atan2(std::abs(ux * vy - uy * vx), ux * vx + uy * vy);
}

using Side = std::pair<int, int>;

std::set<Side> walls(const Mesh& m) {
    std::set<Side> sides;
    for (const auto& e : m.edges)
        sides.insert(std::minmax(e.a, e.b));
    return sides;
}

} // namespace

TEST_CASE("the mesh covers the section less its bones, kind by kind", "[geometry]") {
    // A side of length h on a wall of curvature 1/R misses h^3/(12 R) of area, so a wall that turns
    // once round misses at most pi h^2/6 with h its longest side, whatever its shape. Outline, seam
    // and each bone turn once at most; a tenth more, because the walls are polygons that turn in
    // jumps.
    const unsigned seed = GENERATE(range(1u, 101u));
    const Piece p = random_piece(seed);
    CAPTURE(seed, p.what, p.spacing);
    const auto m = geometry::triangulate(p.section, p.spacing);
    const auto want = geometry::areas(p.section);
    for (const auto& mesh : {m, geometry::refine(m)}) {
        double longest = 0;
        for (const auto& e : mesh.edges)
            longest = std::max(longest, std::abs(e.sb - e.sa));
        const double allowed =
            1.1 * std::numbers::pi / 6 * longest * longest * double(1 + p.section.regions.size());
        auto got = areas(mesh);
        CHECK(got["lean"] == Approx(want.lean).margin(allowed));
        CHECK(got["fat"] == Approx(want.fat).margin(allowed));
        CHECK(got["lean"] + got["fat"] == Approx(want.total).margin(allowed));
    }
}

TEST_CASE("triangles turn left, fit together, and meet walls nowhere but at walls", "[geometry]") {
    const unsigned seed = GENERATE(range(1u, 101u));
    const Piece p = random_piece(seed);
    CAPTURE(seed, p.what, p.spacing);
    for (const auto& m : {geometry::triangulate(p.section, p.spacing),
                          geometry::refine(geometry::triangulate(p.section, p.spacing))}) {
        std::map<Side, std::vector<std::size_t>> sides;
        for (std::size_t t = 0; t < m.triangles.size(); ++t) {
            REQUIRE(area(m, t) > 0);
            for (int k = 0; k < 3; ++k)
                sides[std::minmax(m.triangles[t][k], m.triangles[t][(k + 1) % 3])].push_back(t);
        }
        const auto on_wall = walls(m);
        bool conforming = true, labelled = true;
        for (const auto& [side, triangles] : sides) {
            conforming &= triangles.size() == 2 || (triangles.size() == 1 && on_wall.count(side));
            if (triangles.size() == 2 && m.region[triangles[0]] != m.region[triangles[1]])
                labelled &= on_wall.count(side) == 1; // kinds change across a curve only
        }
        CHECK(conforming);
        CHECK(labelled);
        std::vector<bool> used(m.nodes.size(), false);
        for (const auto& t : m.triangles)
            for (int n : t)
                used[n] = true;
        CHECK(std::find(used.begin(), used.end(), false) == used.end());
        CHECK(m.wet.size() == m.nodes.size());
        CHECK(std::find(m.wet.begin(), m.wet.end(), true) != m.wet.end());
    }
}

TEST_CASE("the triangulation is Delaunay and faces no wall with an obtuse angle", "[geometry]") {
    // Opposite angles of a side within a region sum to a half turn at most, and on a wall each is a
    // right angle at most; 1e-7 rad for the rounding of the coordinates the triangulation is found
    // from.
    const unsigned seed = GENERATE(range(1u, 101u));
    const Piece p = random_piece(seed);
    CAPTURE(seed, p.what, p.spacing);
    const auto m = geometry::triangulate(p.section, p.spacing);
    const auto on_wall = walls(m);
    std::map<Side, double> facing;
    double obtuse = 0;
    for (std::size_t t = 0; t < m.triangles.size(); ++t)
        for (int k = 0; k < 3; ++k) {
            const auto side = std::minmax(m.triangles[t][(k + 1) % 3], m.triangles[t][(k + 2) % 3]);
            const double angle = corner(m, t, k);
            facing[side] += angle;
            if (on_wall.count(side))
                obtuse = std::max(obtuse, angle - std::numbers::pi / 2);
        }
    CHECK(obtuse < 1e-7);
    double worst = 0;
    for (const auto& [side, sum] : facing)
        worst = std::max(worst, sum - std::numbers::pi);
    CHECK(worst < 1e-7);
}

TEST_CASE("refining halves every side and keeps wall nodes on their walls", "[geometry]") {
    const unsigned seed = GENERATE(range(1u, 101u));
    const Piece p = random_piece(seed);
    CAPTURE(seed, p.what, p.spacing);
    const auto m = geometry::triangulate(p.section, p.spacing);
    const auto fine = geometry::refine(m);
    CHECK(fine.triangles.size() == 4 * m.triangles.size());
    CHECK(fine.edges.size() == 2 * m.edges.size());
    CHECK(fine.spacing == Approx(m.spacing / 2).epsilon(1e-15));
    CHECK(fine.kinds == m.kinds);
    const auto longest = [](const Mesh& mesh) { // along the walls
        double length = 0;
        for (const auto& e : mesh.edges)
            length = std::max(length, std::abs(e.sb - e.sa));
        return length;
    };
    CHECK(longest(fine) == Approx(longest(m) / 2).epsilon(1e-12));
    for (const auto& mesh : {m, fine}) { // ends of every wall side lie where their arc lengths say
        double off = 0;
        for (const auto& e : mesh.edges) {
            const auto& curve = mesh.curves[e.curve];
            off = std::max({off, geometry::distance(curve.at(e.sa), mesh.nodes[e.a]),
                            geometry::distance(curve.at(e.sb), mesh.nodes[e.b])});
        }
        CHECK(off < 1e-12); // m: roundoff of coordinates of some 0.1 m
    }
    // Every coarse node is kept, at its place in the list; the others are middles of sides, to a
    // picometre within the piece and moved onto the curve on its walls, by no more than the chord's
    // depth.
    bool kept = true;
    for (std::size_t i = 0; i < m.nodes.size(); ++i)
        kept &= geometry::distance(m.nodes[i], fine.nodes[i]) == 0;
    CHECK(kept);
    const auto on_wall = walls(m);
    std::set<Side> sides;
    for (const auto& t : m.triangles)
        for (int k = 0; k < 3; ++k)
            sides.insert(std::minmax(t[k], t[(k + 1) % 3]));
    CHECK(fine.nodes.size() == m.nodes.size() + sides.size());
    const auto place = [](double x, double y) {
        return std::pair(std::llround(x * 1e12), std::llround(y * 1e12));
    };
    std::set<std::pair<long long, long long>> places;
    for (const auto& node : fine.nodes)
        for (const double dx : {-1e-12, 0., 1e-12})
            for (const double dy : {-1e-12, 0., 1e-12})
                places.insert(place(node.x() + dx, node.y() + dy));
    std::size_t missing = 0;
    for (const auto& [a, b] : sides)
        if (!on_wall.count({a, b}))
            missing += places.count(place((m.nodes[a].x() + m.nodes[b].x()) / 2,
                                          (m.nodes[a].y() + m.nodes[b].y()) / 2)) == 0;
    CHECK(missing == 0);
}

TEST_CASE("outline and walls are followed all the way round", "[geometry]") {
    // The sides on a curve, put end to end by arc length, make up the whole curve.
    const unsigned seed = GENERATE(range(1u, 101u));
    const Piece p = random_piece(seed);
    CAPTURE(seed, p.what, p.spacing);
    const auto m = geometry::triangulate(p.section, p.spacing);
    std::vector<double> covered(m.curves.size(), 0);
    for (const auto& e : m.edges)
        covered[e.curve] += std::abs(e.sb - e.sa);
    double outer = 0, wet = 0;
    for (std::size_t c = 0; c < m.curves.size(); ++c) {
        CHECK(covered[c] == Approx(m.curves[c].total()).epsilon(1e-12));
        if (m.curves[c].outer) {
            outer += m.curves[c].total();
            wet += m.curves[c].wet ? m.curves[c].total() : 0;
        }
    }
    // An outline edge counts as wet by its middle (section.hpp), so the shares agree to an edge or
    // two.
    double longest = 0;
    const auto& ring = p.section.outline;
    for (std::size_t i = 0; i < ring.size(); ++i)
        longest = std::max(longest, geometry::distance(ring[i], ring[(i + 1) % ring.size()]));
    const double share = p.what == "block" ? 1e-9 : 4 * longest / outer;
    CHECK(wet / outer == Approx(geometry::wet_share(p.section)).margin(share));
}

TEST_CASE("the usual shapes are cut at every spacing a user may ask for", "[geometry]") {
    geometry::Dimensions d;
    d.thickness = 0.08;
    d.width = 0.128;
    d.fat_cap = 0.006;
    d.bones = 3;
    const auto s = geometry::loin(d, "loin");
    for (int cells : {4, 6, 8, 12, 16, 24, 32, 48, 64, 96}) {
        CAPTURE(cells);
        const auto m = geometry::triangulate(s, d.thickness / cells);
        const double expected = geometry::areas(s).total /
                                (std::sqrt(3.0) / 2 * m.spacing * m.spacing); // a regular lattice
        CHECK(double(m.nodes.size()) > 0.5 * expected);
        CHECK(double(m.nodes.size()) < 4 * expected + 400); // finer at bones and seams
    }
}

TEST_CASE("a seal that ends near the tip of a fat cap can be cut into cells", "[geometry]") {
    // Seal and cap end 4 mm apart on this ham, about a cell (an invented piece; found by random
    // trial).
    geometry::Dimensions d;
    d.thickness = 0.05;
    d.width = 0.08;
    d.fat_cap = 0.005;
    d.bones = 1;
    for (const char* side : {"right", "top"}) {
        d.sealed = {side};
        const auto s = geometry::ham(d, "ham");
        for (int cells : {8, 10, 12, 16, 24, 48}) {
            CAPTURE(side, cells);
            CHECK_NOTHROW(geometry::triangulate(s, d.thickness / cells));
        }
    }
}

TEST_CASE("a line is cut into equal intervals within each layer", "[geometry]") {
    const auto l = geometry::line({{"lean", 0.03}, {"fat", 0.007}}, 50, 0, true, false);
    CHECK(l.nodes.size() == 51);
    CHECK(l.region.size() == 50);
    CHECK(l.nodes.front() == 0);
    CHECK(l.nodes.back() == Approx(0.037).epsilon(1e-15));
    CHECK(l.wet_first);
    CHECK_FALSE(l.wet_last);
    double fat = 0;
    bool join = false;
    for (int i = 0; i < 50; ++i) {
        CHECK(l.nodes[i + 1] > l.nodes[i]);
        fat += l.kinds[l.region[i]] == "fat" ? l.nodes[i + 1] - l.nodes[i] : 0;
        join |= std::abs(l.nodes[i + 1] - 0.03) < 1e-15;
    }
    CHECK(join); // a node at the join, so no interval is of two kinds
    CHECK(fat == Approx(0.007).epsilon(1e-12));
    const auto fine = geometry::refine(l);
    REQUIRE(fine.nodes.size() == 101);
    for (int i = 0; i < 50; ++i) {
        CHECK(fine.nodes[2 * i] == Approx(l.nodes[i]).margin(1e-15));
        CHECK(fine.nodes[2 * i + 1] == Approx((l.nodes[i] + l.nodes[i + 1]) / 2).margin(1e-15));
        CHECK(fine.region[2 * i] == l.region[i]);
        CHECK(fine.region[2 * i + 1] == l.region[i]);
    }
}
