// SPDX-License-Identifier: MIT
/// Words that go with an outcome: its title, why there is no day, what the law counts, what is to
/// be told of the schedule and of the numbers behind it.
#pragma once

#include "base/record.hpp"
#include "cure/coefficients.hpp"
#include "cure/outcome.hpp"

namespace tidemark::cure {

/// Fills in all that is not read off the meshes of an outcome whose numbers are known.
void advise(Outcome& outcome, const Coefficients& c, base::Records& records);

/// What is left out of the answer at the ends of a piece, and which way that errs; empty where
/// nothing is.
std::string ends_left_out(const Setup& setup);

} // namespace tidemark::cure
