// SPDX-License-Identifier: MIT
/// The blocks of one answer of each command, behind the dangers; view() puts the rest around them.
#pragma once

#include "output/best_view.hpp"
#include "output/view.hpp"

namespace tidemark::output {

/// What was asked of the ways, as it heads every output of them.
std::string asked_of(const cure::Choice& choice);
/// CHOICE in a title: "Take needles, day 2: 95 in 100 right".
std::string choice_brief(const cure::Choice& choice, const inference::Ways& ways);
/// A way in one row: "rub, day 16: 95 in 100 right", "bag: ruled out".
std::string way_brief(const cure::Choice& choice, const inference::Ways& ways, std::size_t way);
/// Whether the cook does without it: then it is no row, and no reason.
bool left_out(const cure::Choice& choice, std::size_t way);

void one_brine(Document& document, const inference::Answer& answer, const Advised& advised,
               const Sections& sections);
void schedule(Document& document, const inference::Answer& answer, const Advised& advised,
              const Sections& sections);
/// "as set: 44 in 100 right; best: end stage 2 (brine) on day 14: 62 in 100 right".
std::string kept_brief(const cure::Outcome& outcome, const inference::ScheduleChance& chance);
void bucket(Document& document, const inference::Answer& answer, const Advised& advised);

} // namespace tidemark::output
