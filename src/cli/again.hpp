// SPDX-License-Identifier: MIT
/// The line that was typed, with some flags written otherwise: what the cook can run next.
#pragma once

#include "cli/options.hpp"
#include "inference/variant.hpp"

#include <string>
#include <vector>

namespace tidemark::cli {

/// `tidemark COMMAND` with the flags of the line (the case file stays a case file), less those that
/// only shape the answer, and with the flags of `changed` in place of what was written.
std::string asked_again(const Options& options, const std::string& command,
                        const std::vector<inference::ChangedFlag>& changed);

/// A word as a shell takes it, in quotes where it has to be.
std::string in_shell(const std::string& text);

/// Whether a flag only shapes the answer.
bool of_the_answer(const std::string& flag);

} // namespace tidemark::cli
