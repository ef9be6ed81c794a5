// SPDX-License-Identifier: MIT
/// Faces that are shut and opened on one mesh: what with_sealed() makes is what the mesher makes of
/// the same seals. All pieces are invented.
#include "base/error.hpp"
#include "geometry/mesh.hpp"
#include "geometry/shapes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

using namespace tidemark::geometry;
using tidemark::base::InputError;
using Names = std::vector<std::string>;

namespace {

constexpr double thickness = 0.06, spacing = thickness / 16;

using Shape = Section (*)(const Dimensions&, const std::string&);
const std::map<std::string, Shape> shapes{
    {"disc", disc}, {"block", block}, {"loin", loin}, {"ham", ham}};

/// A piece with a fat cap; where it may have its faces shut, all four.
Section piece(const std::string& shape, const Names& sealed, const Names& faces) {
    Dimensions d{.thickness = thickness, .width = 0.09, .fat_cap = 0.006};
    d.bones = shape == "loin" ? 2 : 0;
    d.sealed = sealed;
    d.faces = faces;
    return shapes.at(shape)(d, "cut");
}

void same_cells(const Mesh& a, const Mesh& b) {
    REQUIRE(a.nodes.size() == b.nodes.size());
    CHECK(std::ranges::equal(a.nodes, b.nodes, [](const Point& p, const Point& q) {
        return p.x() == q.x() && p.y() == q.y();
    }));
    CHECK(a.triangles == b.triangles);
    CHECK(a.region == b.region);
    CHECK(a.wet == b.wet);
    CHECK(std::ranges::equal(a.curves, b.curves, {}, &Curve::wet, &Curve::wet));
    CHECK(std::ranges::equal(a.edges, b.edges, [](const CurveEdge& e, const CurveEdge& f) {
        return e.a == f.a && e.b == f.b && e.curve == f.curve && e.sa == f.sa && e.sb == f.sb;
    }));
}

double length(const Mesh& mesh, const std::string& face) {
    double sum = 0;
    for (const Curve& c : mesh.curves)
        sum += c.outer && (face == "wet" ? c.wet : c.face == face) ? c.total() : 0;
    return sum;
}

std::string refusal(const Mesh& mesh, const Section& section, const Names& names) {
    try {
        with_sealed(mesh, section, names, "--stage 2");
    } catch (const InputError& e) {
        return e.what();
    }
    return "";
}

} // namespace

TEST_CASE("Faces shut afterwards give the cells that the same seals give from the start",
          "[geometry]") {
    for (const auto& [name, shape] : shapes)
        for (const Names& shut :
             {Names{"bottom"}, Names{"top", "left"}, Names{"right", "bottom", "left"}}) {
            CAPTURE(name, shut);
            const Section open = piece(name, {}, face_names()),
                          sealed = piece(name, shut, face_names());
            const Mesh coarse = triangulate(open, spacing), want = triangulate(sealed, spacing);
            same_cells(with_sealed(coarse, open, shut, "cut"), want);
            same_cells(with_sealed(refine(coarse), open, shut, "cut"), refine(want));
            same_cells(refine(with_sealed(coarse, open, shut, "cut")), refine(want));
            CHECK(want.wet != coarse.wet);
        }
}

TEST_CASE("No names leave the mesh as it was and open what was shut, but not the piece's own seals",
          "[geometry]") {
    const Section section = piece("ham", {"left"}, face_names());
    const Mesh mesh = triangulate(section, spacing);
    const Mesh rest = with_sealed(mesh, section, face_names(), "cut");
    CHECK(std::ranges::count(rest.wet, true) == 0);
    CHECK(length(rest, "wet") == 0);
    CHECK(length(mesh, "wet") ==
          Approx(length(mesh, "top") + length(mesh, "bottom") + length(mesh, "right")));
    same_cells(with_sealed(mesh, section, {}, "cut"), mesh);
    same_cells(with_sealed(rest, section, {}, "cut"), mesh);
    same_cells(with_sealed(mesh, section, {"left"}, "cut"), mesh);
    same_cells(with_sealed(with_sealed(mesh, section, {"top"}, "cut"), section, {"bottom"}, "cut"),
               with_sealed(mesh, section, {"bottom"}, "cut"));
}

TEST_CASE("A face is one side of a block and a quarter of a disc", "[geometry]") {
    const Mesh box = triangulate(piece("block", {}, face_names()), spacing);
    for (const auto& [face, want] : std::map<std::string, double>{
             {"top", 0.09}, {"bottom", 0.09}, {"left", thickness}, {"right", thickness}})
        CHECK(length(box, face) == Approx(want).epsilon(1e-12));
    const Mesh round =
        triangulate(disc({.thickness = thickness, .faces = face_names()}, "cut"), spacing);
    for (const std::string& face : face_names()) // chords of a 960-gon: 1.8e-6 short
        CHECK(length(round, face) == Approx(std::numbers::pi * thickness / 4).epsilon(2e-6));
}

TEST_CASE("Only the faces asked for are cut", "[geometry]") {
    const Mesh plain = triangulate(disc({.thickness = thickness}, "cut"), spacing);
    CHECK(plain.curves.size() == 4); // of a quarter and its images
    CHECK(std::ranges::count(plain.curves, "", &Curve::face) == 4);
    const Mesh one = triangulate(disc({.thickness = thickness, .faces = {"top"}}, "cut"), spacing);
    CHECK(one.curves.size() == 4); // each half cut in two
    CHECK(std::ranges::count(one.curves, "top", &Curve::face) == 2);
    CHECK(one.nodes.size() > plain.nodes.size()); // finer at the borders
}

TEST_CASE("A drawn outline has faces beside its own seals, and a waver or a dent makes no new one",
          "[geometry]") {
    // A slab 80 x 40 mm whose top wavers by 1 mm down and up steeply in two places, with a board
    // along the left half of its bottom.
    const std::string rows =
        "part,kind,x [mm],y [mm]\n"
        "cut,outline,0,0\ncut,outline,80,0\ncut,outline,80,40\ncut,outline,60,40\n"
        "cut,outline,59.5,39\ncut,outline,59,40\ncut,outline,30,40\ncut,outline,29.5,39\n"
        "cut,outline,29,40\ncut,outline,0,40\n"
        "board,sealed,-5,-5\nboard,sealed,40,-5\nboard,sealed,40,0.02\nboard,sealed,-5,0.02\n";
    const Section section = outline_from_csv(rows, "slab.csv", face_names());
    const Mesh mesh = triangulate(section, 0.004);
    CHECK(length(mesh, "left") == Approx(0.04));
    CHECK(length(mesh, "right") == Approx(0.04));
    CHECK(length(mesh, "top") == Approx(0.078 + 4 * std::hypot(0.5e-3, 1e-3)));
    CHECK(length(mesh, "bottom") == Approx(0.08));
    CHECK(length(with_sealed(mesh, section, {"top", "left", "right"}, "cut"), "wet") ==
          Approx(0.04).epsilon(1e-3)); // a seal's end is exact to 1e-3 of the thickness
    CHECK(length(with_sealed(mesh, section, {"top"}, "cut"), "wet") == Approx(0.12).epsilon(1e-3));
}

TEST_CASE("A name that is no face is refused, with the nearest that is", "[geometry]") {
    const Section section = piece("block", {}, {"top", "bottom"});
    const Mesh mesh = triangulate(section, spacing);
    CHECK(refusal(mesh, section, {"top", "botom"}) ==
          "--stage 2: botom: is not a face that this piece can have shut; did you mean bottom?");
    CHECK(refusal(mesh, section, {"lid"}) ==
          "--stage 2: lid: is not a face that this piece can have shut; use top or bottom");
    CHECK(refusal(mesh, section, {""}) ==
          "--stage 2: is not a face that this piece can have shut; use top or bottom");
    CHECK_THROWS_WITH(piece("block", {}, {"tops"}),
                      "cut: tops: a face is top, bottom, left or right; did you mean top?");
}

TEST_CASE("Faces of a drawn outline can be sealed by name, beside the seals of its table",
          "[geometry]") {
    // An L: 80 x 60 mm, its right half 30 mm high, so two stretches are its top and two its right.
    const std::string rows =
        "part,kind,x [mm],y [mm]\n"
        "cut,outline,0,0\ncut,outline,80,0\ncut,outline,80,30\ncut,outline,40,30\n"
        "cut,outline,40,60\ncut,outline,0,60\n";
    const std::string board = "board,sealed,-5,-5\nboard,sealed,85,-5\nboard,sealed,85,0.02\n"
                              "board,sealed,-5,0.02\n";
    const auto wet = [](const std::string& text, const Names& sealed) {
        const Section section = outline_from_csv(text, "l.csv", {}, sealed);
        CHECK(wet_share(section) * 0.28 ==
              Approx(length(triangulate(section, 0.004), "wet")).epsilon(1e-3));
        return length(triangulate(section, 0.004), "wet");
    };
    CHECK(wet(rows, {}) == Approx(0.28));
    CHECK(wet(rows, {"top"}) == Approx(0.2).epsilon(1e-3));
    CHECK(wet(rows, {"top", "right"}) == Approx(0.14).epsilon(1e-3));
    CHECK(wet(rows + board, {"left"}) == Approx(0.14).epsilon(1e-3));
    CHECK_THROWS_WITH(outline_from_csv(rows, "l.csv", {}, face_names()),
                      "l.csv: seals: cover the whole outline, so nothing can get in; leave a "
                      "stretch wet");
    CHECK_THROWS_WITH(outline_from_csv("part,kind,x [mm],y [mm]\nc,outline,0,0\nc,outline,80,0\n"
                                       "c,outline,0,60\n",
                                       "l.csv", {}, {"right"}),
                      "--seal: right: no stretch of this outline faces that way; leave it out, or "
                      "draw what is sealed as a part of the kind sealed");
}
