// SPDX-License-Identifier: MIT
/// What is worked out of one question, whatever command asks it: the outcome, how sure it is, and
/// what to change. Which way the chances are found follows from the question alone.
#pragma once

#include "inference/bucket_chance.hpp"
#include "inference/change.hpp"
#include "inference/schedule_chance.hpp"
#include "inference/schedule_range.hpp"
#include "inference/why.hpp"

#include <optional>
#include <vector>

namespace tidemark::inference {

struct Answer {
    cure::Outcome outcome;                       ///< its findings those of the days advised too
    std::optional<Ranges> ranges;                ///< of one piece in a brine without an end
    Changes changes;                             ///< of any question
    std::optional<ScheduleChance> chance;        ///< of one piece in any other schedule
    std::optional<ScheduleRange> schedule_range; ///< the same
    std::vector<BestDay> chances;                ///< of several pieces, in their order
    std::optional<Still> still; ///< of a piece that was looked at; `ranges` are then its own
};

/// How much is wanted.
struct Wanted {
    Ask ask;                     ///< without draws: the outcome alone
    bool changes = true;         ///< look for the smallest change
    bool schedule_range = false; ///< how the days of a schedule vary
    bool at_best = false;        ///< read the piece on its best day, where no day was asked for
    std::optional<Slice> seen;   ///< by a look at a piece that stays in its brine
};

/// Runs the question and works out what is wanted. Throws as cure::run().
Answer answer(const cure::Question& question, const base::Records& records,
              const InputsOf& inputs_of, const Wanted& wanted, const cure::Progress& progress = {});

} // namespace tidemark::inference
