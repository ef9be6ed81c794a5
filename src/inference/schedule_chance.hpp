// SPDX-License-Identifier: MIT
/// The chance that a piece comes out of a schedule right when the schedule is kept by the calendar,
/// and how long its last dosing stage is best made. Fitted to a few dozen runs on coarse cells; its
/// own error comes with it. Not a safety rule.
#pragma once

#include "cure/outcome.hpp"
#include "inference/chance.hpp"
#include "inference/schedule_range.hpp"

namespace tidemark::inference {

struct ScheduleChance {
    std::size_t stage = 0; ///< the one whose end is asked for: the last cover, rub or bag
    /// Days are the end of that stage; the stages behind it keep their lengths.
    BestDay best;
    DayChance as_planned;     ///< with every stage as long as in the schedule's own run
    judge::Findings findings; ///< of waiting to the best day, where that is later than planned
    int runs = 0;
    double error = 0; ///< of the core's nitrite over its target, relative, on runs not fitted [1]
};

/// The last cover, rub or bag; the first stage where there is none.
std::size_t last_dosing(const cure::Question& question);

/// Of a schedule that was run: what it waited for becomes the days it took. `records` as they were
/// given to run(), `inputs` as of case_inputs() or with what slices have taught. Deterministic.
/// Throws base::RunError where a cooler has a log.
ScheduleChance schedule_chance(const cure::Outcome& result, const base::Records& records,
                               const Inputs& inputs, const Ask& ask);

} // namespace tidemark::inference
