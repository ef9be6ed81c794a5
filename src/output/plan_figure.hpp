// SPDX-License-Identifier: MIT
/// A schedule as a picture: salt and nitrite through its stages, the section at the end, and the
/// plane across the needles; and the methods of `choose` side by side.
#pragma once

#include "cure/choose.hpp"
#include "cure/picture.hpp"
#include "inference/choose_chance.hpp"
#include "inference/schedule_range.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::output {

/// Draws a schedule with the readings of its `course` to `path`. Throws RunError if gnuplot is not
/// installed or fails.
void draw_plan(const cure::Outcome& result, const std::vector<cure::Reading>& course,
               const std::optional<inference::ScheduleRange>& range, const cure::Picture& section,
               const std::optional<cure::Picture>& across, const std::string& path);

/// Draws the methods as bars along the days, with the days on which each is sure enough.
void draw_choice(const cure::Choice& choice, const inference::Ways& ways, const std::string& path);

} // namespace tidemark::output
