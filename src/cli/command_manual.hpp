// SPDX-License-Identifier: MIT
/// `tidemark manual` and `tidemark completion`: what the machine around the program reads, made of
/// the same tables of commands and flags as the help.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

/// Prints the manual page, in the language of man.
void command_manual(const std::vector<std::string>& words);

/// Prints the completion for one shell: bash, zsh or fish. Throws InputError for any other.
void command_completion(const std::vector<std::string>& words);

} // namespace tidemark::cli
