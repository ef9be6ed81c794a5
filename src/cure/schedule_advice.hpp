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

/// Whether the last dry stage is used up within a day and was too much by then: nobody takes a
/// piece out of the cure before that, so there is no latest day, but a load to be made less.
bool too_much_at_once(const PieceOutcome& piece);

} // namespace tidemark::cure
