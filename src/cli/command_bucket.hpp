// SPDX-License-Identifier: MIT
/// tidemark bucket: several different pieces in one brine, and which of them is the slowest.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

/// Runs `tidemark bucket WORDS`. Throws base::InputError and base::RunError.
void command_bucket(const std::vector<std::string>& words);

} // namespace tidemark::cli
