// SPDX-License-Identifier: MIT
/// What a slice through the piece shows, and what the model says it would show.
///
/// Read on two lines: upright through the spot that cures last, and level at mid-height. Depths
/// begin at the face, or under fat where the lean begins, for fat does not turn pink; a bone on a
/// line is passed over, its width counting. A piece pink along the whole line has rings that meet
/// at the line's last spot. Colour only: it tells nothing of safety. Not for cures without nitrite,
/// or for a cooler with a log.
#pragma once

#include "cure/outcome.hpp"
#include "inference/case_inputs.hpp"
#include "inference/looks.hpp"

#include <Eigen/Core>

#include <array>
#include <memory>
#include <optional>
#include <vector>

namespace tidemark::inference {

struct Slice {
    double time = 0; ///< [s] in the brine
    /// From that face to where the pink ends [m].
    std::optional<double> top = {}, bottom = {}, left = {}, right = {};
    std::optional<double> every = {}; ///< [m] one reading, told for all faces
    std::optional<double> core_height = {}, core_width = {}; ///< [m] of the grey core
    bool through = false;                                    ///< no grey is seen
    double error = 2.5e-3; ///< [m] standard deviation of a reading (record uncertainty.slice)
    double slips = 0.02;   ///< share of readings that are slips [1] (record uncertainty.slip)
    Findings found = {};   ///< by looks besides the ring

    bool operator==(const Slice&) const = default;
};

/// How far a table goes either way, as factors on the solved case's three numbers
/// of surface.hpp [1].
/// What lies beyond is read at the edge: with a 40th of the loss there is as good as none, and with
/// 40 times it the ring is a skin.
struct SliceReach {
    double loss = 40, bath = 2.5, film = 4;
};

/// Slices of all cases similar to one solved case, as surface.hpp explains, read off a table.
class SliceModel {
public:
    /// Solves some ten or thirty similar cases. Keeps the prediction's fields alive. Throws
    /// base::InputError for a brine without nitrite, base::RunError for a cooler with a log.
    explicit SliceModel(const cure::Outcome& prediction, const SliceReach& reach = {});
    ~SliceModel();
    SliceModel(SliceModel&&) noexcept;

    /// What a draw's slice shows after `time` [s], without errors of reading; microseconds. A sheet
    /// has no left, right and width; a round and a ball have one depth on all faces. Before the
    /// first and after the last time of the table it shows what these do.
    Slice operator()(const Draw& draw, double time) const;

    /// Where the pink was seen to end, as strokes across the two lines, in the coordinates of
    /// cure::picture() [m]; for a picture beside the prediction. A core's size has no place of its
    /// own and is put beyond the ring on its line, or about the middle.
    std::vector<std::array<geometry::Point, 2>> strokes(const Slice& seen) const;

    /// When the last spot turns pink [s]; infinite if not by `horizon` [s].
    double through_time(const Draw& draw, double horizon) const;

private:
    struct Table;
    std::unique_ptr<const Table> table_;
};

/// Logarithm of the likelihood of the ring and the core [log of 1/m for each reading]: normal in
/// each reading that both slices have, with a share of slips ten times as far off. "Pink through"
/// is a core too small to be seen. `every` counts as one reading, the mean over the faces.
double log_likelihood(const Slice& seen, const Slice& predicted);

} // namespace tidemark::inference
