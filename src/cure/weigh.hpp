// SPDX-License-Identifier: MIT
/// A case, a bucket or a schedule as the judge sees it: what goes in by which method, the premix,
/// the temperatures. Worked out before anything is solved.
#pragma once

#include "cure/bucket.hpp"
#include "cure/plan_setup.hpp"
#include "judge/judge.hpp"

namespace tidemark::cure {

/// Meat [kg] left in one brine until both are one system; meat of 0 is of unknown weight.
judge::Weighed weigh(const Case& c, const Pickle& pickle, double meat);
/// All methods of a schedule, of the pieces' raw weight.
judge::Weighed weigh(const Plan& plan, const PlanSetup& setup, base::Records& records);

/// The regulator's arithmetic for a brine, as it is shown beside an answer.
Ingoing ingoing_of(const judge::Weighed& weighed, base::Records& records);

/// All that is to be told of a question before it is solved. Throws base::InputError for what the
/// cook wrote.
judge::Findings judged(const Case& question, base::Records records);
judge::Findings judged(const Case& first, const std::vector<OtherPiece>& others,
                       base::Records records);
judge::Findings judged(const Plan& plan, base::Records records);

} // namespace tidemark::cure
