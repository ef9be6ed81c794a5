// SPDX-License-Identifier: MIT
#include "cure/case.hpp"

#include <algorithm>

namespace tidemark::cure {
namespace {

std::string spaced(std::string name) {
    std::ranges::replace(name, '-', ' ');
    return name;
}

} // namespace

std::string cut_name(const Piece& piece) {
    return piece.called.empty() ? spaced(piece.muscle) : piece.called;
}

const std::vector<std::string>& shape_names() {
    static const std::vector<std::string> names{"sheet", "round", "ball",   "block",
                                                "loin",  "ham",   "outline"};
    return names;
}

} // namespace tidemark::cure
