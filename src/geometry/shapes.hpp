// SPDX-License-Identifier: MIT
/// Parametric sections and outlines from a file. Shapes stand for cuts of their kind, not for the
/// cut on the table: when the thickness varies much along the piece, draw the thickest slice.
/// Proportions not given are judgements of this project (no source) and meant to be overridden.
#pragma once

#include "geometry/section.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::geometry {

/// Dimensions of a parametric section [m]. Zero means "not given": each shape fills in what it can
/// and refuses what it cannot. All shapes lie with the middle of their extents at the origin.
struct Dimensions {
    double thickness = 0; ///< [m] top to bottom with the fat cap, 2 mm to 600 mm
    double width = 0;     ///< [m] at least the thickness, at most 3 m
    double fat_cap = 0;   ///< [m] depth of the fat on the top face, 1/200 to 1/3 of the thickness
    std::optional<int> bones = {}; ///< none: as many as the shape usually has
    double bone_diameter = 0;      ///< [m] the larger one if the bone is oval
    double bone_depth = 0; ///< [m] bone centre to the bottom face, at most half the thickness
    /// Any of top, bottom, left, right. A side is the stretch of the outline whose outward normal
    /// points more that way than any other: one face of a block, about a quarter of a curved
    /// outline (up to where it slopes at 45 degrees).
    std::vector<std::string> sealed = {};
    /// Faces, named alike, that are wet here but may be shut later on the same mesh: the outline is
    /// cut at their borders and the mesh is as fine there as where wet meets sealed.
    std::vector<std::string> faces = {};
    bool operator==(const Dimensions&) const = default;
};

// The four shapes share these rules. A fat cap on a curved outline covers its top from 18
// degrees of the curve's angle to 162 (somewhat below the shoulders), `fat_cap` deep along the
// normal in the middle and tapering to nothing at both ends, where it meets the outline at 20
// degrees or more. All throw base::InputError headed by `where`, also for what checked() refuses.

/// Long round in cross-section: a disc of diameter `thickness` [m], or an ellipse when the width
/// differs. At most one round bone, 0.16 of the thickness wide and in the centre unless given. 960
/// points: area within 1e-5 of the curve's, chord error below 3e-6 of the diameter.
Section disc(const Dimensions& d, const std::string& where);
/// Rectangle width x thickness [m] with sharp corners, width required; the fat cap is a strip along
/// the whole top. Ribs as in a loin, spread over the whole width.
Section block(const Dimensions& d, const std::string& where);
/// Loin [m], cut lengthwise beside the spine: |x/a|^2.6 + |y/b|^2.6 = 1 with 360 points, width 1.6
/// of the thickness unless given. The ribs are a row of `bones` ovals near the bottom face, 12 mm
/// wide unless given, 1.2 times as wide as tall, with 5 mm of lean below unless the depth is given,
/// spread over the middle 70 % of the width.
Section loin(const Dimensions& d, const std::string& where);
/// Ham [m]: an egg with its blunt end to the left, 360 points, width 1.35 of the thickness unless
/// given, area that of the ellipse. One round bone unless 0 are given, 0.16 of the thickness wide
/// unless given, under the thickest place and 0.42 of the thickness above the bottom unless given.
Section ham(const Dimensions& d, const std::string& where);

constexpr std::size_t longest_outline = 256 << 10; ///< [bytes] of a table that is read

/// Outline and regions [m] from CSV text. The first line is `part,kind,x [mm],y [mm]`, the unit mm,
/// cm or in; then one row per point. Kinds: outline (exactly one part), lean, fat, bone, sealed.
/// Points of one part follow each other in order around it, either way round. Blank lines and lines
/// that begin with # are passed over. `faces` and `sealed` as in Dimensions, a waver or a dent
/// going with the face around it. Throws base::InputError headed by FILE:LINE, or by FILE for what
/// checked() refuses.
Section outline_from_csv(const std::string& text, const std::string& file_name,
                         std::vector<std::string> faces = {},
                         const std::vector<std::string>& sealed = {});

} // namespace tidemark::geometry
