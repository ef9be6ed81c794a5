// SPDX-License-Identifier: MIT
/// A schedule that was run as one screen of text, or as one JSON object.
#pragma once

#include "cure/plan.hpp"
#include "inference/schedule_chance.hpp"
#include "inference/schedule_range.hpp"

#include <optional>
#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters, the chance of the schedule first. `more`: with the
/// ranges, the section at the end, and the plane across the needles at its picture's time.
std::string plan_report(const cure::PlanResult& result,
                        const std::optional<inference::ScheduleRange>& range,
                        const std::optional<inference::ScheduleChance>& chance, bool more,
                        const cure::Picture& section, const std::optional<cure::Picture>& across);

/// The object as text, two spaces deep; units stand in the names of the members.
std::string plan_json(const cure::PlanResult& result,
                      const std::optional<inference::ScheduleRange>& range,
                      const std::optional<inference::ScheduleChance>& chance = {});

/// A stage in the cook's words: "brine", "fresh brine", "rub", "rest".
std::string stage_name(const cure::Stage& stage);

} // namespace tidemark::output
