// SPDX-License-Identifier: MIT
/// The plain form of models/: "[section]" headings with "name = value" lines below them.
/// Lines beginning with ; or # are comments; there are none behind a value. Written out here
/// because a general property tree took three milliseconds for the library, more than all other
/// start-up.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace tidemark::base {

/// One line "name = value".
struct Item {
    std::string_view name;
    std::string_view text;
    int line = 0;
};

/// A heading and the lines below it, as views into the text read.
struct Section {
    std::string_view title;
    int line = 0;
    std::vector<Item> items;

    /// nullptr if the section has no such line.
    const Item* find(std::string_view name) const;
    std::string get(std::string_view name, const char* otherwise = "") const;
};

/// The sections of `text`, which must outlive them, in order. `name` is the file name in messages.
/// Throws InputError, with the line number, for a malformed line or a name given twice in a
/// section.
std::vector<Section> read_sections(std::string_view text, const std::string& name);

} // namespace tidemark::base
