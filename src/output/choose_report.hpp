// SPDX-License-Identifier: MIT
/// The methods side by side as one screen of text, or as one JSON object.
#pragma once

#include "cure/choose.hpp"
#include "inference/choose_chance.hpp"
#include "output/screen.hpp"

#include <chrono>
#include <optional>
#include <string>

namespace tidemark::output {

/// The screen, lines of at most 80 characters: the way to take first. `command` shows it in plan;
/// `start` turns days into dates; `ready_by` is the date asked for. `more`: with what is made up,
/// the reasons and the limits.
std::string choose_report(const cure::Choice& choice, const inference::Ways& ways,
                          const std::string& command, const Shown& shown,
                          std::optional<std::chrono::local_seconds> start,
                          std::optional<std::chrono::local_seconds> ready_by);

/// The object as text, two spaces deep; units stand in the names of the members.
std::string choose_json(const cure::Choice& choice, const inference::Ways& ways,
                        const std::string& command);

} // namespace tidemark::output
