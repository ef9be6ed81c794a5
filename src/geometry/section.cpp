// SPDX-License-Identifier: MIT
/// Checks and areas of a section. Boost.Geometry decides validity, overlap and distance; this file
/// adds the rules of a cut of meat and makes the rings share their points where they share a
/// stretch.
#include "geometry/section.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"

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
constexpr double merge = 1e-6;      // points nearer to each other are one point
constexpr double snap = 1e-3;       // a region's point nearer to the outline lies on it
constexpr double gap = 5e-3;        // lean left between two parts
constexpr double least_lean = 0.01; // share of the outline's area

std::size_t after(std::size_t i, const Ring& ring) {
    return i + 1 < ring.size() ? i + 1 : 0;
}

Path closed(const Ring& ring) {
    Path path(ring.begin(), ring.end());
    path.push_back(ring.front());
    return path;
}

std::string show_point(const Point& p) {
    return "x " + base::significant(1e3 * p.x(), 4) + " mm, y " +
           base::significant(1e3 * p.y(), 4) + " mm";
}

/// Whether the walls of two rings come nearer to each other than `clearance`.
bool close(const Ring& a, const Ring& b, double clearance) {
    Envelope reach;
    bg::buffer(bg::return_envelope<Envelope>(a), reach, clearance);
    const Path wall = closed(a);
    for (std::size_t i = 0; i < b.size(); ++i) {
        const Segment edge(b[i], b[after(i, b)]);
        if (bg::intersects(edge, reach) && bg::distance(edge, wall) < clearance) {
            return true;
        }
    }
    return false;
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

void drop_duplicates(Ring& ring, double reach) {
    const auto same = [&](const Point& a, const Point& b) { return bg::distance(a, b) <= reach; };
    ring.erase(std::unique(ring.begin(), ring.end(), same), ring.end());
    while (ring.size() > 1 && same(ring.front(), ring.back())) {
        ring.pop_back();
    }
}

void check_ring(const Ring& ring, const std::string& name, const std::string& where) {
    check_count(ring, name, where);
    bg::validity_failure_type failure{};
    if (!bg::is_valid(ring, failure)) {
        const auto place = crossing(ring);
        throw InputError(where, name,
                         place ? "crosses or touches itself near " + show_point(*place)
                               : "folds back on itself",
                         "put its points in order around it");
    }
}

/// Counter-clockwise, without duplicate points, and a simple ring.
void tidy(Ring& ring, double thickness, const std::string& name, const std::string& where) {
    check_points(ring, name, where);
    drop_duplicates(ring, merge * thickness);
    bg::correct(ring);
    check_ring(ring, name, where);
}

/// Fills in the extents that are not given and checks them.
void measure(Section& section, const std::string& where) {
    check_points(section.outline, "outline", where);
    const Envelope box = bg::return_envelope<Envelope>(section.outline);
    const auto [least, most] = std::minmax(
        {box.max_corner().x() - box.min_corner().x(), box.max_corner().y() - box.min_corner().y()});
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

/// The point of the outline nearest to `p`, put in as a new point unless one lies within `reach` of
/// it; nothing if the outline is farther than `reach` from `p`.
std::optional<Point> join(Ring& outline, const Point& p, double reach) {
    double least = reach * reach;
    std::optional<Point> foot;
    std::size_t at = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Point &a = outline[i], &b = outline[after(i, outline)];
        const double dx = b.x() - a.x(), dy = b.y() - a.y();
        if (std::abs(p.x() - a.x() - dx / 2) > std::abs(dx) / 2 + reach ||
            std::abs(p.y() - a.y() - dy / 2) > std::abs(dy) / 2 + reach) {
            continue;
        }
        const double share = ((p.x() - a.x()) * dx + (p.y() - a.y()) * dy) / (dx * dx + dy * dy);
        const Point q = share <= 0   ? a
                        : share >= 1 ? b
                                     : Point(a.x() + share * dx, a.y() + share * dy);
        if (const double d = bg::comparable_distance(p, q); d <= least) {
            least = d;
            foot = q;
            at = i;
        }
    }
    if (foot) {
        const Point &a = outline[at], &b = outline[after(at, outline)];
        const Point& end =
            bg::comparable_distance(*foot, a) < bg::comparable_distance(*foot, b) ? a : b;
        if (bg::distance(*foot, end) <= reach) {
            return end;
        }
        outline.insert(outline.begin() + static_cast<std::ptrdiff_t>(at) + 1, *foot);
    }
    return foot;
}

/// Puts the region's points that lie near the outline onto it and lets the region follow the
/// outline point for point between two of them, if the straight line between them would.
void share(Ring& outline, Ring& region, double thickness) {
    const double reach = snap * thickness;
    for (Point& p : region) {
        p = join(outline, p, reach).value_or(p);
    }
    drop_duplicates(region, merge * thickness);
    const auto find = [&](const Point& p) {
        return static_cast<std::size_t>(
            std::find_if(outline.begin(), outline.end(),
                         [&](const Point& q) { return q.x() == p.x() && q.y() == p.y(); }) -
            outline.begin());
    };
    Ring followed;
    for (std::size_t i = 0; i < region.size(); ++i) {
        const Segment straight(region[i], region[after(i, region)]);
        followed.push_back(region[i]);
        const std::size_t from = find(straight.first), to = find(straight.second);
        if (from == outline.size() || to == outline.size()) {
            continue;
        }
        Ring between;
        for (std::size_t k = after(from, outline); k != to; k = after(k, outline)) {
            if (bg::distance(outline[k], straight) > reach) {
                between.clear();
                break;
            }
            between.push_back(outline[k]);
        }
        followed.insert(followed.end(), between.begin(), between.end());
    }
    region = std::move(followed);
}

/// The outline gets a point wherever a seal begins or ends.
void mark_seals(Section& section, const std::string& where) {
    for (Seal& seal : section.seals) {
        const std::string name = "seal '" + seal.name + "'";
        tidy(seal.ring, section.thickness, name, where);
        std::vector<Point> crossings;
        bg::intersection(closed(section.outline), closed(seal.ring), crossings);
        for (const Point& p : crossings) {
            join(section.outline, p, snap * section.thickness);
        }
        Section alone{"", section.outline, {}, {seal}};
        if (wet_share(alone) == 1) {
            throw InputError(where, name, "covers no part of the outline",
                             "draw it across the stretch that is sealed, or leave it out");
        }
    }
}

void check_region(Section& section, Region& region, const std::string& where) {
    const std::string name = region.kind + " '" + region.name + "'";
    static const std::vector<std::string> kinds{"lean", "fat", "bone"};
    if (std::find(kinds.begin(), kinds.end(), region.kind) == kinds.end()) {
        const std::string meant = base::nearest(region.kind, kinds);
        throw InputError(where, name, "a region is lean, fat or bone",
                         meant.empty() ? "choose one of these" : "did you mean " + meant + "?");
    }
    tidy(region.ring, section.thickness, name, where);
    const double clearance = gap * section.thickness;
    if (region.kind == "bone") {
        if (!bg::covered_by(region.ring.front(), section.outline) ||
            close(region.ring, section.outline, clearance)) {
            throw InputError(where, name,
                             "must lie inside the outline, at least " + show_length(clearance) +
                                 " from it",
                             "move it in; for a bone that shows on the outside, draw the outline "
                             "around it and seal that stretch");
        }
        return;
    }
    share(section.outline, region.ring, section.thickness);
    check_ring(region.ring, name, where);
    std::vector<Ring> inside;
    bg::intersection(region.ring, section.outline, inside);
    double area = bg::area(region.ring);
    for (const Ring& part : inside) {
        area -= bg::area(part);
    }
    if (area > 1e-6 * section.thickness * section.thickness) {
        throw InputError(where, name, "reaches outside the outline",
                         "move it in, or draw the outline around it");
    }
}

void check_apart(const Section& section, const Region& a, const Region& b,
                 const std::string& where) {
    const double clearance = gap * section.thickness;
    if (close(a.ring, b.ring, clearance) || bg::covered_by(a.ring.front(), b.ring) ||
        bg::covered_by(b.ring.front(), a.ring)) {
        throw InputError(where, b.kind + " '" + b.name + "'",
                         "overlaps or touches " + a.kind + " '" + a.name + "'",
                         "leave at least " + show_length(clearance) + " of lean between them");
    }
}

} // namespace

Section checked(Section section, const std::string& where) {
    measure(section, where);
    tidy(section.outline, section.thickness, "outline", where);
    mark_seals(section, where);
    for (auto region = section.regions.begin(); region != section.regions.end(); ++region) {
        check_region(section, *region, where);
        for (auto other = section.regions.begin(); other != region; ++other) {
            check_apart(section, *other, *region, where);
        }
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
