// SPDX-License-Identifier: MIT
/// The parametric sections: areas against closed forms, fat caps, ribs, seals, and every refusal.
#include "base/error.hpp"
#include "geometry/measure.hpp"
#include "geometry/shapes.hpp"

#include <boost/geometry.hpp>
#include <boost/math/quadrature/trapezoidal.hpp>
#include <boost/math/special_functions/gamma.hpp>
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

using namespace tidemark::geometry;
namespace bg = boost::geometry;
using std::numbers::pi;

namespace {

/// Chords cut off (2 pi / n)^2 / 6 of a circle's area: 5.1e-5 for n = 360. A superellipse bends
/// more sharply at its shoulders; 1e-4 covers both.
constexpr double chords = 1e-4;

bool shared(const Section& section, const Point& p) {
    return to_wall(section.outline, p) < 1e-9;
}

/// Share of the outline's length that lies under fat.
double fat_share(const Section& section) {
    double fat = 0;
    const Ring& ring = section.regions.back().ring;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point &a = ring[i], &b = ring[(i + 1) % ring.size()];
        const Point middle((a.x() + b.x()) / 2, (a.y() + b.y()) / 2);
        fat += shared(section, a) && shared(section, middle) ? bg::distance(a, b) : 0;
    }
    return fat / static_cast<double>(bg::perimeter(section.outline));
}

/// Whether a ring is its own mirror image in the y axis, or the mirror image of another.
bool mirrored(const Ring& a, const Ring& b) {
    return std::all_of(a.begin(), a.end(), [&](const Point& p) {
        return std::any_of(b.begin(), b.end(), [&](const Point& q) {
            return std::hypot(p.x() + q.x(), p.y() - q.y()) < 1e-12;
        });
    });
}

/// Angle [deg] between outline and inner curve at the two ends of a fat cap.
std::pair<double, double> end_angles(const Section& section) {
    const Ring& ring = section.regions.back().ring;
    const std::size_t n = ring.size();
    std::vector<double> found;
    for (std::size_t i = 0; i < n; ++i) {
        const Point &a = ring[(i + n - 1) % n], &p = ring[i], &b = ring[(i + 1) % n];
        if (shared(section, p) && shared(section, a) != shared(section, b)) {
            const double turn =
                std::atan2(a.y() - p.y(), a.x() - p.x()) - std::atan2(b.y() - p.y(), b.x() - p.x());
            found.push_back(std::abs(std::remainder(turn, 2 * pi)) * 180 / pi);
        }
    }
    REQUIRE(found.size() == 2);
    return {found[0], found[1]};
}

} // namespace

TEST_CASE("A disc has the area of a circle and an annulus that of a ring", "[geometry]") {
    const double r = 0.05;
    const Section round = disc({.thickness = 2 * r}, "cut");
    CHECK(round.outline.size() >= 720);
    CHECK(areas(round).total == Approx(pi * r * r).epsilon(1e-5));
    const Section annulus = disc({.thickness = 2 * r, .bones = 1, .bone_diameter = 0.6 * r}, "cut");
    // The bone has 96 points: (2 pi / 96)^2 / 6 = 7.2e-4 of 0.09 of the disc, 7e-5 of the annulus.
    CHECK(areas(annulus).total == Approx(pi * r * r * (1 - 0.09)).epsilon(1e-4));
    for (std::size_t i = 0; i < round.outline.size(); ++i) {
        const Point &a = round.outline[i], &b = round.outline[(i + 1) % round.outline.size()];
        CHECK(std::hypot(a.x() + b.x(), a.y() + b.y()) / 2 > r - 2 * r * 1e-5);
    }
}

TEST_CASE("A wide disc is an ellipse", "[geometry]") {
    CHECK(areas(disc({.thickness = 0.06, .width = 0.2}, "cut")).total ==
          Approx(pi * 0.03 * 0.1).epsilon(1e-5));
}

TEST_CASE("A block is a rectangle with a strip of fat", "[geometry]") {
    const Section cut = block({.thickness = 0.06, .width = 0.2, .fat_cap = 0.01}, "cut");
    CHECK(areas(cut).total == Approx(0.06 * 0.2).epsilon(1e-12));
    CHECK(areas(cut).fat == Approx(0.01 * 0.2).epsilon(1e-12));
    // The strip covers the top and 10 mm of either side, of a perimeter of 520 mm.
    CHECK(fat_share(cut) == Approx(220. / 520).epsilon(1e-12));
}

TEST_CASE("A loin has the area of its superellipse", "[geometry]") {
    // Area 4 a b G(1 + 1/n)^2 / G(1 + 2/n), n = 2.6: Dirichlet's integral, textbook result (from
    // memory).
    const double a = 0.064, b = 0.04, n = 2.6, g = boost::math::tgamma(1 + 1 / n);
    const Section cut = loin({.thickness = 2 * b}, "cut");
    CHECK(cut.width == Approx(2 * a).epsilon(1e-12)); // 1.6 of the thickness
    CHECK(areas(cut).total ==
          Approx(4 * a * b * g * g / boost::math::tgamma(1 + 2 / n)).epsilon(chords));
    CHECK(areas(cut).bone == 0);
    CHECK(areas(cut).fat == 0);
}

TEST_CASE("A ham has the area of an ellipse and the extents it was given", "[geometry]") {
    // Green's theorem on x = a (cos t - k sin^2 t), y = b sin t: the k term integrates to nothing.
    const Section cut = ham({.thickness = 0.18, .width = 0.25}, "cut");
    CHECK(bg::area(cut.outline) == Approx(pi * 0.09 * 0.125).epsilon(chords));
    const auto box = bg::return_envelope<bg::model::box<Point>>(cut.outline);
    CHECK(box.max_corner().x() == Approx(0.125).epsilon(1e-12));
    CHECK(box.min_corner().x() == Approx(-0.125).epsilon(1e-12));
    CHECK(box.max_corner().y() == Approx(0.09).epsilon(1e-12));
    CHECK(ham({.thickness = 0.18}, "cut").width == Approx(1.35 * 0.18).epsilon(1e-12));
    REQUIRE(cut.regions.size() == 1);
    CHECK(areas(cut).bone == Approx(pi / 4 * std::pow(0.16 * 0.18, 2)).epsilon(1e-3)); // 96 points
    const auto centre = bg::return_centroid<Point>(cut.regions[0].ring);
    CHECK(centre.x() < -0.01); // off the middle, towards the blunt end
    CHECK(to_wall(cut.outline, centre) == Approx(0.42 * 0.18).epsilon(1e-3));
}

TEST_CASE("A loin with fat and ribs is the same left and right", "[geometry]") {
    const Section cut = loin({.thickness = 0.08, .fat_cap = 0.008, .bones = 4}, "cut");
    REQUIRE(cut.regions.size() == 5);
    CHECK(mirrored(cut.outline, cut.outline));
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(mirrored(cut.regions[i].ring, cut.regions[3 - i].ring));
    }
    CHECK(mirrored(cut.regions[4].ring, cut.regions[4].ring));
}

TEST_CASE("Ribs are ovals that lie as deep as asked", "[geometry]") {
    const Section cut = loin(
        {.thickness = 0.09, .width = 0.4, .bones = 9, .bone_diameter = 0.015, .bone_depth = 0.02},
        "cut");
    REQUIRE(cut.regions.size() == 9);
    for (const Region& rib : cut.regions) {
        CAPTURE(rib.name);
        CHECK(rib.kind == "bone");
        const auto box = bg::return_envelope<bg::model::box<Point>>(rib.ring);
        const double wide = box.max_corner().x() - box.min_corner().x();
        CHECK(wide == Approx(0.015).epsilon(1e-9));
        CHECK(wide / (box.max_corner().y() - box.min_corner().y()) == Approx(1.2).epsilon(1e-9));
        // 360 chords leave the outline's distance uncertain by some 1e-4 of its size.
        CHECK(to_wall(cut.outline, bg::return_centroid<Point>(rib.ring)) ==
              Approx(0.02).epsilon(5e-3));
    }
    const Section usual = loin({.thickness = 0.08, .bones = 1}, "cut");
    // 12 mm wide, so 10 mm tall, over 5 mm of lean: common practice, no source.
    CHECK(areas(usual).bone == Approx(pi / 4 * 0.012 * 0.010).epsilon(2e-3)); // 72 points: 1.3e-3
    CHECK(to_wall(usual.outline, {0, -0.03}) == Approx(0.01).epsilon(1e-3));
    CHECK(bg::within(Point(0, -0.0349), usual.regions[0].ring));
    CHECK_FALSE(bg::within(Point(0, -0.0351), usual.regions[0].ring));
}

TEST_CASE("The fat cap of a disc has the area of its own formula", "[geometry]") {
    // In polar coordinates the cap is R - d(s) < r < R, 18 to 162 degrees, s the arc length from
    // the nearer end and d = c sin(pi/2 min(1, s/l)), l = c pi/2 / tan 30.
    const double R = 0.05, c = 0.006, l = c * pi / 2 / std::tan(pi / 6);
    const auto slice = [&](double angle) {
        const double s = R * std::min(angle, pi - angle) - R * pi / 10;
        const double d = c * std::sin(pi / 2 * std::min(1., s / l));
        return (R * R - (R - d) * (R - d)) / 2;
    };
    const double exact = 2 * boost::math::quadrature::trapezoidal(slice, pi / 10, pi / 2, 1e-8);
    const Section cut = disc({.thickness = 2 * R, .fat_cap = c}, "cut");
    CHECK(areas(cut).fat == Approx(exact).epsilon(1e-4));
    CHECK(fat_share(cut) == Approx(144. / 360).epsilon(1e-9));
}

TEST_CASE("A fat cap is as thick as asked and ends at an angle that cells can fill", "[geometry]") {
    const double aspect = GENERATE(1., 1.35, 1.6, 3., 6.), share = GENERATE(0.005, 0.02, 0.1, 0.3);
    CAPTURE(aspect, share);
    const double t = 0.08, c = share * t;
    const Dimensions d{.thickness = t, .width = aspect * t, .fat_cap = c};
    for (const Section& cut : {disc(d, "cut"), loin(d, "cut"), ham(d, "cut")}) {
        CAPTURE(cut.name);
        const Region& fat = cut.regions.back();
        REQUIRE(fat.name == "fat cap");
        double deepest = 0;
        for (const Point& p : fat.ring) {
            deepest = std::max(deepest, to_wall(cut.outline, p));
            CHECK(p.y() > 0); // a cap on the top does not reach the lower half
        }
        CHECK(deepest == Approx(c).epsilon(0.01));
        const auto [right, left] = end_angles(cut);
        CHECK(right >= 20);
        CHECK(left >= 20);
    }
}

TEST_CASE("Each sealed side of a block is that face and no more", "[geometry]") {
    const auto sealed = [](std::vector<std::string> sides) {
        return block({.thickness = 0.06, .width = 0.2, .sealed = std::move(sides)}, "cut");
    };
    CHECK(wet_share(sealed({})) == 1);
    CHECK(wet_share(sealed({"top"})) == Approx(1 - 200. / 520).epsilon(1e-12));
    CHECK(wet_share(sealed({"bottom"})) == Approx(1 - 200. / 520).epsilon(1e-12));
    CHECK(wet_share(sealed({"left"})) == Approx(1 - 60. / 520).epsilon(1e-12));
    CHECK(wet_share(sealed({"right"})) == Approx(1 - 60. / 520).epsilon(1e-12));
    CHECK(wet_share(sealed({"top", "bottom", "left"})) == Approx(60. / 520).epsilon(1e-12));
    CHECK_FALSE(wet(sealed({"top"}), {0.03, 0.03}));
    CHECK(wet(sealed({"top"}), {0.1, 0.029}));
    CHECK(wet(sealed({"top"}), {0.03, -0.03}));
    CHECK(sealed({"top", "left"}).outline.size() == 4);
}

TEST_CASE("Each sealed side of a disc is a quarter", "[geometry]") {
    for (const std::string side : {"top", "bottom", "left", "right"}) {
        CAPTURE(side);
        CHECK(wet_share(disc({.thickness = 0.1, .sealed = {side}}, "cut")) ==
              Approx(0.75).epsilon(1e-9));
    }
    CHECK(wet(disc({.thickness = 0.1, .sealed = {"left"}}, "cut"), {0.05, 0}));
    CHECK_FALSE(wet(disc({.thickness = 0.1, .sealed = {"left"}}, "cut"), {-0.05, 0}));
}

TEST_CASE("The four sides of every shape together leave nothing wet", "[geometry]") {
    const std::string message =
        "cut: seals: cover the whole outline, so nothing can get in; leave a stretch wet";
    const Dimensions all{
        .thickness = 0.08, .width = 0.13, .sealed = {"top", "bottom", "left", "right"}};
    CHECK_THROWS_WITH(disc(all, "cut"), message);
    CHECK_THROWS_WITH(block(all, "cut"), message);
    CHECK_THROWS_WITH(loin(all, "cut"), message);
    CHECK_THROWS_WITH(ham(all, "cut"), message);
    double sealed = 0;
    for (const std::string& side : all.sealed) {
        sealed += 1 - wet_share(ham({.thickness = 0.08, .sealed = {side}}, "cut"));
    }
    CHECK(sealed == Approx(1).epsilon(1e-9)); // no overlap either
}

TEST_CASE("Doubling every dimension doubles the section", "[geometry]") {
    const Dimensions d{.thickness = 0.07,
                       .width = 0.2,
                       .fat_cap = 0.006,
                       .bones = 3,
                       .bone_diameter = 0.014,
                       .bone_depth = 0.015,
                       .sealed = {"top"}};
    const Dimensions twice{.thickness = 0.14,
                           .width = 0.4,
                           .fat_cap = 0.012,
                           .bones = 3,
                           .bone_diameter = 0.028,
                           .bone_depth = 0.03,
                           .sealed = {"top"}};
    const Section small = loin(d, "cut"), large = loin(twice, "cut");
    CHECK(areas(large).lean == Approx(4 * areas(small).lean).epsilon(1e-12));
    CHECK(areas(large).fat == Approx(4 * areas(small).fat).epsilon(1e-12));
    CHECK(areas(large).bone == Approx(4 * areas(small).bone).epsilon(1e-12));
    CHECK(wet_share(large) == Approx(wet_share(small)).epsilon(1e-12));
}

TEST_CASE("Regions stay inside the outline and apart whatever the dimensions", "[geometry]") {
    std::mt19937 engine(20);
    const auto draw = [&](double low, double high) {
        return std::uniform_real_distribution<>(low, high)(engine);
    };
    int made = 0;
    for (int k = 0; k < 150; ++k) {
        Dimensions d;
        d.thickness = draw(0.02, 0.25);
        d.width = d.thickness * draw(1, 5);
        d.fat_cap = d.thickness * draw(0.006, 0.33);
        d.bones = k % 3 == 0 ? 0 : static_cast<int>(draw(1, 6));
        d.bone_diameter = d.bones == 0 ? 0 : d.thickness * draw(0.05, 0.4);
        CAPTURE(k, d.thickness, d.width, d.fat_cap, d.bones, d.bone_diameter);
        try {
            const Section cut = loin(d, "cut");
            ++made;
            double parts = 0;
            for (const Region& region : cut.regions) {
                std::vector<Ring> inside;
                bg::intersection(region.ring, cut.outline, inside);
                REQUIRE(inside.size() == 1);
                CHECK(bg::area(inside[0]) == Approx(bg::area(region.ring)).epsilon(1e-6));
                CHECK(bg::is_valid(region.ring));
                parts += bg::area(region.ring);
                for (const Region& other : cut.regions) {
                    CHECK((&other == &region || bg::disjoint(region.ring, other.ring)));
                }
            }
            CHECK(areas(cut).lean == Approx(bg::area(cut.outline) - parts).epsilon(1e-9));
        } catch (const tidemark::base::InputError& e) {
            // Ribs that do not fit are refused, in one of these ways only.
            CHECK_THAT(e.what(), Catch::Contains("do not fit side by side") ||
                                     Catch::Contains("overlaps or touches"));
        }
    }
    CHECK(made > 75);
}

TEST_CASE("Dimensions that make no sense are refused in a sentence", "[geometry]") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_WITH(disc({}, "cut"),
                      "cut: thickness: is missing; give the thickness of the piece");
    CHECK_THROWS_WITH(block({.thickness = 0.06}, "cut"),
                      "cut: width: is missing; give the width of the piece");
    const std::string negative =
        "must be a number that is not negative; give a positive size, or leave it out";
    CHECK_THROWS_WITH(loin({.thickness = -0.06}, "cut"), "cut: thickness: " + negative);
    CHECK_THROWS_WITH(loin({.thickness = 0.06, .width = nan}, "cut"), "cut: width: " + negative);
    CHECK_THROWS_WITH(loin({.thickness = 0.06, .bones = -1}, "cut"), "cut: bones: " + negative);
    CHECK_THROWS_WITH(ham({.thickness = 0.06, .bones = -1}, "cut"), "cut: bones: " + negative);
    CHECK_THROWS_WITH(
        ham({.thickness = 0.7}, "cut"),
        "cut: thickness 700 mm (27.6 in): a section is from 2 mm (0.079 in) to 600 mm "
        "(23.6 in) thick; check the unit");
    CHECK_THROWS_WITH(block({.thickness = 0.06, .width = 0.05}, "cut"),
                      "cut: width 50 mm (2 in): is less than the thickness 60 mm (2.4 in); the "
                      "thickness is the smaller measure: swap them");
}

TEST_CASE("Fat caps and sides that cannot be are refused in a sentence", "[geometry]") {
    const std::string range =
        "must be from 0.4 mm (0.016 in) to 27 mm (1 in) on a piece this thick; "
        "measure it again, or draw the piece as an outline";
    CHECK_THROWS_WITH(loin({.thickness = 0.08, .fat_cap = 0.03}, "cut"),
                      "cut: fat cap 30 mm (1.2 in): " + range);
    CHECK_THROWS_WITH(block({.thickness = 0.08, .width = 0.2, .fat_cap = 0.0003}, "cut"),
                      "cut: fat cap 0.3 mm (0.012 in): " + range);
    CHECK_THROWS_WITH(
        disc({.thickness = 0.08, .sealed = {"botom"}}, "cut"),
        "cut: botom: a sealed side is top, bottom, left or right; did you mean bottom?");
    CHECK_THROWS_WITH(
        disc({.thickness = 0.08, .sealed = {"under"}}, "cut"),
        "cut: under: a sealed side is top, bottom, left or right; choose one of these");
}

TEST_CASE("the ribs of a block stand in the middles of equal shares of its width", "[geometry]") {
    // By hand: four shares of 35 mm; ovals of 12 by 10 mm, 5 mm of lean under them, so that their
    // centres are 10 mm over the bottom of a block 76 mm thick.
    const Section s = block({.thickness = 0.076, .width = 0.14, .bones = 4}, "cut");
    REQUIRE(s.regions.size() == 4);
    for (std::size_t k = 0; k < 4; ++k) {
        const Box box = bounds(s.regions[k].ring);
        CHECK(box.middle().x() == Approx(-0.0525 + 0.035 * static_cast<double>(k)).margin(1e-6));
        CHECK(box.middle().y() == Approx(0.010 - 0.038).margin(1e-6));
        CHECK(box.width() == Approx(0.012).epsilon(1e-6));
        CHECK(box.height() == Approx(0.010).epsilon(1e-6));
    }
}

TEST_CASE("Bones that cannot be are refused in a sentence", "[geometry]") {
    CHECK_THROWS_WITH(
        loin({.thickness = 0.08, .bone_diameter = 0.012}, "cut"),
        "cut: bone diameter: needs a number of bones; give the number, or leave it out");
    CHECK_THROWS_WITH(disc({.thickness = 0.08, .bone_depth = 0.012}, "cut"),
                      "cut: bone depth: needs a number of bones; give the number, or leave it out");
    CHECK_THROWS_WITH(block({.thickness = 0.08, .width = 0.14, .bones = 12}, "cut"),
                      "cut: 12 bones: each 12 mm (0.47 in) wide, do not fit side by side in a "
                      "piece 140 mm (5.5 in) wide; give at most 11, a smaller bone diameter or a "
                      "greater width");
    CHECK_THROWS_WITH(
        ham({.thickness = 0.18, .bones = 2}, "cut"),
        "cut: 2 bones: a ham has one bone; use a loin, or draw the piece as an outline");
    CHECK_THROWS_WITH(
        loin({.thickness = 0.08, .bones = 9}, "cut"),
        "cut: 9 bones: each 12 mm (0.47 in) wide, do not fit side by side in a piece "
        "128 mm (5 in) wide; give at most 7, a smaller bone diameter or a greater width");
    CHECK_THROWS_WITH(loin({.thickness = 0.08, .bones = 7}, "cut"),
                      "cut: bone 'rib 2': overlaps or touches bone 'rib 1' near x -29.24 mm, y "
                      "-26.05 mm; leave at least 0.25 mm (0.0098 in) of lean between them");
    CHECK_THROWS_WITH(disc({.thickness = 0.08, .bones = 1, .bone_diameter = 0.08}, "cut"),
                      "cut: bone diameter 80 mm (3.1 in): is too large for a piece 80 mm (3.1 in) "
                      "thick; give a smaller one");
    CHECK_THROWS_WITH(
        loin({.thickness = 0.08, .bones = 1, .bone_depth = 0.005}, "cut"),
        "cut: bone depth 5 mm (0.2 in): the centre of this bone lies from 5.4 mm (0.21 "
        "in) to 40 mm (1.6 in) under the face; give a depth in this range");
    CHECK_THROWS_WITH(
        ham({.thickness = 0.18, .bone_depth = 0.1}, "cut"),
        "cut: bone depth 100 mm (3.9 in): the centre of this bone lies from 15 mm (0.6 "
        "in) to 90 mm (3.5 in) under the face; give a depth in this range");
    CHECK_THROWS_WITH(loin({.thickness = 0.03,
                            .fat_cap = 0.009,
                            .bones = 1,
                            .bone_diameter = 0.02,
                            .bone_depth = 0.015},
                           "cut"),
                      "cut: fat 'fat cap': overlaps or touches bone 'rib 1' near x 7.37 mm, y "
                      "5.621 mm; leave at least 0.15 mm (0.0059 in) of lean between them");
}

TEST_CASE("A ham has its bone unless none is asked for", "[geometry]") {
    CHECK(ham({.thickness = 0.18}, "cut").regions.size() == 1);
    CHECK(ham({.thickness = 0.18, .bones = 1}, "cut").regions.size() == 1);
    CHECK(ham({.thickness = 0.18, .bones = 0}, "cut").regions.empty());
    CHECK_THROWS_WITH(
        ham({.thickness = 0.18, .bones = 0, .bone_diameter = 0.03}, "cut"),
        "cut: bone diameter: needs a number of bones; give the number, or leave it out");
}
