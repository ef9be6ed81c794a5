// SPDX-License-Identifier: MIT
/// The methods side by side as one screen of text, or as one JSON object.
#pragma once

#include "cure/choose.hpp"
#include "inference/schedule_range.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::output {

/// How sure each method's days are, in the order of the methods; may be empty.
using MethodRanges = std::vector<inference::ScheduleRange>;

/// The screen, lines of at most 80 characters. `start` turns days into dates; `ready_by` is the
/// date asked for, shown as the last day to begin.
std::string choose_report(const cure::Choice& choice, const MethodRanges& ranges,
                          std::optional<std::chrono::local_seconds> start,
                          std::optional<std::chrono::local_seconds> ready_by);

/// The object as text, two spaces deep; units stand in the names of the members.
std::string choose_json(const cure::Choice& choice, const MethodRanges& ranges);

} // namespace tidemark::output
