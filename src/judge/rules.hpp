// SPDX-License-Identifier: MIT
/// One function for each rule. A new rule is written beside its kind and named in the list of
/// judge.cpp; no command has to be told.
#pragma once

#include "judge/judge.hpp"
#include "judge/say.hpp"

namespace tidemark::judge {

using Rule = void(const Weighed&, const Law&, base::Records&, Findings&);

Rule over_limit, without_a_limit, unknown_weights, nitrate, too_little, rind, erythorbate;
// law.cpp
Rule mistaken_premix, warmth, warm_brine, poison, no_nitrite; // safety.cpp

} // namespace tidemark::judge
