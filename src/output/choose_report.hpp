// SPDX-License-Identifier: MIT
/// The methods side by side as one screen of text, or as one JSON object.
#pragma once

#include "cure/choose.hpp"

#include <chrono>
#include <optional>
#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters. `start` turns days into dates; `ready_by` is the date
/// asked for, shown as the last day to begin.
std::string choose_report(const cure::Choice& choice, std::optional<std::chrono::local_seconds> start,
                          std::optional<std::chrono::local_seconds> ready_by);

/// The object as text, two spaces deep; units stand in the names of the members.
std::string choose_json(const cure::Choice& choice);

} // namespace tidemark::output
