// SPDX-License-Identifier: MIT
/// The texts of models/ and the parts of the pages, compiled in.
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
/// Every file of src/page/parts/ [text]; only in the program.
std::vector<Embedded> embedded_page();

} // namespace tidemark::base
