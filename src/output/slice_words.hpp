// SPDX-License-Identifier: MIT
/// A slice, what was found besides, and what is to be done, as sentences.
#pragma once

#include "inference/why.hpp"

#include <string>

namespace tidemark::output {

/// "ring top 12 mm, bottom 3 mm; grey core 20 mm high", or what is alike all round said once.
std::string described(const inference::Slice& slice);
/// "day 5: grey core 20 mm high".
std::string seen_on(const inference::Slice& slice);
/// "thickness 78 mm, cooler 1.0 C (34 F)"; empty: nothing was looked at.
std::string found_text(const inference::Findings& found);
std::string found_text(inference::Look look, double found);
/// "13 %", "<1 %"
std::string percent(double share);

/// What to do with a piece that was seen: a heading, and words short enough for one line.
struct Act {
    std::string heading, text; ///< "LEAVE IT", "until day 7: half are cured by day 5.4, ..."
    bool says_best = false;    ///< the text tells the best day and its chance
};
Act act_on(const inference::Still& still);
/// A text that speaks of brine, for a cure that has none: "so that the cure reaches every face".
std::string of_cure(const std::string& text, const cure::Question& question);
/// The title of a cause; that all was as told says what the days were.
std::string title_of(const inference::Cause& cause, const inference::Why& why);
/// What comes of it where that is not plain: salt, or pieces that never get there; may be empty.
std::string then_of(const inference::Still& still);
/// What to do next time.
std::string text_of(inference::Remedy remedy);

} // namespace tidemark::output
