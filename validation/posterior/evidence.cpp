// SPDX-License-Identifier: MIT
#include "posterior/evidence.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "base/ini.hpp"
#include "base/quantity.hpp"

#include <algorithm>
#include <filesystem>

namespace tidemark::posterior {
namespace {

constexpr std::size_t longest = 1 << 16; ///< [bytes]

Words words_of(const base::Section& section) {
    Words words;
    for (const base::Item& item : section.items) {
        words.emplace(item.name, item.text);
    }
    return words;
}

double number(const std::string& text, const std::string& where) {
    return base::parse(text, base::Dimension::number, where);
}

std::string take(Words& words, const std::string& name, const std::string& where) {
    const auto found = words.find(name);
    if (found == words.end()) {
        throw base::InputError(where, name, "is missing", "add it");
    }
    std::string text = found->second;
    words.erase(found);
    return text;
}

Evidence read_one(const std::string& path) {
    const std::string text = base::read_text(path, path, longest);
    Evidence e;
    e.folder = std::filesystem::path(path).parent_path().filename();
    Words base;
    for (const base::Section& section : base::read_sections(text, path)) {
        const std::string where = path + ':' + std::to_string(section.line);
        Words words = words_of(section);
        if (section.title == "source") {
            e.title = take(words, "title", where);
            e.mark = take(words, "mark", where);
            for (const char* name : {"source", "measured", "not-stated", "assumed"}) {
                take(words, name, where);
            }
            e.rules = words.contains("rules");
        } else if (section.title == "case") {
            base = words;
        } else if (section.title == "unsure") {
            for (const auto& [name, sd] : words) {
                e.unsure.emplace(name, number(sd, where));
            }
        } else {
            Figure f;
            f.name = section.title;
            f.kind = take(words, "kind", where);
            f.value = number(take(words, "value", where), where);
            f.sd = number(take(words, "sd", where), where);
            f.compared = words.erase("compared") > 0;
            words.erase("note");
            f.of = words;
            f.of.insert(base.begin(), base.end()); // its own words win
            e.figures.push_back(f);
        }
    }
    return e;
}

} // namespace

std::vector<Evidence> read_evidence(const std::string& validation) {
    std::vector<std::string> paths;
    for (const auto& entry : std::filesystem::directory_iterator(validation)) {
        const auto file = entry.path() / "evidence.ini";
        if (std::filesystem::exists(file)) {
            paths.push_back(file);
        }
    }
    std::ranges::sort(paths);
    std::vector<Evidence> all;
    for (const std::string& path : paths) {
        all.push_back(read_one(path));
    }
    return all;
}

std::map<std::string, Words> read_words(const std::string& path) {
    const std::string text = base::read_text(path, path, longest);
    std::map<std::string, Words> all;
    for (const base::Section& section : base::read_sections(text, path)) {
        all.emplace(section.title, words_of(section));
    }
    return all;
}

} // namespace tidemark::posterior
