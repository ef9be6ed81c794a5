// SPDX-License-Identifier: MIT
/// A schedule out of the options: the case, the needles, the stages and the start.
#pragma once

#include "base/calendar.hpp"
#include "cli/case_from_options.hpp"
#include "cure/plan.hpp"

#include <optional>

namespace tidemark::cli {

struct AskedPlan {
    cure::Plan plan;
    std::vector<std::string> warnings;
};

/// Throws InputError. Without a stage in the options `plan.stages` is empty.
AskedPlan plan_from_options(const Options& options, base::Records& records);

/// What --pump and the flags of the needles say; none without --pump.
std::optional<cure::Pump> pump_from_options(const Options& options, base::Records& records);

} // namespace tidemark::cli
