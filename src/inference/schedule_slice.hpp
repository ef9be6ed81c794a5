// SPDX-License-Identifier: MIT
/// What a slice of a piece on its way through a schedule would show, in any draw: fitted to some
/// dozens of runs on coarse cells, kept by the calendar. From the slice on the piece stays in the
/// stage that it was in.
#pragma once

#include "inference/slice_model.hpp"

#include <memory>
#include <vector>

namespace tidemark::inference {

/// The question as it is asked of a slice: every stage as long as it was in the outcome, the one
/// that stands at `time` [s] the last, and as long as anything is looked for.
cure::Question until_slice(const cure::Outcome& outcome, double time);
/// How long that is [s].
double slice_horizon(double time);

struct ScheduleSlices {
    SliceLines lines;
    std::shared_ptr<const Fields> fields;
    double half_thickness = 0; ///< [m]
    /// Of a ring, root mean square over runs it was not fitted to [m].
    double error = 0;
};

/// Fitted to `runs` of the draws to be served, evenly chosen. `question` as of until_slice(),
/// `records` without the case's overrides. Throws base::InputError for a cure without nitrite.
ScheduleSlices schedule_slices(const cure::Question& question, const base::Records& records,
                               const std::vector<Draw>& draws, double time, int runs);

} // namespace tidemark::inference
