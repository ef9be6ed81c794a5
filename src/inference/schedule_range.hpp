// SPDX-License-Identifier: MIT
/// How sure the days of a schedule are: the same spread inputs as for the days of a brine, carried
/// through stages by a response surface fitted to a few dozen runs on coarse cells. Rougher than
/// ranges.hpp, which knows how one stage scales; its own error comes with it. Not a safety rule.
#pragma once

#include "cure/outcome.hpp"
#include "inference/case_inputs.hpp"
#include "inference/ranges.hpp"

#include <Eigen/Core>

#include <cstddef>
#include <functional>

namespace tidemark::inference {

struct ScheduleRange {
    int draws = 0, runs = 0;
    DayRange cured;          ///< the core has its target [s]; never: not within the schedule
    DayRange ready;          ///< the last stage ends [s]; never: what it waits for does not come
    double chance_cured = 0; ///< at the end [1]
    double salt_low = 0, salt_half = 0,
           salt_high = 0; ///< 5, 50, 95 % of the mean salt at the end [kg/kg]
    /// Of the surface, relative: root mean square on runs it was not fitted to [1]. Where some cuts
    /// never cure the ends are worse than that, beside ranges.hpp: the late one 7 % early on an 80
    /// mm sheet; on one of 100 mm the early one 11 %, and the one in twenty that never cures is
    /// missed.
    double error = 0;
};

/// Ranges of a schedule that was run, by `draws` quasi-random draws. `records` as they were given
/// to run(), `inputs` as of case_inputs() or with what slices have taught. Deterministic.
ScheduleRange schedule_range(const cure::Outcome& result, const base::Records& records,
                             const Inputs& inputs, int draws);

/// The inputs of a schedule's case, with nitrite's if any goes in by whatever way, and with what
/// its rubs, bags and needles bring. `records` as they were given to run().
Inputs schedule_inputs(const cure::Outcome& result, const base::Records& records,
                       const InputsOf& inputs_of);

// Shared with schedule_chance.hpp.

/// What a schedule's outcome turns on, as logarithms of factors [1]: the loss beside its clock,
/// what colour needs of what is brought, the clock, salt's clock over nitrite's, partition, salt,
/// nitrite, dose. The first three are those that one stage's day of colour turns on alone
/// (similar.hpp).
Eigen::VectorXd coordinates(const Draw& draw);
/// Whether the question's brine is used, so that how it was measured out matters.
bool in_base_brine(const cure::Question& plan);

/// The schedule with one draw's numbers in it, on coarse cells; `setup` and `records` with the
/// case's overrides, `target` [kg/kg] of the colour, 0 without nitrite. Part of schedule_range(),
/// apart for the tests, which run it.
cure::Question with_draw(const cure::Question& plan, const Draw& draw, const cure::Setup& setup,
                         const base::Records& records, double target);

} // namespace tidemark::inference
