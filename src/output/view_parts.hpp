// SPDX-License-Identifier: MIT
/// The blocks of one answer of each command, behind the dangers; view() puts the rest around them.
#pragma once

#include "output/best_view.hpp"
#include "output/view.hpp"

namespace tidemark::output {

void one_brine(Document& document, const inference::Answer& answer, const Advised& advised,
               const Sections& sections);
void schedule(Document& document, const inference::Answer& answer, const Advised& advised,
              const Sections& sections);
void bucket(Document& document, const inference::Answer& answer, const Advised& advised);

} // namespace tidemark::output
