// SPDX-License-Identifier: MIT
/// Lets rings that run along an outline share its points exactly, so that a mesher sees one wall
/// and not two that nearly meet. For rings already simple and counter-clockwise; used by checked().
#pragma once

#include "geometry/ring.hpp"

#include <optional>

namespace tidemark::geometry {

/// Index of the ring's point after point `i`, round the end.
inline std::size_t after(std::size_t i, const Ring& ring) {
    return i + 1 < ring.size() ? i + 1 : 0;
}

/// Takes out every point nearer than `reach` [m] to the one before it.
void drop_duplicates(Ring& ring, double reach);

/// Takes out every point where the ring turns straight back on itself, no farther than `reach` [m].
void drop_spikes(Ring& ring, double reach);

/// The point of the outline nearest to `p`: a point it has within `reach` [m] of the nearest place,
/// or else one put in there. Nothing if the outline is farther than `reach` from `p`.
std::optional<Point> join(Ring& outline, const Point& p, double reach);

/// Puts the region's points within `reach` [m] of the outline onto it with join(), and points of
/// the outline that its stretches pass as near into those. Where the outline between two of them
/// stays within `reach` of the straight line, the region follows it point for point. Where it lies
/// on the outline both ways, as in the tip of a taper, it is taken back.
void share(Ring& outline, Ring& region, double reach);

} // namespace tidemark::geometry
