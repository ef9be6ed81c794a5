// SPDX-License-Identifier: MIT
/// The texts of models/: one section per group of values, in the form
///     [muscle.pork-loin.diffusivity-salt]
///     value = 2.4e-10            (or any other name, giving the key "section.name")
///     unit = m2/s
///     valid = temperature 0 .. 20 C; brine salt 2 .. 28 %
///     source = key               (a section with a `citation`)
///     mark = S
/// and optionally title, spread, where, note. One with `moves` has a `shift`: the logarithm of the
/// factor by which the records named, by patterns, are moved once all texts are read. A section
/// without a value is a heading and may hold words: cut, names, borrows. The section [allowed] says
/// what values may be set to:
///     wood.*.diffusivity = 1e-13 .. 1e-7 m2/s
#include "base/record.hpp"

#include "base/embedded.hpp"
#include "base/error.hpp"
#include "base/ini.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"

#include <fnmatch.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <optional>
#include <set>
#include <sstream>
#include <utility>

namespace tidemark::base {
namespace {

constexpr std::array<std::string_view, 12> attributes{"title",  "unit",  "spread",  "valid",
                                                      "source", "where", "mark",    "note",
                                                      "cut",    "names", "borrows", "moves"};

bool is_attribute(std::string_view name) {
    return std::ranges::count(attributes, name) > 0;
}

/// The parts of one validity range, "QUANTITY LOW .. HIGH UNIT".
struct Range {
    std::string quantity, low, high, unit;
};

std::optional<Range> split_range(std::string_view text) {
    constexpr std::string_view dots = " .. ";
    const auto middle = text.find(dots);
    const auto space = text.substr(0, middle).rfind(' ');
    if (middle == std::string_view::npos || space == std::string_view::npos) {
        return {};
    }
    const std::string_view after = text.substr(middle + dots.size());
    const auto end = std::min(after.find(' '), after.size());
    std::string unit = trim(after.substr(end));
    return Range{trim(text.substr(0, space)),
                 std::string(text.substr(space + 1, middle - space - 1)),
                 std::string(after.substr(0, end)), unit.empty() ? "1" : unit};
}

double from_si(double si, const std::string& unit) {
    const Dimension dimension = dimension_of(unit);
    const double zero = to_si(0, unit, dimension);
    return (si - zero) / (to_si(1, unit, dimension) - zero);
}

/// dimension_of() with the place of the unit at the head of the message.
Dimension unit_at(const std::string& unit, const std::string& where) {
    try {
        return dimension_of(unit);
    } catch (const InputError& error) {
        throw InputError(where, "", error.what(), "");
    }
}

std::vector<Validity> read_ranges(const std::string& text, const std::string& where) {
    std::vector<Validity> ranges;
    for (std::size_t from = 0, to = 0; from < text.size(); from = to + 1) {
        to = std::min(text.find(';', from), text.size());
        const std::string part = trim(std::string_view(text).substr(from, to - from));
        const std::optional<Range> range = split_range(part);
        if (!range) {
            throw InputError(where, part, "is not a range", "write it as temperature 0 .. 20 C");
        }
        const Dimension dimension = unit_at(range->unit, where);
        const auto si = [&](const std::string& number) {
            return to_si(parse(number, Dimension::number, where), range->unit, dimension);
        };
        ranges.push_back({range->quantity, si(range->low), si(range->high), part});
        if (ranges.back().low > ranges.back().high) {
            throw InputError(where, part, "has its lower end above the upper", "");
        }
    }
    return ranges;
}

Source read_source(const Section& section, const std::string& where) {
    for (const Item& item : section.items) {
        if (item.name != "citation" && item.name != "seen" && item.name != "note") {
            throw InputError(where, std::string(item.name), "has no place in a bibliography entry",
                             "use citation, seen or note");
        }
    }
    return {std::string(section.title), section.get("citation")};
}

/// What all values of a section share.
Record read_shared(const Section& section, const std::string& where) {
    for (const char* name : {"unit", "source", "mark"}) {
        if (section.get(name).empty()) {
            throw InputError(where, "", std::string("has no ") + name, "add one");
        }
    }
    Record shared;
    shared.unit = section.get("unit");
    shared.source = section.get("source");
    const std::string mark = section.get("mark");
    if (mark.size() != 1 || std::string_view("SCMJ").find(mark) == std::string_view::npos) {
        throw InputError(where, mark, "is not a mark", "use S, C, M or J");
    }
    shared.mark = mark[0];
    unit_at(shared.unit, where);
    shared.valid = read_ranges(section.get("valid"), where);
    shared.spread = section.get("spread", "none stated");
    shared.where = section.get("where");
    shared.note = section.get("note");
    return shared;
}

[[noreturn]] void unknown_key(const Records& records, const std::string& key,
                              const std::string& where) {
    const std::string near = nearest(key, records.keys());
    throw InputError(where, key, "is not a known value",
                     near.empty() ? "see tidemark numbers for the keys"
                                  : "did you mean " + near + "?");
}

/// Whether an SI value lies in a range. The ends belong to it, also after a detour through another
/// unit: 68 F is 20 C.
bool holds(const Validity& range, double si) {
    constexpr double slack = 1e-9;
    return si >= range.low - slack * std::abs(range.low) &&
           si <= range.high + slack * std::abs(range.high);
}

/// A value with its unit, which a pure number has not.
std::string with_unit(const std::string& value, const std::string& unit) {
    return value + (unit == "1" ? "" : ' ' + unit);
}

/// Patterns of the keys that are moved, with the section that moves them.
std::vector<std::pair<std::string, std::string>>
moves_of(const std::map<std::string, std::map<std::string, std::string>>& headings) {
    std::vector<std::pair<std::string, std::string>> list;
    for (const auto& [section, words] : headings) {
        if (const auto moves = words.find("moves"); moves != words.end()) {
            std::istringstream patterns(moves->second);
            for (std::string pattern; patterns >> pattern;) {
                list.emplace_back(pattern, section);
            }
        }
    }
    return list;
}

} // namespace

double Record::si() const {
    return to_si(value, unit, dimension_of(unit));
}

Records Records::built_in() {
    static const Records read = [] { // once: a page asks many times
        Records records;
        for (const Embedded& model : embedded_models()) {
            records.read(model.text, std::string(model.name));
        }
        records.move();
        return records;
    }();
    return read;
}

std::string Records::mover(const std::string& key) const {
    for (const auto& [pattern, section] : moves_of(headings_)) {
        if (fnmatch(pattern.c_str(), key.c_str(), 0) == 0) {
            return section;
        }
    }
    return "";
}

void Records::move() {
    for (const auto& [pattern, by] : moves_of(headings_)) {
        const double factor = std::exp(records_.at(by + ".shift").value);
        for (auto& [key, record] : records_) {
            if (factor == 1 || fnmatch(pattern.c_str(), key.c_str(), 0) != 0) {
                continue;
            }
            record.note += " This middle is " + significant(factor, 3) + " times the " +
                           with_unit(significant(record.value, 3), record.unit) +
                           " first taken, as all that is published leaves it (" + by + ").";
            record.value *= factor;
        }
    }
}

void Records::read(std::string_view text, const std::string& name) {
    std::map<std::string, Record> records;
    std::map<std::string, Source> sources;
    std::map<std::string, std::map<std::string, std::string>> headings;
    std::vector<Validity> allowed;
    for (const Section& section : read_sections(text, name)) {
        const std::string title(section.title);
        const std::string where = name + ':' + std::to_string(section.line) + ": [" + title + ']';
        if (section.find("citation") != nullptr) {
            sources.emplace(title, read_source(section, where));
            continue;
        }
        if (title == "allowed") {
            for (const Item& item : section.items) {
                std::ranges::move(read_ranges(std::string(item.name) + ' ' + std::string(item.text),
                                              name + ':' + std::to_string(item.line)),
                                  std::back_inserter(allowed));
            }
            continue;
        }
        if (std::ranges::all_of(section.items, is_attribute, &Item::name)) {
            for (const Item& item : section.items) {
                headings[title].emplace(item.name, item.text);
            }
            continue;
        }
        const Record shared = read_shared(section, where);
        if (const Item* moves = section.find("moves")) {
            headings[title].emplace(moves->name, moves->text);
        }
        for (const Item& item : section.items) {
            if (is_attribute(item.name)) {
                continue;
            }
            Record record = shared;
            record.key = item.name == "value" ? title : title + '.' + std::string(item.name);
            record.value = parse(item.text, Dimension::number,
                                 name + ':' + std::to_string(item.line) + ": " + record.key);
            if (const std::string key = record.key;
                !records.emplace(key, std::move(record)).second) {
                throw InputError(name + ':' + std::to_string(item.line), key,
                                 "appears twice in this file", "keep one");
            }
        }
    }
    // Nothing is kept of a text with an error; of a sound one, every value wins.
    for (auto& [key, record] : records) {
        records_.insert_or_assign(key, std::move(record));
    }
    for (auto& [key, source] : sources) {
        sources_.insert_or_assign(key, std::move(source));
    }
    for (auto& [key, words] : headings) {
        headings_.insert_or_assign(key, std::move(words));
    }
    allowed_.insert(allowed_.begin(), allowed.begin(), allowed.end());
}

void Records::set(const std::string& key, std::string_view text, const std::string& where) {
    const auto found = records_.find(key);
    if (found == records_.end()) {
        unknown_key(*this, key, where);
    }
    Record& record = found->second;
    const double si = parse(text, dimension_of(record.unit), where + ' ' + key);
    record.note = "given by the user instead of " + significant(record.value, 6) + ' ' +
                  record.unit + " [" + record.source + ']';
    record.value = from_si(si, record.unit);
    record.spread = "none stated";
    record.valid.clear(); // the source's range says nothing about another value
    record.source = "flag";
    record.where = where;
    record.mark = 'U';
}

const Validity* Records::allowed(const std::string& key) const {
    const auto found = std::ranges::find_if(allowed_, [&](const Validity& range) {
        return fnmatch(range.quantity.c_str(), key.c_str(), 0) == 0;
    });
    return found == allowed_.end() ? nullptr : &*found;
}

void Records::check(const std::string& key, std::string_view text, const std::string& where) const {
    const Record* record = find(key);
    if (record == nullptr) {
        unknown_key(*this, key, where);
    }
    const double si = parse(text, dimension_of(record->unit), where);
    if (const Validity* range = allowed(key); range != nullptr && !holds(*range, si)) {
        const Range written = *split_range(range->text);
        throw InputError(
            where, trim(text),
            "must be from " + with_unit(written.low, written.unit) + " to " +
                with_unit(written.high, written.unit),
            "leave it out to use " +
                with_unit(significant(record->value, mover(key).empty() ? 6 : 3), record->unit));
    }
}

const Record& Records::use(const std::string& key) {
    const Record* record = find(key);
    if (record == nullptr) {
        unknown_key(*this, key, "");
    }
    if (std::ranges::find(used_, key) == used_.end()) {
        used_.push_back(key);
    }
    return *record;
}

double Records::si(const std::string& key) {
    return use(key).si();
}

const Record* Records::find(const std::string& key) const {
    const auto found = records_.find(key);
    return found == records_.end() ? nullptr : &found->second;
}

std::string Records::outside(const std::string& key, const std::string& quantity, double at) const {
    const Record* record = find(key);
    if (record == nullptr) {
        unknown_key(*this, key, "");
    }
    for (const Validity& range : record->valid) {
        if (range.quantity != quantity || holds(range, at)) {
            continue;
        }
        const std::string unit = split_range(range.text)->unit;
        const double value = from_si(at, unit);
        return quantity + ' ' + with_unit(significant(value, 3), unit) +
               " is outside the range of " + key + " [" + record->source + "], " + range.text;
    }
    return "";
}

std::vector<Record> Records::used() const {
    std::vector<Record> list;
    for (const std::string& key : used_) {
        list.push_back(records_.at(key));
    }
    return list;
}

std::vector<std::string> Records::keys() const {
    std::vector<std::string> list;
    for (const auto& [key, record] : records_) {
        list.push_back(key);
    }
    return list;
}

std::vector<std::string> Records::group(const std::string& prefix) const {
    const std::string head = prefix.empty() ? "" : prefix + '.';
    std::set<std::string> parts;
    for (const auto& [key, record] : records_) {
        if (key.starts_with(head)) {
            parts.insert(key.substr(head.size(), key.find('.', head.size()) - head.size()));
        }
    }
    return {parts.begin(), parts.end()};
}

std::string Records::heading(const std::string& section, const std::string& word) const {
    const auto found = headings_.find(section);
    if (found == headings_.end()) {
        return "";
    }
    const auto at = found->second.find(word);
    return at == found->second.end() ? "" : at->second;
}

const Source* Records::source(const std::string& key) const {
    const auto found = sources_.find(key);
    return found == sources_.end() ? nullptr : &found->second;
}

std::vector<std::string> Records::sources() const {
    std::vector<std::string> list;
    for (const auto& [key, source] : sources_) {
        list.push_back(key);
    }
    return list;
}

} // namespace tidemark::base
