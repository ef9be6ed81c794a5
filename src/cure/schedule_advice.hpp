// SPDX-License-Identifier: MIT
/// What is to be told of a schedule's times, temperatures and ends. Part of advise(), apart for its
/// size.
#pragma once

#include "base/record.hpp"
#include "cure/outcome.hpp"

namespace tidemark::cure {

/// How long it lasts and how warm it was, its logs among that.
void tell_time(Outcome& outcome, base::Records& records);
/// What a schedule with an end makes of its pieces.
void tell_schedule(Outcome& outcome, base::Records& records);

} // namespace tidemark::cure
