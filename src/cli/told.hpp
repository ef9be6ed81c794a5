// SPDX-License-Identifier: MIT
/// What `day`, `plan` or `bucket` answered last, for a page that goes on drawing it.
#pragma once

#include "inference/answer.hpp"

#include <optional>
#include <string>

namespace tidemark::cli {

struct Told {
    std::string command;
    inference::Answer answer;
    std::string change; ///< the line that shows the change advised
};

/// The last one of this process; none before the first.
std::optional<Told>& last_told();

} // namespace tidemark::cli
