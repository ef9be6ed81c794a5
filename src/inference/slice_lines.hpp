// SPDX-License-Identifier: MIT
/// The two lines on which a slice is read, as spots between the nodes of a section's cells.
#pragma once

#include "cure/grid.hpp"
#include "geometry/ring.hpp"
#include "inference/slice.hpp"

#include <Eigen/Core>

#include <array>
#include <utility>
#include <vector>

namespace tidemark::inference {

/// A spot between nodes of the cells.
struct Spot {
    double at = 0; ///< [m] along the line
    std::array<int, 3> nodes{};
    std::array<double, 3> weights{};
};

/// Spots of lean along both lines, the ends of the lean among them.
class SliceLines {
public:
    /// `x` [m]: where the upright line stands. `half`: the line runs from the centre of a round.
    SliceLines(const cure::Grid& grid, bool half, double x);

    Eigen::Index count() const {
        return static_cast<Eigen::Index>(upright_.size() + level_.size());
    }
    /// At the spots, those of the upright line first, of values at the nodes.
    Eigen::VectorXd at_spots(const Eigen::VectorXd& nodal) const;
    /// Rings and core where a value at the spots is below zero, lengths times `size` [1]. A sheet
    /// has no left, right and width; a round and a ball have one depth on all faces.
    Slice read(const Eigen::VectorXd& profile, double size) const;
    /// Where the pink was seen to end, as strokes `arm` [m] to both sides across the lines, in the
    /// coordinates of cure::picture() [m]. A core's size has no place of its own and is put beyond
    /// the ring on its line, or about the middle.
    std::vector<std::array<geometry::Point, 2>> strokes(const Slice& seen, double arm) const;

private:
    bool half_ = false;
    double x_ = 0, y_ = 0;   ///< [m] of the upright and of the level line
    double line_middle_ = 0; ///< [m] of a sheet, which the picture has at 0
    std::vector<Spot> upright_, level_;
};

} // namespace tidemark::inference
