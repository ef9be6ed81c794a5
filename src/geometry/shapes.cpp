// SPDX-License-Identifier: MIT
/// Parametric sections: curves in closed form, a fat cap as an offset of the outline, bones as
/// ovals.
#include "geometry/shapes.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/recent.hpp"
#include "base/text.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::geometry {
namespace {

using base::InputError;
using base::show_length;
using std::numbers::pi;

constexpr double exponent = 2.6; // of the loin's superellipse
constexpr double egg = 0.15;     // how far the ham's widest place lies off its middle
constexpr double row = 0.7;      // share of the width that the ribs take up
constexpr double oval = 1.2;     // width over height of a rib
constexpr double gap = 5e-3;     // lean left beside a bone, share of the thickness
constexpr double thinnest_fat = 5e-3, thickest_fat = 1. / 3; // shares of the thickness

/// A closed curve through `points` places of its angle, counter-clockwise from the right.
template <class At> Ring curve(int points, At at) {
    Ring ring;
    for (int k = 0; k < points; ++k) {
        ring.push_back(at(2 * pi * k / points));
    }
    return ring;
}

Ring ellipse(const Point& centre, double width, double height, int points) {
    return curve(points, [&](double angle) {
        return Point(centre.x() + width / 2 * std::cos(angle),
                     centre.y() + height / 2 * std::sin(angle));
    });
}

/// The dimensions with the width filled in from the thickness, unless `aspect` is 0.
Dimensions known(Dimensions d, double aspect, const std::string& where) {
    const std::pair<const char*, double> given[] = {{"thickness", d.thickness},
                                                    {"width", d.width},
                                                    {"fat cap", d.fat_cap},
                                                    {"bones", d.bones.value_or(0)},
                                                    {"bone diameter", d.bone_diameter},
                                                    {"bone depth", d.bone_depth}};
    for (const auto& [name, value] : given) {
        if (!std::isfinite(value) || value < 0) {
            throw InputError(where, name, "must be a number that is not negative",
                             "give a positive size, or leave it out");
        }
    }
    d.bones = d.bones.value_or(0);
    if (d.thickness == 0) {
        throw InputError(where, "thickness", "is missing", "give the thickness of the piece");
    }
    if (d.width == 0) {
        d.width = aspect * d.thickness;
    }
    if (d.width < d.thickness) {
        throw InputError(where, d.width == 0 ? "width" : "width " + show_length(d.width),
                         d.width == 0 ? "is missing"
                                      : "is less than the thickness " + show_length(d.thickness),
                         d.width == 0 ? "give the width of the piece"
                                      : "the thickness is the smaller measure: swap them");
    }
    if (d.bones == 0 && (d.bone_diameter > 0 || d.bone_depth > 0)) {
        throw InputError(where, d.bone_diameter > 0 ? "bone diameter" : "bone depth",
                         "needs a number of bones", "give the number, or leave it out");
    }
    if (d.fat_cap > 0 &&
        (d.fat_cap < thinnest_fat * d.thickness || d.fat_cap > thickest_fat * d.thickness)) {
        throw InputError(where, "fat cap " + show_length(d.fat_cap),
                         "must be from " + show_length(thinnest_fat * d.thickness) + " to " +
                             show_length(thickest_fat * d.thickness) + " on a piece this thick",
                         "measure it again, or draw the piece as an outline");
    }
    return d;
}

void one_bone(const Dimensions& d, const std::string& shape, const std::string& where) {
    if (d.bones > 1) {
        throw InputError(where, std::to_string(*d.bones) + " bones", "a " + shape + " has one bone",
                         "use a loin, or draw the piece as an outline");
    }
}

/// Checks that a bone of the given height lies between the outer face and the middle.
void check_bone(const Dimensions& d, double height, const std::string& where) {
    const double least = height / 2 + gap * d.thickness, most = d.thickness / 2;
    if (least > most) {
        throw InputError(where, "bone diameter " + show_length(d.bone_diameter),
                         "is too large for a piece " + show_length(d.thickness) + " thick",
                         "give a smaller one");
    }
    if (d.bone_depth < least || d.bone_depth > most) {
        throw InputError(where, "bone depth " + show_length(d.bone_depth),
                         "the centre of this bone lies from " + show_length(least) + " to " +
                             show_length(most) + " under the face",
                         "give a depth in this range");
    }
}

/// The bone of a disc or ham, its centre at `x` and `bone_depth` above the lowest point.
Region round_bone(Dimensions d, double x, double depth, const std::string& where) {
    d.bone_diameter = d.bone_diameter > 0 ? d.bone_diameter : 0.16 * d.thickness;
    d.bone_depth = d.bone_depth > 0 ? d.bone_depth : depth;
    check_bone(d, d.bone_diameter, where);
    const Point centre(x, d.bone_depth - d.thickness / 2);
    return {"bone", "bone", ellipse(centre, d.bone_diameter, d.bone_diameter, 96)};
}

/// Ribs in a row over a `share` of the width, centres `bone_depth` from the bottom face: where that
/// is, by the place across the width and the depth, tells `centre`.
template <class Centre>
std::vector<Region> ribs(Dimensions d, double share, const Centre& centre,
                         const std::string& where) {
    d.bone_diameter = d.bone_diameter > 0 ? d.bone_diameter : 12e-3;
    const double height = d.bone_diameter / oval;
    d.bone_depth = d.bone_depth > 0 ? d.bone_depth : std::min(height / 2 + 5e-3, d.thickness / 2);
    check_bone(d, height, where);
    const double pitch = share * d.width / *d.bones, needed = d.bone_diameter + gap * d.thickness;
    if (pitch < needed) {
        const int fit = static_cast<int>(share * d.width / needed);
        throw InputError(
            where, std::to_string(*d.bones) + " bones",
            "each " + show_length(d.bone_diameter) + " wide, do not fit side by side in a piece " +
                show_length(d.width) + " wide",
            "give at most " + std::to_string(fit) + ", a smaller bone diameter or a greater width");
    }
    std::vector<Region> all;
    for (int i = 0; i < *d.bones; ++i) {
        const double x = (i - 0.5 * (*d.bones - 1)) * pitch;
        all.push_back({"rib " + std::to_string(i + 1), "bone",
                       ellipse(centre(x, d.bone_depth), d.bone_diameter, height, 72)});
    }
    return all;
}

/// Fat along the top of a curved outline, between the places at 18 and 162 degrees of its angle
/// (1/20 and 9/20 of its points). It is `thickness` [m] deep along the normal, and at its two ends
/// rises from the outline at 30 degrees (more where there is no room for that), in a sine.
Region fat_cap(const Ring& outline, double thickness) {
    const auto first = outline.begin() + static_cast<std::ptrdiff_t>(outline.size() / 20);
    const auto last = outline.begin() + static_cast<std::ptrdiff_t>(outline.size() * 9 / 20);
    Region fat{"fat cap", "fat", Ring(first, last + 1)};
    // The way back, from the left end to the right. Where the outline's points lie far apart for so
    // thin a cap, one more point near each end keeps the angle there.
    std::vector<Point> way(fat.ring.rbegin(), fat.ring.rend());
    const auto near_end = [&](const Point& end, const Point& next, auto position) {
        const double share = thickness / distance(end, next);
        if (share < 0.5) {
            way.insert(position, Point(std::lerp(end.x(), next.x(), share),
                                       std::lerp(end.y(), next.y(), share)));
        }
    };
    near_end(fat.ring[0], fat.ring[1], way.end() - 1);
    near_end(way[0], way[1], way.begin() + 1);
    double length = 0;
    for (std::size_t i = 1; i < way.size(); ++i) {
        length += distance(way[i - 1], way[i]);
    }
    const double taper = std::min(thickness * pi / 2 / std::tan(pi / 6), length / 4);
    double along = 0;
    for (std::size_t i = 1; i + 1 < way.size(); ++i) {
        const Point &before = way[i - 1], &p = way[i], &next = way[i + 1];
        along += distance(before, p);
        const double depth =
            thickness * std::sin(pi / 2 * std::min(1., std::min(along, length - along) / taper));
        const double tx = next.x() - before.x(), ty = next.y() - before.y(), t = std::hypot(tx, ty);
        const Point inner(p.x() + depth * ty / t, p.y() - depth * tx / t);
        // Where the outline bends too sharply for the offset to follow, the offset makes a loop
        // that comes nearer to the outline than it should: that loop is left out.
        if (std::all_of(outline.begin(), outline.end(), [&](const Point& q) {
                const double dx = q.x() - inner.x(), dy = q.y() - inner.y();
                return dx * dx + dy * dy >= 0.98 * depth * depth;
            })) {
            fat.ring.push_back(inner);
        }
    }
    return fat;
}

/// A box over the stretch of a convex outline that faces `side`: its inner edge runs through the
/// two ends of the stretch, 1e-4 of the thickness inside, and it reaches well beyond the outline.
Seal seal(const Ring& outline, const std::string& side, double thickness,
          const std::string& where) {
    if (std::ranges::find(face_names(), side) == face_names().end()) {
        const std::string meant = base::nearest(side, face_names());
        throw InputError(where, side, "a sealed side is top, bottom, left or right",
                         meant.empty() ? "choose one of these" : "did you mean " + meant + "?");
    }
    const std::size_t n = outline.size();
    const auto faces = [&](std::size_t i) {
        return facing(outline[i % n], outline[(i + 1) % n]) == side;
    };
    std::size_t start = 0;
    while (!(faces(start) && !faces(start + n - 1))) {
        ++start;
    }
    std::size_t end = start;
    while (faces(end)) {
        ++end;
    }
    const Point &a = outline[start], &b = outline[end % n];
    const double length = distance(a, b), far = 10 * thickness + length;
    const double ux = (b.x() - a.x()) / length, uy = (b.y() - a.y()) / length;
    const auto corner = [&](const Point& p, double on, double out) {
        return Point(p.x() + on * ux + out * uy, p.y() + on * uy - out * ux);
    };
    const double in = -1e-4 * thickness;
    return {side,
            {corner(a, -far, in), corner(a, -far, far), corner(b, far, far), corner(b, far, in)}};
}

Section section(const std::string& name, const Dimensions& d, Ring outline,
                std::vector<Region> regions, const std::string& where) {
    Section made{name, std::move(outline), std::move(regions), {}, d.faces, d.thickness, d.width};
    for (const std::string& side : d.sealed) {
        made.seals.push_back(seal(made.outline, side, d.thickness, where));
    }
    // One question asks for a section again and again: the last few are kept.
    struct Kept {
        std::string name, where;
        Dimensions dimensions;
        Section section;
    };
    static base::Recent<Kept, 8> last;
    const auto same = [&](const Kept& k) {
        return k.name == name && k.where == where && k.dimensions == d;
    };
    if (auto known = last.find(same, &Kept::section))
        return *std::move(known);
    Section section = checked(std::move(made), where);
    last.keep({name, where, d, section});
    return section;
}

} // namespace

Section disc(const Dimensions& given, const std::string& where) {
    const Dimensions d = known(given, 1, where);
    one_bone(d, "round", where);
    const Ring outline = ellipse({0, 0}, d.width, d.thickness, 960);
    std::vector<Region> regions;
    if (d.fat_cap > 0) {
        regions.push_back(fat_cap(outline, d.fat_cap));
    }
    if (d.bones > 0) {
        regions.push_back(round_bone(d, 0, d.thickness / 2, where));
    }
    return section("round", d, outline, regions, where);
}

Section block(const Dimensions& given, const std::string& where) {
    const Dimensions d = known(given, 0, where);
    const double x = d.width / 2, y = d.thickness / 2, seam = y - d.fat_cap;
    std::vector<Region> regions;
    if (d.bones > 0) { // over the whole width, each in the middle of its share
        regions = ribs(
            d, 1, [&](double at, double depth) { return Point(at, depth - y); }, where);
    }
    if (d.fat_cap > 0) {
        regions.push_back({"fat cap", "fat", {{-x, seam}, {x, seam}, {x, y}, {-x, y}}});
    }
    return section("block", d, {{-x, -y}, {x, -y}, {x, y}, {-x, y}}, regions, where);
}

Section loin(const Dimensions& given, const std::string& where) {
    const Dimensions d = known(given, 1.6, where);
    const auto power = [](double v) {
        return std::copysign(std::pow(std::abs(v), 2 / exponent), v);
    };
    const Ring outline = curve(360, [&](double angle) {
        return Point(d.width / 2 * power(std::cos(angle)),
                     d.thickness / 2 * power(std::sin(angle)));
    });
    std::vector<Region> regions;
    if (d.bones > 0) {
        // From the foot on the bottom face along the normal there, by |x/a|^n + |y/b|^n = 1.
        const double a = d.width / 2, b = d.thickness / 2;
        const auto centre = [&](double x, double deep) {
            const double y = -b * std::pow(1 - std::pow(std::abs(x) / a, exponent), 1 / exponent);
            const double nx = std::copysign(std::pow(std::abs(x) / a, exponent - 1) / a, x);
            const double ny = -std::pow(-y / b, exponent - 1) / b;
            const double depth = deep / std::hypot(nx, ny);
            return Point(x - depth * nx, y - depth * ny);
        };
        regions = ribs(d, row, centre, where);
    }
    if (d.fat_cap > 0) {
        regions.push_back(fat_cap(outline, d.fat_cap));
    }
    return section("loin", d, outline, regions, where);
}

Section ham(const Dimensions& given, const std::string& where) {
    Dimensions d = given;
    d.bones = d.bones.value_or(1);
    d = known(d, 1.35, where);
    one_bone(d, "ham", where);
    const double a = d.width / 2, b = d.thickness / 2;
    const Ring outline = curve(360, [&](double angle) {
        const double s = std::sin(angle);
        return Point(a * (std::cos(angle) - egg * s * s), b * s);
    });
    std::vector<Region> regions;
    if (d.bones > 0) {
        regions.push_back(round_bone(d, -egg * a, 0.42 * d.thickness, where));
    }
    if (d.fat_cap > 0) {
        regions.push_back(fat_cap(outline, d.fat_cap));
    }
    return section("ham", d, outline, regions, where);
}

} // namespace tidemark::geometry
