// SPDX-License-Identifier: MIT
/// The ways of curing side by side, by the chance of each on its best day, and the one to take.
#pragma once

#include "cure/choose.hpp"
#include "inference/schedule_chance.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::inference {

/// One way on its best day.
struct Way {
    std::optional<ScheduleChance> chance; ///< none: ruled out before, or not worked out
    std::optional<double> ready;          ///< [s] with the stages behind the cure
    std::string schedule;                 ///< as flags of `plan`, kept to that day
    std::string ruled_out;                ///< the reason; empty: it can be done
};

struct Ways {
    std::vector<Way> list;           ///< in the order of the choice's methods
    std::optional<std::size_t> best; ///< the soonest ready of those that are sure, else the surest
    std::string reason;              ///< why none can be taken
};

/// Each way that can be done is run again as it is kept, to its best day, or to the best that is in
/// time for the date wanted. Where none is sure, cut_in_two() joins the choice's methods, if it can
/// be done. `inputs_of` a method's result: as schedule_inputs() or with what slices have taught.
Ways ways_of(cure::Choice& choice, const base::Records& records,
             const std::function<Inputs(const cure::Outcome&)>& inputs_of, const Ask& ask,
             const cure::Progress& progress = {});

} // namespace tidemark::inference
