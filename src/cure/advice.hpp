// SPDX-License-Identifier: MIT
/// Words that go with a prediction: why there is no day, what opens an empty window, warnings about
/// this case, the cautions that always hold, and the numbers worked out on the way.
#pragma once

#include "base/record.hpp"
#include "cure/prediction.hpp"
#include "cure/solved.hpp"

namespace tidemark::cure {

/// Fills title, never, window, ingoing, derived, warnings and cautions of a prediction whose state
/// is known.
void advise(Prediction& prediction, const Solved& solved, base::Records& records);

/// What is left out of the answer at the ends of a piece, and which way that errs; empty where
/// nothing is.
std::string ends_left_out(const Setup& setup);

} // namespace tidemark::cure
