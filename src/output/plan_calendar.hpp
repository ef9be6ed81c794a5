// SPDX-License-Identifier: MIT
/// The dates of a schedule: what to do by hand, and the last safe day.
#pragma once

#include "cure/outcome.hpp"
#include "output/calendar.hpp"

#include <vector>

namespace tidemark::output {

/// One entry for each thing to do, in order of time.
std::vector<CalendarEntry> plan_entries(const cure::Outcome& result);

} // namespace tidemark::output
