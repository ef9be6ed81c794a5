// SPDX-License-Identifier: MIT
#include "cure/without.hpp"

#include "cure/choose.hpp"

#include <algorithm>
#include <string_view>
#include <utility>

namespace tidemark::cure {
namespace {

/// What a way has in it that its name does not say.
constexpr std::pair<std::string_view, std::string_view> in_them[] = {{"cut in two", "brine"},
                                                                     {"cut in two", "thinner"}};

std::vector<std::string> ways_and_changes() {
    std::vector<std::string> names = method_names();
    names.insert(names.end(),
                 {"more brine", "less brine", "more nitrite", "soak", "rest", "thinner"});
    return names;
}

} // namespace

const std::vector<std::string>& all_means() {
    static const std::vector<std::string> names = ways_and_changes();
    return names;
}

std::vector<std::string> those_with(const std::string& name) {
    std::vector<std::string> list;
    for (const std::string& other : all_means())
        if ((' ' + other + ' ').find(' ' + name + ' ') != std::string::npos ||
            std::ranges::any_of(
                in_them, [&](const auto& in) { return in.first == other && in.second == name; }))
            list.push_back(other);
    return list;
}

} // namespace tidemark::cure
