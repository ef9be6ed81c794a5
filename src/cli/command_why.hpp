// SPDX-License-Identifier: MIT
/// tidemark why: what may have made a core grey.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

void command_why(const std::vector<std::string>& words);

} // namespace tidemark::cli
