// SPDX-License-Identifier: MIT
/// The rules of a section: what checked() repairs, what it refuses and in which words.
#include "base/error.hpp"
#include "geometry/measure.hpp"
#include "geometry/mesh.hpp"
#include "geometry/section.hpp"
#include "geometry/shapes.hpp"

#include <boost/geometry.hpp>
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

using namespace tidemark::geometry;
namespace bg = boost::geometry;

namespace {

/// A ring from millimetres, so that the numbers below read like a drawing.
Ring mm(std::vector<std::pair<double, double>> points) {
    Ring ring;
    for (const auto& [x, y] : points) {
        ring.emplace_back(1e-3 * x, 1e-3 * y);
    }
    return ring;
}

/// 100 mm wide, 60 mm thick.
Section plain() {
    return {"plain", mm({{0, 0}, {100, 0}, {100, 60}, {0, 60}}), {}, {}};
}

Section with(Region region) {
    Section section = plain();
    section.regions.push_back(std::move(region));
    return section;
}

bool has(const Ring& ring, double x, double y) {
    return std::any_of(ring.begin(), ring.end(), [&](const Point& p) {
        return std::hypot(p.x() - 1e-3 * x, p.y() - 1e-3 * y) < 1e-9;
    });
}

#define UNSOUND(section, message) CHECK_THROWS_WITH(checked(section, "cut"), message)

} // namespace

TEST_CASE("A clockwise outline with repeated points comes back clean", "[geometry]") {
    Section section = plain();
    section.outline = mm({{0, 0}, {0, 60}, {0, 60}, {100, 60}, {100, 0}, {50, 0}, {0, 0}});
    const Section clean = checked(section, "cut");
    CHECK(clean.outline.size() == 5);
    CHECK(bg::area(clean.outline) == Approx(0.1 * 0.06).epsilon(1e-12));
    CHECK(clean.thickness == Approx(0.06).epsilon(1e-12));
    CHECK(clean.width == Approx(0.1).epsilon(1e-12));
}

TEST_CASE("A checked section comes through the check unchanged", "[geometry]") {
    Section section = with({"cap", "fat", mm({{0, 49.97}, {100, 50}, {100, 60.03}, {0, 60}})});
    section.seals.push_back({"tray", mm({{20, -5}, {80, -5}, {80, 5}, {20, 5}})});
    const auto same = [](const Ring& a, const Ring& b) {
        return std::equal(
            a.begin(), a.end(), b.begin(), b.end(),
            [](const Point& p, const Point& q) { return p.x() == q.x() && p.y() == q.y(); });
    };
    const Section once = checked(section, "cut"), twice = checked(once, "cut");
    CHECK(same(once.outline, twice.outline));
    CHECK(same(once.regions[0].ring, twice.regions[0].ring));
}

TEST_CASE("A fat cap drawn slightly off the outline is put onto it point for point", "[geometry]") {
    // Snapping reaches 1e-3 of 60 mm = 0.06 mm; the cap is off by 0.05 mm, in and out. The
    // outline's own point at (40, 60) is not in the drawn cap and must appear in it.
    Section section = with({"cap", "fat", mm({{0.05, 50}, {99.95, 50}, {100, 60.05}, {0, 59.95}})});
    section.outline = mm({{0, 0}, {100, 0}, {100, 60}, {40, 60}, {0, 60}});
    const Section clean = checked(section, "cut");
    const Ring& cap = clean.regions[0].ring;
    REQUIRE(cap.size() == 5);
    CHECK(clean.outline.size() == 7);
    for (const Point& p : cap) {
        CAPTURE(p.x(), p.y());
        CHECK(to_wall(clean.outline, p) < 1e-12);
        CHECK(has(clean.outline, 1e3 * p.x(), 1e3 * p.y()));
    }
    CHECK(has(cap, 40, 60));
    CHECK(areas(clean).fat == Approx(0.1 * 0.01).epsilon(1e-9)); // both ends at y = 50 mm
}

TEST_CASE("A fat seam farther from the outline than the snapping distance stays where it is",
          "[geometry]") {
    const Section clean =
        checked(with({"seam", "fat", mm({{10, 50}, {90, 50}, {90, 59.9}, {10, 59.9}})}), "cut");
    CHECK(clean.outline.size() == 4);
    CHECK(has(clean.regions[0].ring, 90, 59.9));
}

TEST_CASE("Areas count bone out of the total and fat out of the lean", "[geometry]") {
    Section section = with({"cap", "fat", mm({{0, 50}, {100, 50}, {100, 60}, {0, 60}})});
    section.regions.push_back({"blade", "bone", mm({{40, 10}, {60, 10}, {60, 20}, {40, 20}})});
    section.regions.push_back({"eye", "lean", mm({{70, 10}, {90, 10}, {90, 20}, {70, 20}})});
    const Areas sum = areas(checked(section, "cut"));
    CHECK(sum.fat == Approx(100 * 10e-6).epsilon(1e-12));
    CHECK(sum.bone == Approx(20 * 10e-6).epsilon(1e-12));
    CHECK(sum.total == Approx(100 * 60e-6 - 20 * 10e-6).epsilon(1e-12));
    CHECK(sum.lean == Approx(sum.total - sum.fat).epsilon(1e-12));
}

TEST_CASE("A seal gives the outline points where it begins and ends", "[geometry]") {
    Section section = plain();
    section.seals.push_back({"tray", mm({{20, -5}, {80, -5}, {80, 5}, {20, 5}})});
    const Section clean = checked(section, "cut");
    CHECK(clean.outline.size() == 6);
    CHECK(has(clean.outline, 20, 0));
    CHECK(has(clean.outline, 80, 0));
    CHECK(wet_share(clean) == Approx(1 - 60. / 320).epsilon(1e-12)); // 60 mm of 2 (100 + 60) mm
    CHECK_FALSE(wet(clean, Point(0.05, 0)));
    CHECK(wet(clean, Point(0.05, 0.06)));
}

TEST_CASE("Outlines that are no outlines are refused", "[geometry]") {
    Section section = plain();
    section.outline = mm({{0, 0}, {100, 60}});
    UNSOUND(section, "cut: outline: has 2 points; give at least 3, in order around it");
    section.outline = {};
    UNSOUND(section, "cut: outline: has 0 points; give at least 3, in order around it");
    section.outline = mm({{0, 0}, {100, 60}, {100, 0}, {0, 60}});
    UNSOUND(section,
            "cut: outline: crosses or touches itself near x 50 mm, y 30 mm; put its points "
            "in order around it");
    section.outline = mm({{0, 0}, {100, 0}, {100, 60}, {100, 30}, {0, 30}});
    UNSOUND(section,
            "cut: outline: crosses or touches itself near x 100 mm, y 30 mm; put its points "
            "in order around it");
    section.outline = mm({{0, 0}, {50, 50}, {100, 100}});
    UNSOUND(section, "cut: outline: folds back on itself; put its points in order around it");
    for (const double bad : {std::numeric_limits<double>::quiet_NaN(),
                             std::numeric_limits<double>::infinity(), -100001.}) {
        section.outline = mm({{0, 0}, {100, 0}, {100, bad}});
        UNSOUND(section,
                "cut: outline: has a coordinate that is not a number or lies beyond 100 m; "
                "check the unit");
    }
    section.outline.resize(5001, Point(0, 0));
    UNSOUND(section, "cut: outline: has 5001 points, more than 5000; thin them out");
}

TEST_CASE("Sections of absurd size are refused", "[geometry]") {
    const auto sized = [](double width, double thickness) {
        Section section = plain();
        section.outline = mm({{0, 0}, {width, 0}, {width, thickness}, {0, thickness}});
        return section;
    };
    CHECK_NOTHROW(checked(sized(2, 2), "cut"));
    CHECK_NOTHROW(checked(sized(600, 600), "cut"));
    CHECK_NOTHROW(checked(sized(3000, 600), "cut"));
    CHECK(checked(sized(40, 60), "cut").thickness == Approx(0.04).epsilon(1e-12));
    UNSOUND(sized(10, 1.9),
            "cut: thickness 1.9 mm (0.075 in): a section is from 2 mm (0.079 in) to "
            "600 mm (23.6 in) thick; check the unit");
    UNSOUND(sized(700, 650),
            "cut: thickness 650 mm (25.6 in): a section is from 2 mm (0.079 in) to "
            "600 mm (23.6 in) thick; check the unit");
    UNSOUND(sized(3100, 60),
            "cut: width 3100 mm (122 in): a section is at least as wide as it is thick and at most "
            "3000 mm (118.1 in) wide; check the unit, or turn the piece: thickness is the smaller "
            "measure");
}

TEST_CASE("Regions that do not lie inside the outline are refused", "[geometry]") {
    const auto outside = [](const std::string& place) {
        return "cut: fat 'cap': reaches outside the outline near " + place +
               "; move it in; along a shared stretch use the outline's own points";
    };
    UNSOUND(with({"cap", "fat", mm({{0, 50}, {110, 50}, {110, 60}, {0, 60}})}),
            outside("x 110 mm, y 50 mm"));
    UNSOUND(with({"cap", "fat", mm({{0, 50}, {100, 50}, {100, 60}, {0, 60.51}})}),
            outside("x 0 mm, y 60.51 mm")); // mending reaches 0.5 mm
    UNSOUND(with({"cap", "fat", mm({{200, 50}, {210, 50}, {210, 60}, {200, 60}})}),
            outside("x 200 mm, y 50 mm"));
    const auto bone = [](const std::string& place) {
        return "cut: bone 'blade': must lie inside the outline, at least 0.25 mm (0.0098 in) from "
               "it near " +
               place +
               "; move it in; for a bone that shows on the outside, draw the outline around it and "
               "seal that stretch";
    };
    UNSOUND(with({"blade", "bone", mm({{40, -5}, {60, -5}, {60, 20}, {40, 20}})}),
            bone("x 60 mm, y 0 mm"));
    UNSOUND(with({"blade", "bone", mm({{40, -0.3}, {60, -0.3}, {60, 20}, {40, 20}})}),
            bone("x 60 mm, y 0 mm"));
    UNSOUND(with({"blade", "bone", mm({{140, 5}, {160, 5}, {160, 20}, {140, 20}})}),
            bone("x 140 mm, y 5 mm"));
    UNSOUND(with({"blade", "bone", mm({{-50, -50}, {160, -50}, {160, 90}, {-50, 90}})}),
            bone("x -50 mm, y -50 mm"));
}

TEST_CASE("A region that cuts across a dent in the outline is refused", "[geometry]") {
    Section section = with({"cap", "fat", mm({{0, 40}, {100, 40}, {100, 60}, {0, 60}})});
    section.outline = mm({{0, 0}, {100, 0}, {100, 60}, {50, 50}, {0, 60}});
    UNSOUND(section,
            "cut: fat 'cap': reaches outside the outline near x 50 mm, y 50 mm; move it in; "
            "along a shared stretch use the outline's own points");
}

TEST_CASE("Regions that are badly drawn are refused by name", "[geometry]") {
    UNSOUND(with({"cap", "fet", mm({{0, 50}, {100, 50}, {100, 60}})}),
            "cut: fet 'cap': a region is lean, fat or bone; did you mean fat?");
    UNSOUND(with({"cap", "gristle", mm({{0, 50}, {100, 50}, {100, 60}})}),
            "cut: gristle 'cap': a region is lean, fat or bone; choose one of these");
    UNSOUND(with({"cap", "fat", mm({{0, 50}})}),
            "cut: fat 'cap': has 1 point; give at least 3, in order around it");
    UNSOUND(with({"seam", "fat", mm({{10, 10}, {30, 30}, {30, 10}, {10, 30}})}),
            "cut: fat 'seam': crosses or touches itself near x 20 mm, y 20 mm; put its points in "
            "order around it");
}

TEST_CASE("Regions that overlap, touch or lie in each other are refused", "[geometry]") {
    const auto pair = [](Ring bone) {
        Section section = with({"seam", "fat", mm({{20, 20}, {60, 20}, {60, 40}, {20, 40}})});
        section.regions.push_back({"blade", "bone", std::move(bone)});
        return section;
    };
    const auto message = [](const std::string& place) {
        return "cut: bone 'blade': overlaps or touches fat 'seam' near " + place +
               "; leave at least 0.25 mm (0.0098 in) of lean between them";
    };
    UNSOUND(pair(mm({{50, 25}, {80, 25}, {80, 35}, {50, 35}})), message("x 60 mm, y 25 mm"));
    UNSOUND(pair(mm({{30, 25}, {50, 25}, {50, 35}, {30, 35}})), message("x 30 mm, y 25 mm"));
    UNSOUND(pair(mm({{10, 10}, {90, 10}, {90, 50}, {10, 50}})), message("x 10 mm, y 10 mm"));
}

TEST_CASE("A section without lean is refused", "[geometry]") {
    const std::string message =
        "cut: bone and fat: fill the section and leave no lean to cure; make them smaller";
    const auto framed = [](const std::string& kind, double rim) {
        return with({"core", kind,
                     mm({{rim, rim}, {100 - rim, rim}, {100 - rim, 60 - rim}, {rim, 60 - rim}})});
    };
    // A rim of lean r mm wide is r (320 - 4 r) mm2 of 6000 mm2; the limit of 5 % lies at 0.95 mm.
    CHECK_NOTHROW(checked(framed("fat", 1), "cut"));
    UNSOUND(framed("fat", 0.9), message);
    UNSOUND(framed("fat", 0), message);
}

TEST_CASE("A section that nothing can enter is refused", "[geometry]") {
    Section section = plain();
    section.seals.push_back({"bag", mm({{-10, -10}, {110, -10}, {110, 70}, {-10, 70}})});
    UNSOUND(section,
            "cut: seals: cover the whole outline, so nothing can get in; leave a stretch wet");
    section.seals[0].ring = mm({{20, 20}, {40, 20}, {40, 40}});
    UNSOUND(section, "cut: seal 'bag': covers no part of the outline; draw it across the stretch "
                     "that is sealed, or leave it out");
    section.seals[0].ring = mm({{20, 20}, {40, 20}});
    UNSOUND(section, "cut: seal 'bag': has 2 points; give at least 3, in order around it");
}

TEST_CASE("What is wrong by less than half a millimetre is mended, and said", "[geometry]") {
    const auto mended = [](Section section, const std::string& name, const std::string& by) {
        const Section now = checked(std::move(section), "cut");
        REQUIRE(now.notes.size() == (by.empty() ? 0 : 1));
        if (!by.empty())
            CHECK(now.notes[0] == "cut: " + name + " was moved by up to " + by +
                                      " to make a drawing that can be cut into cells");
        return now;
    };
    const auto lowest = [](const Ring& ring) { return bounds(ring).low.y(); };
    const auto blade = [](double low) {
        return with({"blade", "bone", mm({{40, low}, {60, low}, {60, 20}, {40, 20}})});
    };
    // A bone keeps 0.25 mm from the outline; it is moved to 1.02 of that.
    CHECK(lowest(mended(blade(0.26), "", "").regions[0].ring) == Approx(0.26e-3));
    CHECK(lowest(mended(blade(0.2), "bone 'blade'", "0.055 mm (0.0022 in) near x 40 mm, y 0.2 mm")
                     .regions[0]
                     .ring) == Approx(0.255e-3).margin(1e-7));
    CHECK(
        lowest(mended(blade(-0.2), "bone 'blade'", "0.46 mm (0.018 in) near x 58.75 mm, y -0.2 mm")
                   .regions[0]
                   .ring) == Approx(0.255e-3).margin(1e-7));
    // Fat that reaches out comes back to the outline.
    const Section cap = mended(with({"cap", "fat", mm({{0, 50}, {100, 50}, {100, 60.4}, {0, 60}})}),
                               "fat 'cap'", "0.4 mm (0.016 in) near x 100 mm, y 60.4 mm");
    CHECK(areas(cap).fat == Approx(100e-3 * 10e-3).epsilon(1e-9));
    // A loop of the pen goes. By hand: its lines cross at x 50.02, y 0.02, and from there it dips
    // to y -0.1 at x 50.1, which adds half of 49.97 x 0.1 mm2 to the 6000.
    Section loop = plain();
    loop.outline =
        mm({{0, 0}, {50, 0}, {50.2, 0.2}, {49.9, 0.2}, {50.1, -0.1}, {100, 0}, {100, 60}, {0, 60}});
    const Section undone = checked(loop, "cut");
    CHECK(undone.notes.size() == 1);
    CHECK(areas(undone).total == Approx(6002.498e-6).epsilon(1e-5));
}

TEST_CASE("a drawing that needs ever more cells is refused at once, with its place", "[geometry]") {
    // Found by the fuzzer: it made 97,000 nodes before.
    const Section section = outline_from_csv(
        "part,kind,x [mm],y [mm]\n0,outline,119,45.5\n0,outline,0,0\n0,outline,0,64\n"
        "0,outline,117,78\n0,outline,111.5,60\n0,outline,0,0\n",
        "cut.csv");
    CHECK_THROWS_WITH(triangulate(section, section.thickness / 8),
                      Catch::StartsWith("lines that come close to each other near x 0.") &&
                          Catch::EndsWith("cannot be cut into cells; draw them apart or let them "
                                          "share a stretch"));
}
