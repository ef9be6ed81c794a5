// SPDX-License-Identifier: MIT
/// Outlines from CSV text: round trips, units, and every refusal with its line.
#include "base/error.hpp"
#include "geometry/shapes.hpp"

#include <boost/geometry.hpp>
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <sstream>

using namespace tidemark::geometry;
namespace bg = boost::geometry;

namespace {

/// A section as CSV text, with `per_metre` of the unit in a metre.
std::string written(const Section& section, const std::string& unit, double per_metre) {
    std::ostringstream out;
    out.precision(17);
    out << "# written by the test\npart,kind,x [" << unit << "],y [" << unit << "]\n";
    const auto part = [&](const std::string& name, const std::string& kind, const Ring& ring) {
        for (const Point& p : ring) {
            out << name << ',' << kind << ',' << p.x() * per_metre << ',' << p.y() * per_metre
                << '\n';
        }
    };
    part("slice", "outline", section.outline);
    for (const Region& region : section.regions) {
        part(region.name, region.kind, region.ring);
    }
    for (const Seal& seal : section.seals) {
        part(seal.name, "sealed", seal.ring);
    }
    return out.str();
}

bool same(const Ring& a, const Ring& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Point& p, const Point& q) {
        return std::hypot(p.x() - q.x(), p.y() - q.y()) < 1e-12;
    });
}

/// A square of 50 mm; `rows` come after its four lines, so they begin at line 6.
std::string square(const std::string& rows) {
    return "part,kind,x [mm],y [mm]\n"
           "slice,outline,0,0\nslice,outline,50,0\nslice,outline,50,50\nslice,outline,0,50\n" +
           rows;
}

#define REFUSED(text, message) CHECK_THROWS_WITH(outline_from_csv(text, "cut.csv"), message)

} // namespace

TEST_CASE("A section written as CSV in any unit reads back as itself", "[geometry]") {
    const Section loin_cut = loin(
        {.thickness = 0.08, .width = 0.2, .fat_cap = 0.008, .bones = 3, .sealed = {"top", "left"}},
        "cut");
    const std::pair<std::string, double> units[] = {{"mm", 1000}, {"cm", 100}, {"in", 1 / 0.0254}};
    for (const auto& [unit, per_metre] : units) {
        CAPTURE(unit);
        const Section read = outline_from_csv(written(loin_cut, unit, per_metre), "cut.csv");
        CHECK(read.name == "cut.csv");
        CHECK(read.thickness == Approx(0.08).epsilon(1e-12));
        CHECK(read.width == Approx(0.2).epsilon(1e-12));
        CHECK(same(read.outline, loin_cut.outline));
        REQUIRE(read.regions.size() == 4);
        for (std::size_t i = 0; i < 4; ++i) {
            CHECK(read.regions[i].name == loin_cut.regions[i].name);
            CHECK(read.regions[i].kind == loin_cut.regions[i].kind);
            CHECK(same(read.regions[i].ring, loin_cut.regions[i].ring));
        }
        CHECK(wet_share(read) == Approx(wet_share(loin_cut)).epsilon(1e-9));
    }
}

TEST_CASE("An outline may run clockwise, be closed, spaced out and commented", "[geometry]") {
    const Section read = outline_from_csv("\n# a slice\npart , kind , x [cm] , y [cm]\r\n"
                                          "  slice, outline, 0, 0\n\n# up\nslice,outline,0,5\n"
                                          "slice,outline,5,5\nslice,outline,+5,-0\n"
                                          "slice,outline,0,0\n",
                                          "cut.csv");
    CHECK(read.outline.size() == 4);
    CHECK(bg::area(read.outline) == Approx(0.05 * 0.05).epsilon(1e-12));
}

TEST_CASE("Sealed parts, lean parts and fractions of an inch are understood", "[geometry]") {
    const Section read =
        outline_from_csv(square("tray,sealed,-10,-10\ntray,sealed,60,-10\n"
                                "tray,sealed,60,10\ntray,sealed,-10,10\n"
                                "eye,lean,20,20\neye,lean,30,20\neye,lean,25,30\n"),
                         "cut.csv");
    CHECK(wet_share(read) == Approx(1 - 70. / 200).epsilon(1e-12)); // 50 + 2 x 10 of 200 mm
    REQUIRE(read.regions.size() == 1);
    CHECK(read.regions[0].name == "eye");
    const Section inches = outline_from_csv("part,kind,x [in],y [in]\na,outline,0,0\n"
                                            "a,outline,2 1/2,0\na,outline,2 1/2,2\na,outline,0,2\n",
                                            "cut.csv");
    CHECK(inches.width == Approx(0.0635).epsilon(1e-12)); // 2.5 x 25.4 mm
}

TEST_CASE("The ham of the examples is a piece with a cap and a bone", "[geometry]") {
    std::ifstream file(TIDEMARK_SOURCE_DIR "/examples/outlines/ham.csv");
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    CHECK(text.find("Invented") != std::string::npos);
    const Section read = outline_from_csv(text, "ham.csv");
    CHECK(read.thickness == Approx(0.17).epsilon(1e-12));
    CHECK(read.width == Approx(0.248).epsilon(1e-12));
    const Areas sum = areas(read);
    CHECK(sum.fat > 0.05 * sum.total);
    CHECK(sum.bone > 0.01 * sum.total);
    CHECK(wet_share(read) == 1);
}

TEST_CASE("A CSV outline with a bad header or none is refused", "[geometry]") {
    REFUSED("", "cut.csv: outline: is missing; begin with the line part,kind,x [mm],y [mm]");
    REFUSED("# nothing\n",
            "cut.csv: outline: is missing; begin with the line part,kind,x [mm],y [mm]");
    const std::string rule =
        ": the first line must be: part,kind,x [mm],y [mm]; name the unit of x "
        "and y in brackets: mm, cm or in";
    REFUSED("# note\npart,kind,x,y\n", "cut.csv:2: part,kind,x,y" + rule);
    REFUSED("part,kind,x [mm],y [cm]\n", "cut.csv:1: part,kind,x [mm],y [cm]" + rule);
    REFUSED("part,kind,x [m],y [m]\n", "cut.csv:1: part,kind,x [m],y [m]" + rule);
    REFUSED("slice,outline,0,0\n", "cut.csv:1: slice,outline,0,0" + rule);
}

TEST_CASE("A CSV row that is no point is refused with its line", "[geometry]") {
    REFUSED(square("bone,bone,10\n"), "cut.csv:6: bone,bone,10: has 3 fields, not 4; write "
                                      "part,kind,x,y with decimal points");
    REFUSED(square("bone,bone,10,5,20\n"),
            "cut.csv:6: bone,bone,10,5,20: has 5 fields, not 4; write "
            "part,kind,x,y with decimal points");
    REFUSED(square(",bone,10,20\n"), "cut.csv:6: part: is empty; give every part a name");
    REFUSED(square("shank,bnoe,10,20\n"),
            "cut.csv:6: bnoe: a kind is outline, lean, fat, bone or sealed; did you mean bone?");
    REFUSED(
        square("shank,gristle,10,20\n"),
        "cut.csv:6: gristle: a kind is outline, lean, fat, bone or sealed; choose one of these");
    for (const std::string bad : {"ten", "", "nan", "inf", "0x10", "1e999", "1 lb"}) {
        CAPTURE(bad);
        CHECK_THROWS_WITH(outline_from_csv(square("shank,bone,10," + bad + "\n"), "cut.csv"),
                          Catch::StartsWith("cut.csv:6: "));
        CHECK_THROWS_AS(outline_from_csv(square("shank,bone," + bad + ",10\n"), "cut.csv"),
                        tidemark::base::InputError);
    }
}

TEST_CASE("CSV parts that do not stand together are refused with their line", "[geometry]") {
    REFUSED(square("shank,bone,10,10\nslice,outline,60,60\n"),
            "cut.csv:7: slice: goes on after another part; keep the rows of a part together, in "
            "order around it");
    REFUSED(square("slice,bone,10,10\n"),
            "cut.csv:6: bone: part 'slice' began as outline; give each part one kind");
    REFUSED(square("other,outline,10,10\n"),
            "cut.csv:6: other: is a second outline; keep one, and give the rest another kind");
    REFUSED("part,kind,x [mm],y [mm]\nshank,bone,0,0\n",
            "cut.csv: outline: is missing; give one part the kind outline");
    REFUSED(square("shank,bone,10,10\nshank,bone,20,20\n"),
            "cut.csv: bone 'shank': has 2 points; give at least 3, in order around it");
}
