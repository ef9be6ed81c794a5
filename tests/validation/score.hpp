// SPDX-License-Identifier: MIT
/// Runs the built program for a validation, and keeps the README beside the data honest: the score
/// it shows must be the one just computed.
#pragma once

#include "cli/run.hpp"

#include <nlohmann/json.hpp>

#include <string>
#include <vector>

namespace tidemark::validation {

/// Where validation/`name` is.
std::string path(const std::string& name);

/// Rows of a comma-separated table, lines with # left out.
std::vector<std::vector<std::string>> table(const std::string& text);

/// Standard output of `tidemark WORDS`; fails the test unless it exits with 0.
std::string output(const std::string& words);
nlohmann::json answer(const std::string& words); ///< with --json

/// Prints a score, and fails the test if validation/`name`/README.md does not show it line by line.
void show(const std::string& name, const std::string& score);

/// A number with so many digits after the point.
std::string fixed(double value, int digits);

} // namespace tidemark::validation
