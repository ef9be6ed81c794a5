// SPDX-License-Identifier: MIT
#include "cure/case.hpp"

namespace tidemark::cure {

const std::vector<std::string>& shape_names() {
    static const std::vector<std::string> names{"sheet", "round", "ball",   "block",
                                                "loin",  "ham",   "outline"};
    return names;
}

} // namespace tidemark::cure
