// SPDX-License-Identifier: MIT
/// What a shaky hand leaves in a drawn ring, put right without moving a line far. Used by
/// checked(), which refuses what is still wrong afterwards.
#pragma once

#include "geometry/ring.hpp"

namespace tidemark::geometry {

constexpr double farthest_mend = 0.5e-3; ///< [m] no line is moved farther than this

/// How far the lines of a ring have moved at most [m], and where.
struct Shift {
    double distance = 0;
    Point place{0, 0};
};
/// Within an outline, a line that has become part of the outline has moved as far as to there.
Shift shift(const Ring& before, const Ring& after, const Ring& outline = {});

/// The same points in an order in which the ring does not cross itself: two stretches that cross
/// are joined the other way round, which keeps a figure of eight as one part with a waist. A point
/// where the ring touches itself is taken back by a fifth of farthest_mend. Comes back unfinished
/// where a line would move too far.
Ring untangled(Ring ring);

/// The ring without zigzags much smaller than a cell, if it has any; no line moves by more than a
/// fifth of farthest_mend.
Ring thinned(const Ring& ring);

/// The region with its points on the outline where it strays from it by as much as it reaches out
/// of it anywhere; the outline gets those points, too. As it came if it reaches out by more than
/// farthest_mend.
Ring drawn_in(const Ring& region, Ring& outline);

/// The largest part of the ring that keeps `clearance` [m] from another: within that one or
/// outside.
Ring kept_within(const Ring& ring, const Ring& other, double clearance);
Ring kept_off(const Ring& ring, const Ring& other, double clearance);

} // namespace tidemark::geometry
