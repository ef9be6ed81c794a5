// SPDX-License-Identifier: MIT
/// A question as the judge sees it: what goes in by which method, the premix, the temperatures.
/// Worked out before anything is solved.
#pragma once

#include "cure/coefficients.hpp"
#include "judge/judge.hpp"

namespace tidemark::cure {

/// All methods of a question, of the pieces' raw weight; brines until both are one system.
judge::Weighed weigh(const Question& question, const Coefficients& c, base::Records& records);

/// All that is to be told of a question before it is solved. Throws base::InputError for what the
/// cook wrote.
judge::Findings judged(const Question& question, base::Records records);

} // namespace tidemark::cure
