// SPDX-License-Identifier: MIT
/// Checks and areas of a section. Boost.Geometry decides validity, overlap and distance; this file
/// adds the rules of a cut of meat.
#include "geometry/section.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "geometry/mend.hpp"
#include "geometry/shared_outline.hpp"

#include <boost/geometry.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

namespace tidemark::geometry {
namespace {

namespace bg = boost::geometry;
using base::InputError;
using base::show_length;
using Envelope = bg::model::box<Point>;
using Path = bg::model::linestring<Point>;
using Segment = bg::model::segment<Point>;

constexpr double thinnest = 2e-3, thickest = 0.6, widest = 3, farthest = 100; // [m]
constexpr std::size_t most_points = 5000;
// Shares of the thickness:
constexpr double merge = 1e-6;         // points nearer to each other are one point
constexpr double snap = 1e-3;          // a region's point nearer to the outline lies on it
constexpr double gap = 5e-3;           // lean left between two parts, but
constexpr double spare = 1.02;         // of that, so that rounding does not undo it
constexpr double untold = 0.01e-3;     // [m] a shorter way is not worth a note
constexpr double widest_gap = 0.25e-3; // [m] no more than this
constexpr double least_lean = 0.05;    // share of the outline's area

Path closed(const Ring& ring) {
    Path path(ring.begin(), ring.end());
    path.push_back(ring.front());
    return path;
}

/// A place for a message, or nothing.
std::string near(const std::optional<Point>& place) {
    const auto mm = [](double v) { // to a micrometre, and no -0
        return base::significant(std::round(1e6 * v) / 1e3 + 0.0, 4) + " mm";
    };
    return place ? " near x " + mm(place->x()) + ", y " + mm(place->y()) : "";
}

/// Lean that two parts leave between each other [m].
double clearance(const Section& section) {
    return std::min(gap * section.thickness, widest_gap);
}

/// Where the walls of two rings come nearer to each other than `clearance`.
std::optional<Point> close(const Ring& a, const Ring& b, double clearance) {
    for (const auto& [ring, other] : {std::pair{&a, &b}, {&b, &a}}) {
        Envelope reach;
        bg::buffer(bg::return_envelope<Envelope>(*other), reach, clearance);
        const Path wall = closed(*other);
        for (const Point& p : *ring) {
            if (bg::covered_by(p, reach) && bg::distance(p, wall) < clearance) {
                return p;
            }
        }
    }
    std::vector<Point> crossings;
    bg::intersection(closed(a), closed(b), crossings);
    return crossings.empty() ? std::nullopt : std::optional(crossings.front());
}

/// Where two stretches of a ring that do not follow each other meet.
std::optional<Point> crossing(const Ring& ring) {
    const auto stretch = [&](std::size_t i) { return Segment(ring[i], ring[after(i, ring)]); };
    for (std::size_t i = 0; i + 2 < ring.size(); ++i) {
        for (std::size_t j = i + 2; j < ring.size(); ++j) {
            std::vector<Point> found;
            if (after(j, ring) != i) {
                bg::intersection(stretch(i), stretch(j), found);
            }
            if (!found.empty()) {
                return found.front();
            }
        }
    }
    return std::nullopt;
}

/// A point of the region outside the outline, or of the outline within the region.
std::optional<Point> outsider(const Ring& region, const Ring& outline) {
    for (const Point& p : region) {
        if (!bg::covered_by(p, outline)) {
            return p;
        }
    }
    for (const Point& p : outline) {
        if (bg::within(p, region)) {
            return p;
        }
    }
    return std::nullopt;
}

void check_count(const Ring& ring, const std::string& name, const std::string& where) {
    if (ring.size() < 3) {
        throw InputError(where, name,
                         "has " + std::to_string(ring.size()) +
                             (ring.size() == 1 ? " point" : " points"),
                         "give at least 3, in order around it");
    }
}

void check_points(const Ring& ring, const std::string& name, const std::string& where) {
    check_count(ring, name, where);
    if (ring.size() > most_points) {
        throw InputError(where, name,
                         "has " + std::to_string(ring.size()) + " points, more than " +
                             std::to_string(most_points),
                         "thin them out");
    }
    if (std::any_of(ring.begin(), ring.end(), [](const Point& p) {
            return !(std::abs(p.x()) < farthest && std::abs(p.y()) < farthest);
        })) {
        throw InputError(where, name, "has a coordinate that is not a number or lies beyond 100 m",
                         "check the unit");
    }
}

void check_ring(const Ring& ring, const std::string& name, const std::string& where) {
    check_count(ring, name, where);
    bg::validity_failure_type failure{};
    if (!bg::is_valid(ring, failure)) {
        const auto place = crossing(ring);
        throw InputError(where, name,
                         (place ? "crosses or touches itself" : "folds back on itself") +
                             near(place),
                         "put its points in order around it");
    }
}

/// Counter-clockwise, without zigzags, and a simple ring if a small change makes it one.
void simplify(Ring& ring) {
    bg::correct(ring);
    for (int i = 0; i < 2 && !bg::is_valid(ring); ++i) {
        ring = untangled(std::move(ring));
        bg::correct(ring);
    }
}

/// Counter-clockwise, without duplicate points, and a simple ring; mended if it is `drawn`.
void tidy(Ring& ring, double thickness, const std::string& name, const std::string& where,
          bool drawn = true) {
    check_points(ring, name, where);
    drop_duplicates(ring, merge * thickness);
    check_count(ring, name, where);
    Ring mended = ring;
    if (drawn) {
        simplify(mended);
        mended = thinned(mended);
        simplify(mended);
    }
    if (bg::is_valid(mended)) {
        ring = std::move(mended);
    }
    bg::correct(ring);
    check_ring(ring, name, where);
}

/// Fills in the extents that are not given and checks them.
void measure(Section& section, const std::string& where) {
    check_points(section.outline, "outline", where);
    const Box box = bounds(section.outline);
    const auto [least, most] = std::minmax({box.width(), box.height()});
    if (section.thickness == 0) {
        section.thickness = least;
    }
    if (section.width == 0) {
        section.width = most;
    }
    const auto outside = [](double v, double low, double high) { return !(v >= low && v <= high); };
    if (outside(section.thickness, thinnest, thickest)) {
        throw InputError(where, "thickness " + show_length(section.thickness),
                         "a section is from " + show_length(thinnest) + " to " +
                             show_length(thickest) + " thick",
                         "check the unit");
    }
    if (outside(section.width, section.thickness * (1 - merge), widest)) {
        throw InputError(where, "width " + show_length(section.width),
                         "a section is at least as wide as it is thick and at most " +
                             show_length(widest) + " wide",
                         "check the unit, or turn the piece: thickness is the smaller measure");
    }
}

/// The outline gets a point wherever a seal begins or ends.
void mark_seals(Section& section, const std::string& where) {
    for (Seal& seal : section.seals) {
        const std::string name = "seal '" + seal.name + "'";
        tidy(seal.ring, section.thickness, name, where, false);
        std::vector<Point> crossings;
        bg::intersection(closed(section.outline), closed(seal.ring), crossings);
        for (const Point& p : crossings) {
            join(section.outline, p, snap * section.thickness);
        }
        Section alone{"", section.outline, {}, {seal}, {}};
        if (wet_share(alone) == 1) {
            throw InputError(where, name, "covers no part of the outline",
                             "draw it across the stretch that is sealed, or leave it out");
        }
    }
}

/// Takes a mended ring, unless a line would move too far.
void replace(Ring& ring, Ring mended, const Ring& outline) {
    if (mended.size() >= 3 && shift(ring, mended, outline).distance <= farthest_mend) {
        ring = std::move(mended);
    }
}

/// Lets fat or lean follow the outline where it lies along it.
void settle(Section& section, Ring& ring) {
    share(section.outline, ring, snap * section.thickness);
    drop_duplicates(ring, merge * section.thickness);
    simplify(ring);
}

/// Area of a ring that lies outside the outline [m2].
double outside(const Ring& ring, const Ring& outline) {
    std::vector<Ring> inside;
    bg::intersection(ring, outline, inside);
    double area = bg::area(ring);
    for (const Ring& part : inside) {
        area -= bg::area(part);
    }
    return area;
}

void check_region(Section& section, Region& region, const std::string& where) {
    const double out = 1e-6 * section.thickness * section.thickness; // [m2] rounding
    const std::string name = region.kind + " '" + region.name + "'";
    static const std::vector<std::string> kinds{"lean", "fat", "bone"};
    if (std::find(kinds.begin(), kinds.end(), region.kind) == kinds.end()) {
        const std::string meant = base::nearest(region.kind, kinds);
        throw InputError(where, name, "a region is lean, fat or bone",
                         meant.empty() ? "choose one of these" : "did you mean " + meant + "?");
    }
    tidy(region.ring, section.thickness, name, where);
    if (region.kind == "bone") {
        const double room = clearance(section);
        auto place = close(region.ring, section.outline, room);
        if (place) {
            replace(region.ring, kept_within(region.ring, section.outline, spare * room), {});
            place = close(region.ring, section.outline, room);
        }
        if (place || !bg::covered_by(region.ring.front(), section.outline)) {
            throw InputError(where, name,
                             "must lie inside the outline, at least " + show_length(room) +
                                 " from it" + near(place ? place : region.ring.front()),
                             "move it in; for a bone that shows on the outside, draw the outline "
                             "around it and seal that stretch");
        }
        return;
    }
    settle(section, region.ring);
    double strays = outside(region.ring, section.outline);
    if (strays > out) {
        replace(region.ring, drawn_in(region.ring, section.outline), section.outline);
        settle(section, region.ring);
        strays = outside(region.ring, section.outline);
    }
    check_ring(region.ring, name, where);
    if (strays > out) {
        throw InputError(where, name,
                         "reaches outside the outline" +
                             near(outsider(region.ring, section.outline)),
                         "move it in; along a shared stretch use the outline's own points");
    }
}

void check_apart(Section& section, const Region& a, Region& b, const std::string& where) {
    const double room = clearance(section);
    auto place = close(a.ring, b.ring, room);
    if (place) {
        replace(b.ring, kept_off(b.ring, a.ring, spare * room), {});
        if (b.kind != "bone") {
            settle(section, b.ring);
        }
        place = close(a.ring, b.ring, room);
    }
    if (place || bg::covered_by(a.ring.front(), b.ring) || bg::covered_by(b.ring.front(), a.ring)) {
        throw InputError(where, b.kind + " '" + b.name + "'",
                         "overlaps or touches " + a.kind + " '" + a.name + "'" +
                             near(place ? place : b.ring.front()),
                         "leave at least " + show_length(room) + " of lean between them");
    }
}

/// Says what has been moved, and refuses what would have to be moved too far.
void tell(Section& section, const std::string& name, const Ring& drawn, const Ring& ring,
          const Ring& outline, const std::string& where) {
    const Shift moved = shift(drawn, ring, outline);
    if (moved.distance > farthest_mend + snap * section.thickness) {
        throw InputError(where, name,
                         "has a fault that cannot be mended without moving a line by " +
                             show_length(moved.distance) + near(moved.place),
                         "draw that place again");
    }
    if (moved.distance > untold) {
        section.notes.push_back(where + ": " + name + " was moved by up to " +
                                show_length(moved.distance) + near(moved.place) +
                                " to make a drawing that can be cut into cells");
    }
}

void check_faces(const Section& section, const std::string& where) {
    for (const std::string& face : section.faces) {
        if (std::ranges::find(face_names(), face) == face_names().end()) {
            const std::string meant = base::nearest(face, face_names());
            throw InputError(where, face, "a face is top, bottom, left or right",
                             meant.empty() ? "choose one of these" : "did you mean " + meant + "?");
        }
    }
}

} // namespace

Section checked(Section section, const std::string& where) {
    const Section drawn = section;
    measure(section, where);
    tidy(section.outline, section.thickness, "outline", where);
    mark_seals(section, where);
    check_faces(section, where);
    for (auto region = section.regions.begin(); region != section.regions.end(); ++region) {
        check_region(section, *region, where);
        for (auto other = section.regions.begin(); other != region; ++other) {
            check_apart(section, *other, *region, where);
        }
    }
    tell(section, "outline", drawn.outline, section.outline, {}, where);
    for (std::size_t i = 0; i < drawn.regions.size(); ++i) {
        const Region& region = section.regions[i];
        tell(section, region.kind + " '" + region.name + "'", drawn.regions[i].ring, region.ring,
             region.kind == "bone" ? Ring() : section.outline, where);
    }
    if (areas(section).lean < least_lean * bg::area(section.outline)) {
        throw InputError(where, "bone and fat", "fill the section and leave no lean to cure",
                         "make them smaller");
    }
    if (wet_share(section) == 0) {
        throw InputError(where, "seals", "cover the whole outline, so nothing can get in",
                         "leave a stretch wet");
    }
    return section;
}

Areas areas(const Section& section) {
    Areas sum;
    for (const Region& region : section.regions) {
        const double area = bg::area(region.ring);
        sum.fat += region.kind == "fat" ? area : 0;
        sum.bone += region.kind == "bone" ? area : 0;
    }
    sum.total = bg::area(section.outline) - sum.bone;
    sum.lean = sum.total - sum.fat;
    return sum;
}

bool wet(const Section& section, const Point& p) {
    return std::none_of(section.seals.begin(), section.seals.end(),
                        [&](const Seal& seal) { return bg::covered_by(p, seal.ring); });
}

double wet_share(const Section& section) {
    double all = 0, open = 0;
    for (std::size_t i = 0; i < section.outline.size(); ++i) {
        const Segment edge(section.outline[i], section.outline[after(i, section.outline)]);
        const double length = bg::distance(edge.first, edge.second);
        all += length;
        open += wet(section, bg::return_centroid<Point>(edge)) ? length : 0;
    }
    return open / all;
}

} // namespace tidemark::geometry
