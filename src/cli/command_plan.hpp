// SPDX-License-Identifier: MIT
/// tidemark plan: a whole schedule, stage by stage, with its calendar.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

/// Runs the command with the words behind its name. Throws InputError or RunError.
void command_plan(const std::vector<std::string>& words);

} // namespace tidemark::cli
