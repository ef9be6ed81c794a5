// SPDX-License-Identifier: MIT
/// tidemark page and tidemark teach: pages that hold the whole program and need nothing else.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

/// Prints the cook's page as HTML. Throws InputError for words it does not know, and for a terminal
/// it would fill.
void command_page(const std::vector<std::string>& words);
/// Prints the apprentice's.
void command_teach(const std::vector<std::string>& words);

} // namespace tidemark::cli
