// SPDX-License-Identifier: MIT
/// tidemark choose: brine, needles, rub and bag side by side on one cut.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

/// Runs the command with the words behind its name. Throws InputError or RunError.
void command_choose(const std::vector<std::string>& words);

} // namespace tidemark::cli
