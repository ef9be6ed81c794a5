// SPDX-License-Identifier: MIT
/// What a slice through the piece shows, as a cook reads it.
///
/// Read on two lines: upright through the spot that cures last, and level at mid-height. Depths
/// begin at the face, or under fat where the lean begins, for fat does not turn pink; a bone on a
/// line is passed over, its width counting. A piece pink along the whole line has rings that meet
/// at the line's last spot. Colour only: it tells nothing of safety.
#pragma once

#include "inference/looks.hpp"

#include <Eigen/Core>

#include <array>
#include <optional>

namespace tidemark::inference {

struct Slice {
    double time = 0; ///< [s] from the start of the cure
    /// From that face to where the pink ends [m].
    std::optional<double> top = {}, bottom = {}, left = {}, right = {};
    std::optional<double> every = {}; ///< [m] one reading, told for all faces
    std::optional<double> core_height = {}, core_width = {}; ///< [m] of the grey core
    bool through = false;                                    ///< no grey is seen
    // How readings go wrong; the records of models/uncertainty.ini by with_errors().
    double error = 2.5e-3;     ///< [m] standard deviation of a ring
    double shared = 0.25;      ///< of its square, what all readings of one slice have in common [1]
    double width_error = 6e-3; ///< [m] of a core's width besides, sides being no straight walls
    double slips = 0.02;       ///< share of readings that are slips [1]
    Findings found = {};       ///< by looks besides the rings

    bool operator==(const Slice&) const = default;
};

/// The slice with the errors of the records.
Slice with_errors(Slice slice, const base::Records& records);

/// Logarithm of the likelihood of the ring and the core [log of 1/m for each reading]: normal in
/// each reading that both slices have, with a share of slips ten times as far off. Where the eye
/// sets the edge of the pink deeper, it does so in every ring, and makes the core smaller by two:
/// that part is shared. "Pink through" is a core too small to be seen. `every` counts as one
/// reading, the mean over the faces.
double log_likelihood(const Slice& seen, const Slice& predicted);

/// A slice as a cook reads it: with the readings and looks that `like` has, errors of reading out
/// of as many standard uniforms [1] as `uniforms_of_reading`, and no length below zero.
Slice read(const Slice& shown, const Slice& like, const LookErrors& errors,
           const Eigen::VectorXd& uniforms);
constexpr int uniforms_of_reading = 7 + static_cast<int>(look_count);

/// Mean depth of the rings that `seen` has, as `shown` has them [m].
std::optional<double> ring(const Slice& shown, const Slice& seen);

} // namespace tidemark::inference
