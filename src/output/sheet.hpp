// SPDX-License-Identifier: MIT
/// What the sheet for the cooler's door has besides the screen's blocks: recipe, pictures, what to
/// do about a grey middle, room to write, the numbers used.
#pragma once

#include "base/record.hpp"
#include "output/figure.hpp"
#include "output/view.hpp"

#include <vector>

namespace tidemark::output {

/// Of one piece, a schedule or several pieces. `records` tell the sources' names.
void add_sheet(Document& document, const inference::Answer& answer,
               const std::vector<SectionPanel>& panels, const Lines& lines,
               const base::Records& records);

/// Of the ways side by side.
void add_sheet(Document& document, const cure::Choice& choice, const inference::Ways& ways,
               const base::Records& records);

} // namespace tidemark::output
