// SPDX-License-Identifier: MIT
/// The dates of an answer: what to do by hand and when, by the days advised. Times that were worked
/// out are whole hours from the start; those that the cook gave stay.
#pragma once

#include "inference/answer.hpp"
#include "output/calendar.hpp"

#include <vector>

namespace tidemark::output {

/// One entry for each thing to do, in order of time.
std::vector<CalendarEntry> plan_entries(const inference::Answer& answer);

/// What the change told makes of a date asked for, as a sentence; empty without a change or a date.
std::string change_dates(const inference::Answer& answer);

/// What goes on the meat in a dry stage, in grams of salt and of a premix of the strengths in
/// `premix`, for a piece of `weight` [kg], or on each kg of meat where that is 0.
std::string dry_load(const cure::Stage& stage, const cure::Brine& premix, double weight,
                     int pieces);

/// When the last thing is done by hand [s from the start].
double last_step_at(const std::vector<CalendarEntry>& entries);

} // namespace tidemark::output
