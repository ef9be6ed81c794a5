// SPDX-License-Identifier: MIT
/// Answers as one line, whatever the screen's width, and flags that make them quick.
#pragma once

#include "run.hpp"

#include <regex>

namespace tidemark::cli {

inline const std::string few = " --cells 12 --draws 1024 ";

inline std::string joined(const Folder& folder, const std::string& words) {
    return std::regex_replace(folder.run(words).out, std::regex("\\s+"), " ");
}

} // namespace tidemark::cli
