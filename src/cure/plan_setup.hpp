// SPDX-License-Identifier: MIT
/// A schedule in coefficients: every stage's tissues, baths and loads, and what the needles put in.
#pragma once

#include "cure/track.hpp"

#include <memory>
#include <optional>
#include <vector>

namespace tidemark::cure {

struct PlanSetup {
    std::vector<StageSetup> stages;
    std::optional<Setup>
        across; ///< the plane across the needles, its tissues as of the first stage
    std::optional<Pickle> pumped; ///< the needles' brine
    geometry::Needles needles;    ///< as they stand in this piece
    double lean_gain = 0;         ///< brine put into the lean over its raw weight [1]
    bool nitrite = false;
};

/// Works out the coefficients; the case's overrides are applied to `records`. Throws
/// base::InputError headed by the stage or flag at fault.
PlanSetup make_plan_setup(const Plan& plan, base::Records& records);

/// check_shared_out() for every brine and soak water of a schedule.
void check_shared_out(const PlanSetup& setup);

/// A grid of the section (or of the plane across the needles) filled with what the needles put in.
void inject(Grid& grid, const PlanSetup& setup, bool across);

} // namespace tidemark::cure
