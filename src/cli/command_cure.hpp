// SPDX-License-Identifier: MIT
/// `tidemark day`, `plan` and `bucket`: one question, asked of one engine.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

void command_day(const std::vector<std::string>& words);
void command_plan(const std::vector<std::string>& words);
void command_bucket(const std::vector<std::string>& words);

} // namespace tidemark::cli
