// SPDX-License-Identifier: MIT
/// `tidemark day`: from when until when to pull the piece from the brine.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

/// Runs the command on the words behind its name. Throws InputError before anything is written, and
/// RunError if the figure fails after the answer was printed.
void command_day(const std::vector<std::string>& words);

} // namespace tidemark::cli
