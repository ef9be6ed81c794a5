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

/// When the last thing is done by hand [s from the start].
double last_step_at(const std::vector<CalendarEntry>& entries);

} // namespace tidemark::output
