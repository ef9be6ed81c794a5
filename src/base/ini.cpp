// SPDX-License-Identifier: MIT
/// One pass over the lines, nothing copied.
#include "base/ini.hpp"

#include "base/error.hpp"

#include <algorithm>
#include <cstddef>

namespace tidemark::base {
namespace {

std::string_view stripped(std::string_view text) {
    const auto first = text.find_first_not_of(" \t\r");
    return first == std::string_view::npos
               ? std::string_view{}
               : text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

} // namespace

const Item* Section::find(std::string_view name) const {
    const auto found = std::ranges::find(items, name, &Item::name);
    return found == items.end() ? nullptr : &*found;
}

std::string Section::get(std::string_view name, const char* otherwise) const {
    const Item* item = find(name);
    return item ? std::string(item->text) : otherwise;
}

std::vector<Section> read_sections(std::string_view text, const std::string& name) {
    std::vector<Section> sections;
    int number = 0;
    for (std::size_t end = 0; !text.empty(); text.remove_prefix(std::min(end + 1, text.size()))) {
        end = std::min(text.find('\n'), text.size());
        const std::string_view line = stripped(text.substr(0, end));
        const auto fail = [&](const std::string& value, const char* rule, const char* remedy) {
            throw InputError(name + ':' + std::to_string(number), value, rule, remedy);
        };
        ++number;
        if (line.empty() || line[0] == ';' || line[0] == '#') {
            continue;
        }
        if (line[0] == '[') {
            if (line.back() != ']') {
                fail(std::string(line), "does not end with ]", "");
            }
            const std::string_view title = stripped(line.substr(1, line.size() - 2));
            if (std::ranges::count(sections, title, &Section::title) > 0) {
                fail('[' + std::string(title) + ']', "appears twice in this file", "join the two");
            }
            sections.push_back({title, number, {}});
            continue;
        }
        const auto sign = line.find('=');
        const std::string_view key = stripped(line.substr(0, sign));
        if (sign == std::string_view::npos || key.empty()) {
            fail(std::string(line), "is not of the form name = value", "");
        }
        if (sections.empty()) {
            fail(std::string(key), "stands outside a section", "put it below a [section]");
        }
        Section& section = sections.back();
        if (section.find(key) != nullptr) {
            fail(std::string(key), "appears twice in this section", "keep one");
        }
        section.items.push_back({key, stripped(line.substr(sign + 1)), number});
    }
    return sections;
}

} // namespace tidemark::base
