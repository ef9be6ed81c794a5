// SPDX-License-Identifier: MIT
/// tidemark learn: keeps what slices showed, and tells what they teach.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

/// Runs with the words behind "learn". Throws base::InputError and base::RunError.
void command_learn(const std::vector<std::string>& words);

} // namespace tidemark::cli
