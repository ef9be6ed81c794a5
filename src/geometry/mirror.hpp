// SPDX-License-Identifier: MIT
/// Sections whose halves are mirror images: one half is meshed, the other is its image, and images
/// of one node can share an unknown.
#pragma once

#include "geometry/mesh.hpp"

#include <optional>

namespace tidemark::geometry {

/// The half right of the middle, or above it, of a checked section that is its own image there to
/// 1e-7 of its thickness: outline, regions, and what is sealed. None for others, and where a face
/// may be shut whose image may not.
std::optional<Section> half_of(const Section& section);

/// A mesh of the half with its image added; of a refined half, the nodes of the `coarse` mesh keep
/// their numbers.
Mesh with_image(Mesh half, const Mirror& mirror, const Mesh* coarse = nullptr);

} // namespace tidemark::geometry
