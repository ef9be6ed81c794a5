// SPDX-License-Identifier: MIT
/// The regulator's arithmetic of a schedule, and what its cook must be told.
#pragma once

#include "cure/plan.hpp"
#include "cure/plan_setup.hpp"

namespace tidemark::cure {

/// Fills doses, amounts used, hands, hazards, warnings and cautions of a schedule that was run.
void advise(PlanResult& result, const PlanSetup& setup, base::Records& records);

} // namespace tidemark::cure
