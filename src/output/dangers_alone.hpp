// SPDX-License-Identifier: MIT
/// What is printed of a question that could not be answered, if it is dangerous.
#pragma once

#include "judge/finding.hpp"

#include <string>

namespace tidemark::output {

std::string dangers_screen(const judge::Findings& findings, std::size_t columns = 80);
/// An object with the dangers and no answer.
std::string dangers_json(const std::string& command, const judge::Findings& findings);

} // namespace tidemark::output
