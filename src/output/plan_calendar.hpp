// SPDX-License-Identifier: MIT
/// The dates of a schedule: what to do by hand, and the last safe day.
#pragma once

#include "cure/plan.hpp"
#include "output/calendar.hpp"

#include <vector>

namespace tidemark::output {

/// One entry for each thing to do, in order of time.
std::vector<CalendarEntry> plan_entries(const cure::PlanResult& result);

} // namespace tidemark::output
