// SPDX-License-Identifier: MIT
/// Parametric sections and outlines from a file.
#pragma once

#include "geometry/section.hpp"

#include <string>
#include <vector>

namespace tidemark::geometry {

/// Dimensions of a parametric section, all in metres. Zero means "not given": each shape fills in
/// what it can (width from thickness and so on) and refuses what it cannot.
struct Dimensions {
    double thickness = 0;
    double width = 0;
    double fat_cap = 0; ///< thickness of the fat along the top face
    int bones = 0;
    double bone_diameter = 0;
    double bone_depth = 0;           ///< bone centre to the nearest outer face
    std::vector<std::string> sealed; ///< any of top, bottom, left, right
};

/// Long round in cross-section: a disc of diameter `thickness` (or an ellipse when width differs).
/// At least 720 points, so that the chord error is below 1e-5 of the diameter.
Section disc(const Dimensions& d, const std::string& where);
/// Rectangle width x thickness with sharp corners; fat cap along the top.
Section block(const Dimensions& d, const std::string& where);
/// Loin: rounded section (superellipse of exponent 2.6), fat cap on the top following the outline
/// and tapering to nothing at its two ends, `bones` oval rib bones in a row near the bottom face.
Section loin(const Dimensions& d, const std::string& where);
/// Ham: egg-shaped oval with one round bone off centre and, if asked, a fat cap.
Section ham(const Dimensions& d, const std::string& where);

/// Outline and regions from CSV text. One row per point: `part,kind,x,y` with a header line naming
/// the unit of x and y ("part,kind,x [mm],y [mm]"); kinds: outline, lean, fat, bone, sealed. Points
/// of one part follow each other in order around it. Errors give file:line.
Section outline_from_csv(const std::string& text, const std::string& file_name);

} // namespace tidemark::geometry
