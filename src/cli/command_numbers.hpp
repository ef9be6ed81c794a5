// SPDX-License-Identifier: MIT
/// `tidemark numbers`: every literature number the program holds, with its source.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

/// Runs the command on the words behind its name: nothing, the head of a key, or --sources.
/// Throws InputError.
void command_numbers(const std::vector<std::string>& words);

} // namespace tidemark::cli
