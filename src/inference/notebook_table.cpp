// SPDX-License-Identifier: MIT
/// The columns stand in two lists; what is read goes by name, what is checked by these lists'
/// order, so that moving a column changes nothing.
#include "inference/notebook_table.hpp"

#include "base/error.hpp"
#include "base/text.hpp"

#include <boost/algorithm/string.hpp>
#include <boost/crc.hpp>
#include <boost/format.hpp>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>

namespace tidemark::inference {
namespace {

using base::InputError;
using Fields = std::vector<std::string>;
using Values = std::map<std::string, std::string>; ///< by column

struct TextColumn {
    const char* name;
    std::string Batch::*member;
};
constexpr TextColumn texts[] = {{"date", &Batch::date},
                                {"batch", &Batch::name},
                                {"muscle", &Batch::muscle},
                                {"shape", &Batch::shape},
                                {"command", &Batch::command}};

/// A number that may be missing, as `scale` x what the table has + `shift` [SI], and how large it
/// may be in the table.
struct NumberColumn {
    const char* name;
    double scale, shift, least, most;
    std::optional<double>& (*of)(Batch&);
};
using Value = std::optional<double>;

template <Look look> Value& found(Batch& b) {
    return b.slice.found[static_cast<std::size_t>(look)];
}

constexpr double mm = 1e-3, day = 86400, thick = 600, never = 1e7;
constexpr NumberColumn numbers[] = {
    {"thickness_mm", mm, 0, 0, thick, [](Batch& b) -> Value& { return b.thickness; }},
    {"brine_salt_percent", 0.01, 0, 0, 100, [](Batch& b) -> Value& { return b.brine_salt; }},
    {"brine_nitrite_ppm", 1e-6, 0, 0, 1e6, [](Batch& b) -> Value& { return b.brine_nitrite; }},
    {"cooler_C", 1, 273.15, -20, 40, [](Batch& b) -> Value& { return b.cooler; }},
    {"ring_mm", mm, 0, 0, thick, [](Batch& b) -> Value& { return b.slice.every; }},
    {"ring_top_mm", mm, 0, 0, thick, [](Batch& b) -> Value& { return b.slice.top; }},
    {"ring_bottom_mm", mm, 0, 0, thick, [](Batch& b) -> Value& { return b.slice.bottom; }},
    {"ring_left_mm", mm, 0, 0, thick, [](Batch& b) -> Value& { return b.slice.left; }},
    {"ring_right_mm", mm, 0, 0, thick, [](Batch& b) -> Value& { return b.slice.right; }},
    {"grey_mm", mm, 0, 0, thick, [](Batch& b) -> Value& { return b.slice.core_height; }},
    {"grey_width_mm", mm, 0, 0, thick, [](Batch& b) -> Value& { return b.slice.core_width; }},
    {"found_thickness_mm", mm, 0, 0, thick, found<Look::thickness>},
    {"found_cooler_C", 1, 273.15, -20, 40, found<Look::cooler>},
    {"found_brine_salt_percent", 0.01, 0, 0, 100, found<Look::brine_salt>},
    {"found_brine_nitrite_ppm", 1e-6, 0, 0, 1e6, found<Look::brine_nitrite>},
    {"found_core_salt_percent", 0.01, 0, 0, 100, found<Look::core_salt>},
    {"found_ph", 1, 0, 3, 9, found<Look::ph>},
    {"found_mean_salt_percent", 0.01, 0, 0, 100, found<Look::mean_salt>},
    {"predicted_half_day", day, 0, 0, never, [](Batch& b) -> Value& { return b.half; }},
    {"predicted_late_day", day, 0, 0, never, [](Batch& b) -> Value& { return b.late; }},
};
constexpr const char* time_column = "day";
constexpr const char* through_column = "pink_through";
constexpr const char* check_column = "check";
/// All that may stand in a first line, in the order of the check; those without which nothing can
/// be learnt.
const Fields known{"date",
                   "batch",
                   "muscle",
                   "shape",
                   "thickness_mm",
                   "brine_salt_percent",
                   "brine_nitrite_ppm",
                   "cooler_C",
                   "day",
                   "ring_mm",
                   "ring_top_mm",
                   "ring_bottom_mm",
                   "ring_left_mm",
                   "ring_right_mm",
                   "grey_mm",
                   "grey_width_mm",
                   "pink_through",
                   "predicted_half_day",
                   "predicted_late_day",
                   "command",
                   "found_thickness_mm",
                   "found_cooler_C",
                   "found_brine_salt_percent",
                   "found_brine_nitrite_ppm",
                   "found_core_salt_percent",
                   "found_ph",
                   "found_mean_salt_percent",
                   "check"};
const Fields needed{"muscle", "day", "pink_through", "command"};

bool has(const Fields& fields, const std::string& name) {
    return std::ranges::count(fields, name) > 0;
}

bool is_number(const std::string& column) {
    return column == time_column || std::ranges::count(numbers, column, &NumberColumn::name) > 0;
}

std::string number_text(const Value& value) {
    return value && std::isfinite(*value) ? base::significant(*value, 8) : "";
}

/// A number with a point or a comma; none if it is no number.
Value number(std::string text) {
    boost::replace_all(text, ",", ".");
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool whole = error == std::errc() && end == text.data() + text.size();
    return whole && std::isfinite(value) ? Value(value) : std::nullopt;
}

/// As the program would write it, however a spreadsheet has.
std::string plain(const std::string& column, bool is_number, const std::string& text) {
    if (column == through_column) {
        const std::string word = boost::to_lower_copy(text);
        return word == "true" ? "yes" : word == "false" ? "no" : word;
    }
    const Value value = is_number ? number(text) : std::nullopt;
    return value ? number_text(value) : text;
}

/// Of all known fields but the check. It begins with a letter: a spreadsheet takes 1e234567 for a
/// number.
std::string check_of(const Values& values) {
    boost::crc_32_type crc;
    for (const std::string& column : known) {
        const auto value = values.find(column);
        if (column != check_column && value != values.end()) {
            crc.process_bytes(value->second.data(), value->second.size());
            crc.process_byte(0x1F);
        }
    }
    return (boost::format("x%08x") % crc.checksum()).str();
}

bool is_check(const std::string& text) {
    return text.size() == 9 && text[0] == 'x' &&
           std::all_of(text.begin() + 1, text.end(), boost::is_xdigit());
}

Fields split(const std::string& line, char separator) {
    Fields fields(1);
    bool quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        if (c == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
            fields.back() += line[++i];
        } else if (c == '"') {
            quoted = !quoted;
        } else if (c == separator && !quoted) {
            fields.emplace_back();
        } else {
            fields.back() += c;
        }
    }
    return fields;
}

std::string joined(Fields fields, char separator) {
    const std::string special{separator, '"'};
    for (std::string& field : fields) {
        if (field.find_first_of(special) != std::string::npos) {
            field = '"' + boost::replace_all_copy(field, "\"", "\"\"") + '"';
        }
    }
    return boost::join(fields, std::string(1, separator));
}

/// Why the values are no batch, or "".
std::string fault(const Values& values) {
    const auto empty = [&](const std::string& c) {
        return !values.count(c) || values.at(c).empty();
    };
    for (const std::string& column : needed) {
        if (empty(column)) {
            return "has no " + column;
        }
    }
    const std::string& through = values.at(through_column);
    if (through != "yes" && through != "no") {
        return "has " + base::shortened(through, 20) + " for pink_through, not yes or no";
    }
    if (const Value time = number(values.at(time_column)); !time || *time <= 0 || *time > never) {
        return "has " + base::shortened(values.at(time_column), 20) + " for day, which is no day";
    }
    for (const NumberColumn& c : numbers) {
        if (!empty(c.name)) {
            const std::string& text = values.at(c.name);
            if (const Value v = number(text); !v || *v < c.least || *v > c.most) {
                return "has " + base::shortened(text, 20) + " for " + c.name + ", which cannot be";
            }
        }
    }
    return "";
}

Batch batch_of(const Values& values, int line) {
    Batch batch;
    batch.line = line;
    const auto text = [&](const char* name) {
        const auto value = values.find(name);
        return value == values.end() ? std::string() : value->second;
    };
    for (const TextColumn& c : texts) {
        batch.*c.member = text(c.name);
    }
    for (const NumberColumn& c : numbers) {
        if (const Value value = number(text(c.name))) {
            c.of(batch) = *value * c.scale + c.shift;
        }
    }
    batch.slice.time = *number(text(time_column)) * day;
    batch.slice.through = text(through_column) == "yes";
    return batch;
}

Values values_of(Batch batch) {
    Values values;
    for (const TextColumn& c : texts) {
        values[c.name] = base::showable(batch.*c.member);
    }
    for (const NumberColumn& c : numbers) {
        const Value value = c.of(batch);
        values[c.name] = value ? number_text((*value - c.shift) / c.scale) : "";
    }
    values[time_column] = number_text(batch.slice.time / day);
    values[through_column] = batch.slice.through ? "yes" : "no";
    return values;
}

std::vector<Layout::Kind> kinds_of(const Fields& columns) {
    std::vector<Layout::Kind> kinds;
    for (const std::string& column : columns)
        kinds.push_back(!has(known, column) ? Layout::Kind::foreign
                        : is_number(column) ? Layout::Kind::number
                                            : Layout::Kind::text);
    return kinds;
}

} // namespace

Layout Layout::own() {
    return {',', known, kinds_of(known)};
}

Layout Layout::of(const std::string& line, const std::string& where) {
    const auto score = [](const Fields& fields) {
        return std::ranges::count_if(known, [&](const auto& c) { return has(fields, c); });
    };
    Layout best;
    for (const char separator : {',', ';', '\t'}) {
        Fields columns = split(line, separator);
        for (std::string& column : columns) {
            boost::trim(column);
        }
        if (score(columns) > score(best.columns)) {
            best = {separator, columns, kinds_of(columns)};
        }
    }
    if (score(best.columns) < 4) {
        const bool wide = line.starts_with("\xFF\xFE") || line.starts_with("\xFE\xFF");
        throw InputError(where, base::shortened(base::showable(line), 60),
                         "is not the first line of a notebook",
                         wide ? "it is UTF-16: save it as CSV in UTF-8"
                              : "name another file; a new one is begun as needed");
    }
    for (const std::string& column : needed) {
        if (!has(best.columns, column)) {
            throw InputError(where, base::shortened(line, 60),
                             "has no column " + column + ", without which nothing is learnt",
                             "put that column back, or take a copy of the notebook from before");
        }
    }
    return best;
}

std::string Layout::first_line() const {
    return joined(columns, separator);
}

std::string line_of(Batch batch, const Layout& layout, const std::string& where) {
    Values values = values_of(std::move(batch));
    for (const auto& [name, text] : values) {
        if (!text.empty() && !has(layout.columns, name)) {
            throw InputError(where, layout.columns.back(),
                             "is the last column of a notebook that has none for " + name,
                             "write " + std::string(1, layout.separator) + name +
                                 " at the end of its first line, or begin another notebook");
        }
    }
    std::erase_if(values, [&](const auto& v) { return !has(layout.columns, v.first); });
    values[check_column] = check_of(values);
    Fields fields;
    for (const std::string& column : layout.columns) {
        fields.push_back(values.count(column) ? values.at(column) : "");
    }
    return joined(fields, layout.separator) + '\n';
}

Read read_line(const std::string& text, const Layout& layout, int line) {
    const Fields fields = split(text, layout.separator);
    Read read;
    read.empty = std::ranges::all_of(fields, [](const auto& f) { return f.empty(); });
    Values values, raw; // as the program writes them; as they stand
    for (std::size_t k = 0; k < layout.columns.size(); ++k) {
        const std::string& column = layout.columns[k];
        if (layout.kinds[k] == Layout::Kind::foreign) {
            continue;
        }
        // A column that was written in after the line was leaves it short of an empty field.
        const bool added = column.starts_with("found_") && k >= fields.size();
        if (k >= fields.size() && !added) {
            read.fault = "was cut short or is not a notebook's line";
            return read;
        }
        if (!added) {
            raw[column] = boost::trim_copy(fields[k]);
            values[column] = plain(column, layout.kinds[k] == Layout::Kind::number, raw[column]);
        }
    }
    const auto last = std::min(fields.size(), layout.columns.size());
    if (std::any_of(fields.begin() + static_cast<std::ptrdiff_t>(last), fields.end(),
                    [](const std::string& f) { return !f.empty(); })) {
        read.fault = "has more fields than the first line has columns, as where commas stand both "
                     "in and between numbers";
        return read;
    }
    const std::string check = values.count(check_column) ? values[check_column] : "";
    if (has(layout.columns, check_column) && !is_check(check)) {
        read.fault = "was cut short or is not a notebook's line";
        return read;
    }
    read.fault = fault(values);
    read.changed = check != check_of(values) && check != check_of(raw);
    if (read.changed) { // a field that was empty, and no column then
        std::erase_if(values, [](const auto& v) {
            return v.first.starts_with("found_") && v.second.empty();
        });
        read.changed = check != check_of(values);
    }
    if (read.fault.empty()) {
        read.batch = batch_of(values, line);
    }
    return read;
}

} // namespace tidemark::inference
