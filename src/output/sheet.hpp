// SPDX-License-Identifier: MIT
/// The sheet of a batch for the cooler's door: one HTML file that needs nothing else, neither a
/// network nor scripts. The answer first, then what to do and when, the map, what to do about a
/// grey middle, and room to write. Prints on one page.
#pragma once

#include "base/record.hpp"
#include "output/figure.hpp"
#include "output/view.hpp"

#include <chrono>
#include <string>
#include <vector>

namespace tidemark::output {

/// Of one piece, a schedule or several pieces. `records` tell the sources' names.
std::string batch_sheet(const inference::Answer& answer, const std::vector<SectionPanel>& panels,
                        const Lines& lines, const base::Records& records);

/// Of the ways side by side; `start` turns days into dates.
std::string choice_sheet(const cure::Choice& choice, const inference::Ways& ways,
                         const Lines& lines, std::optional<std::chrono::local_seconds> start,
                         const base::Records& records);

} // namespace tidemark::output
