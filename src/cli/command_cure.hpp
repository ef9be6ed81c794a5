// SPDX-License-Identifier: MIT
/// `tidemark day`, `plan` and `bucket`: one question, asked of one engine; `sheet` asks the one of
/// them that the flags describe and writes the answer as a page.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

void command_day(const std::vector<std::string>& words);
void command_plan(const std::vector<std::string>& words);
void command_bucket(const std::vector<std::string>& words);
void command_sheet(const std::vector<std::string>& words);

} // namespace tidemark::cli
