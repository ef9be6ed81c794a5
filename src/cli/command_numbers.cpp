// SPDX-License-Identifier: MIT
/// Lists records and the bibliography as they stand in the program.
#include "cli/commands.hpp"

#include "base/error.hpp"
#include "base/record.hpp"
#include "base/text.hpp"
#include "cli/flags.hpp"
#include "cli/options.hpp"
#include "cli/screen_from_options.hpp"
#include "materials/meat.hpp"
#include "output/json.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <iostream>
#include <map>

namespace tidemark::cli {
namespace {

using base::InputError;

void lines(const std::string& name, const std::string& text) {
    if (text.empty()) {
        return;
    }
    std::string head = "    " + name;
    for (const std::string& part : output::wrapped(text, terminal_columns() - 12)) {
        head.resize(12, ' ');
        std::cout << head << part << '\n';
        head.clear();
    }
}

void print(const base::Record& r) {
    std::cout << r.key << " = " << base::significant(r.value, 7)
              << (r.unit == "1" ? "" : ' ' + r.unit) << '\n';
    lines("spread", r.spread);
    std::string valid;
    for (const base::Validity& range : r.valid) {
        valid += (valid.empty() ? "" : "; ") + range.text;
    }
    lines("range", valid);
    lines("source", r.source + (r.where.empty() ? "" : ", " + r.where) + " (" +
                        output::mark_in_words(r.mark) + ')');
    lines("note", r.note);
}

/// The muscles with what cooks call them, a line or two each.
void muscles(const base::Records& records) {
    constexpr std::size_t column = 17;
    std::map<std::string, std::string> also;
    for (const materials::MuscleName& m : materials::muscle_synonyms(records)) {
        std::string& names = also[m.muscle];
        if (m.name != m.muscle) {
            names += (names.empty() ? "" : ", ") + m.name;
        }
    }
    for (const auto& [muscle, names] : also) {
        std::string head = muscle + (materials::lender(records, muscle).empty() ? "" : " *");
        for (const std::string& part : output::wrapped(names, terminal_columns() - 1 - column)) {
            head.resize(column, ' ');
            std::cout << head << part << '\n';
            head.clear();
        }
    }
    std::cout << "* not measured: another muscle's figure stands in, with a wider spread.\n"
                 "Name any of these with --muscle; tidemark numbers muscle.NAME has the figures.\n";
}

/// The first parts of all keys, and how many numbers there are below each.
void heads(const base::Records& records) {
    std::map<std::string, int> count;
    for (const std::string& key : records.keys()) {
        ++count[key.substr(0, key.find('.'))];
    }
    std::string all;
    for (const auto& [head, n] : count) {
        all += (all.empty() ? "" : ", ") + head + " (" + std::to_string(n) + ')';
    }
    for (const std::string& line : output::wrapped(all, terminal_columns() - 1)) {
        std::cout << line << '\n';
    }
    std::cout << "tidemark numbers HEAD lists those below one, tidemark numbers --more all.\n";
}

/// The keys that are `prefix` or go on from it after a dot; all for an empty one.
std::vector<std::string> keys_below(const base::Records& records, const std::string& prefix) {
    std::vector<std::string> keys = records.keys();
    if (prefix.empty()) {
        return keys;
    }
    std::erase_if(keys, [&](const std::string& key) {
        return key != prefix && !key.starts_with(prefix + '.');
    });
    if (keys.empty()) {
        std::vector<std::string> heads;
        for (const std::string& key : records.keys()) {
            for (auto dot = key.find('.');; dot = key.find('.', dot + 1)) {
                heads.push_back(key.substr(0, dot));
                if (dot == std::string::npos) {
                    break;
                }
            }
        }
        std::string near = base::nearest(prefix, heads);
        try { // a cook's name for a cut
            near = near.empty() ? "muscle." + materials::muscle_called(records, prefix, "") : near;
        } catch (const InputError&) {
        }
        throw InputError("numbers", prefix, "is not the head of any key",
                         near.empty() ? "see tidemark numbers" : "did you mean " + near + "?");
    }
    return keys;
}

} // namespace

void command_numbers(const std::vector<std::string>& words) {
    const Options options = read_options(words, "numbers");
    const Given* head = options.find(head_word);
    const std::string prefix = head ? head->text : "";
    const base::Records records = base::Records::built_in();
    if (options.on("json")) {
        std::cout << output::json(records, keys_below(records, prefix));
        return;
    }
    Folded to_the_terminal;
    if (options.on("help")) {
        std::cout << "tidemark numbers [HEAD]\n"
                     "tidemark numbers --sources\n"
                     "Lists the heads of the program's numbers, the muscles and cuts (muscle), or\n"
                     "the numbers below one head (muscle.pork-loin, kinetics, ...): value, unit,\n"
                     "spread, the range they hold in, source, how the source was used, and what\n"
                     "was done to the number.\n"
                  << flags_of("numbers", false);
    } else if (options.on("sources")) {
        for (const std::string& key : records.sources()) {
            std::cout << key << '\n';
            lines("", records.source(key)->citation);
        }
    } else if (prefix == "muscle") {
        muscles(records);
    } else if (prefix.empty() && !options.on("more")) {
        heads(records);
    } else {
        for (const std::string& key : keys_below(records, prefix)) {
            print(*records.find(key));
        }
    }
}

} // namespace tidemark::cli
