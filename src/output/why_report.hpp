// SPDX-License-Identifier: MIT
/// Why a core is grey, as one screen of text or as one JSON object.
#pragma once

#include "inference/why.hpp"
#include "output/json_parts.hpp"
#include "output/screen.hpp"

#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters; with `more` what to check for each cause.
std::string why_report(const inference::Why& why, const Shown& shown);

/// The object as text, two spaces deep; units stand in the names of the members.
std::string why_json(const inference::Why& why);

/// Of a look at a piece that stays: what was seen, and from when its core is cured.
json_parts::Json still_json(const inference::Still& still);

} // namespace tidemark::output
