// SPDX-License-Identifier: MIT
/// The texts of models/, compiled in.
#pragma once

#include <string_view>
#include <vector>

namespace tidemark::base {

struct Embedded {
    std::string_view name;
    std::string_view text;
};

/// Every file of models/ [text], in alphabetical order of the file names.
std::vector<Embedded> embedded_models();

} // namespace tidemark::base
