// SPDX-License-Identifier: MIT
/// A brick of lean with a fat cap in all three dimensions, by finite volumes on a plain grid, for
/// SUNDIALS CVODE: nothing of the tool's meshes, planes or modes is in it. Quarter of the piece:
/// the middle planes across the width and along the length mirror.
#pragma once

#include "transport/system.hpp"

#include <vector>

namespace tidemark::verification {

struct Brick {
    double thickness = 0, width = 0, length = 0, fat = 0; ///< [m]; the cap is on top
    int across = 0, up = 0, along = 0; ///< cells of half the width, the thickness, half the length
    bool ends = true;                  ///< wet

    /// The system of the whole piece; media: lean, fat. Closed: nothing touches it.
    transport::System system(const transport::Medium& lean, const transport::Medium& fat,
                             const transport::Bath& bath, bool closed = false) const;
    /// Least of the values at lean nodes, by a parabola up through the lowest.
    double least(const Eigen::VectorXd& nodal) const;
    int node(int i, int j, int k) const { return (k * (up + 1) + j) * (across + 1) + i; }
    int nodes() const { return (across + 1) * (up + 1) * (along + 1); }
};

} // namespace tidemark::verification
