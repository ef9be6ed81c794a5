// SPDX-License-Identifier: MIT
#include "cure/rib_block.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::cure {
namespace {

using base::InputError;
using base::show_length;

constexpr double usual = 12e-3, oval = 1.2; ///< [m] wide; width over height
constexpr double below = 5e-3;              ///< [m] of lean under a rib, where there is room
constexpr double gap = 5e-3;                ///< lean left beside a bone, share of the thickness
constexpr int points = 72;

geometry::Ring ellipse(double x, double y, double width, double height) {
    geometry::Ring ring;
    for (int k = 0; k < points; ++k) {
        const double angle = 2 * std::numbers::pi * k / points;
        ring.emplace_back(x + width / 2 * std::cos(angle), y + height / 2 * std::sin(angle));
    }
    return ring;
}

} // namespace

geometry::Section rib_block(const geometry::Dimensions& given, const std::string& where) {
    const int bones = given.bones.value_or(0);
    if (bones == 0)
        return geometry::block(given, where);
    geometry::Dimensions d = given;
    d.bones.reset();
    d.bone_diameter = d.bone_depth = 0;
    geometry::Section section = geometry::block(d, where);
    const double width = given.bone_diameter > 0 ? given.bone_diameter : usual,
                 height = width / oval, between = gap * d.thickness, least = height / 2 + between,
                 most = d.thickness / 2;
    const double depth =
        given.bone_depth > 0 ? given.bone_depth : std::min(height / 2 + below, most);
    if (depth < least || depth > most)
        throw InputError(where, "bone depth " + show_length(depth),
                         "the centre of this bone lies from " + show_length(least) + " to " +
                             show_length(most) + " under the face",
                         "give a depth in this range, or a smaller bone diameter");
    const double share = d.width / bones;
    if (share < width + between)
        throw InputError(
            where, std::to_string(bones) + " bones",
            "each " + show_length(width) + " wide, do not fit side by side in a piece " +
                show_length(d.width) + " wide",
            "give at most " + std::to_string(static_cast<int>(d.width / (width + between))) +
                ", a smaller bone diameter or a greater width");
    for (int k = 0; k < bones; ++k)
        section.regions.push_back(
            {"rib " + std::to_string(k + 1), "bone",
             ellipse((k + 0.5) * share - d.width / 2, depth - d.thickness / 2, width, height)});
    return geometry::checked(std::move(section), where);
}

} // namespace tidemark::cure
