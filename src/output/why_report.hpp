// SPDX-License-Identifier: MIT
/// Why a core is grey, as one screen of text or as one JSON object.
#pragma once

#include "inference/why.hpp"

#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters.
std::string why_report(const inference::Why& why);

/// The object as text, two spaces deep; units stand in the names of the members.
std::string why_json(const inference::Why& why);

} // namespace tidemark::output
