// SPDX-License-Identifier: MIT
/// The commands: what the help, the manual page and the completion of words all list.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

struct Command {
    std::string name, purpose;
    void (*run)(const std::vector<std::string>& words); ///< the words behind its name
};

/// In the order in which they are told.
const std::vector<Command>& commands();

} // namespace tidemark::cli
