// SPDX-License-Identifier: MIT
/// `tidemark brine`: a brine worked out before the meat goes in.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

/// Runs the command on the words behind its name. Throws InputError before anything is written.
void command_brine(const std::vector<std::string>& words);

} // namespace tidemark::cli
