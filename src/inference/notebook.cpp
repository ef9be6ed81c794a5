// SPDX-License-Identifier: MIT
/// The table's columns stand in one list. A line holds no line break, whatever is in its quotes, so
/// that a torn one never swallows the next.
#include "inference/notebook.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "base/text.hpp"

#include <boost/algorithm/string.hpp>
#include <boost/crc.hpp>
#include <boost/format.hpp>

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <initializer_list>
#include <string_view>

namespace tidemark::inference {
namespace {

using base::InputError;
using Fields = std::vector<std::string>;

constexpr std::size_t longest_notebook = 16000 * base::kilobyte; ///< some fifty thousand batches
constexpr const char* bom = "\xEF\xBB\xBF";

struct TextColumn {
    const char* name;
    std::string Batch::*member;
};
constexpr TextColumn texts[] = {{"date", &Batch::date},
                                {"batch", &Batch::name},
                                {"muscle", &Batch::muscle},
                                {"shape", &Batch::shape},
                                {"command", &Batch::command}};

/// A number that may be missing, as `scale` x what the table has + `shift` [SI].
struct NumberColumn {
    const char* name;
    double scale, shift;
    std::optional<double>& (*of)(Batch&);
};
using Value = std::optional<double>;
constexpr double mm = 1e-3, day = 86400;
constexpr NumberColumn numbers[] = {
    {"thickness_mm", mm, 0, [](Batch& b) -> Value& { return b.thickness; }},
    {"brine_salt_percent", 0.01, 0, [](Batch& b) -> Value& { return b.brine_salt; }},
    {"brine_nitrite_ppm", 1e-6, 0, [](Batch& b) -> Value& { return b.brine_nitrite; }},
    {"cooler_C", 1, 273.15, [](Batch& b) -> Value& { return b.cooler; }},
    {"ring_mm", mm, 0, [](Batch& b) -> Value& { return b.slice.every; }},
    {"ring_top_mm", mm, 0, [](Batch& b) -> Value& { return b.slice.top; }},
    {"ring_bottom_mm", mm, 0, [](Batch& b) -> Value& { return b.slice.bottom; }},
    {"ring_left_mm", mm, 0, [](Batch& b) -> Value& { return b.slice.left; }},
    {"ring_right_mm", mm, 0, [](Batch& b) -> Value& { return b.slice.right; }},
    {"grey_mm", mm, 0, [](Batch& b) -> Value& { return b.slice.core_height; }},
    {"grey_width_mm", mm, 0, [](Batch& b) -> Value& { return b.slice.core_width; }},
    {"predicted_half_day", day, 0, [](Batch& b) -> Value& { return b.half; }},
    {"predicted_late_day", day, 0, [](Batch& b) -> Value& { return b.late; }},
};
const Fields columns{"date",
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
                     "check"};

std::string header() {
    return boost::join(columns, ",");
}

std::string& at(Fields& fields, const char* name) {
    return fields[static_cast<std::size_t>(std::ranges::find(columns, name) - columns.begin())];
}

/// Of all fields but the last, so that other quotes or line ends around them do not matter. It
/// begins with a letter: a spreadsheet takes 1e234567 for a number.
std::string check_of(const Fields& fields) {
    boost::crc_32_type crc;
    for (std::size_t k = 0; k + 1 < columns.size(); ++k) {
        crc.process_bytes(fields[k].data(), fields[k].size());
        crc.process_byte(0x1F);
    }
    return (boost::format("x%08x") % crc.checksum()).str();
}

/// Whether a spreadsheet may take a text for a formula: by its first sign that is no white space,
/// in the narrow or the wide form.
bool is_formula(std::string_view text) {
    const auto skip = [&](std::initializer_list<const char*> starts) {
        return std::ranges::any_of(starts, [&](std::string_view start) {
            const bool found = text.starts_with(start);
            text.remove_prefix(found ? start.size() : 0);
            return found;
        });
    };
    while (skip({" ", "\t", "\r", "\n", "\f", "\v", "\u00A0", "\u3000", "\uFEFF"})) {
    }
    return skip({"=", "+", "-", "@", "\uFF1D", "\uFF0B", "\uFF0D", "\uFF20"});
}

std::string number_text(const Value& value) {
    return value && std::isfinite(*value) ? base::significant(*value, 8) : "";
}

std::string line_of(Batch batch) {
    Fields fields(columns.size());
    for (const TextColumn& c : texts) {
        at(fields, c.name) = batch.*c.member = base::showable(batch.*c.member);
    }
    for (const NumberColumn& c : numbers) {
        if (const Value value = c.of(batch)) {
            at(fields, c.name) = number_text((*value - c.shift) / c.scale);
        }
    }
    at(fields, "day") = number_text(batch.slice.time / day);
    at(fields, "pink_through") = batch.slice.through ? "yes" : "no";
    fields.back() = check_of(fields);
    for (std::string& field : fields) {
        if (field.find_first_of(",\"") != std::string::npos) {
            field = '"' + boost::replace_all_copy(field, "\"", "\"\"") + '"';
        }
    }
    return boost::join(fields, ",") + '\n';
}

Fields split(const std::string& line) {
    Fields fields(1);
    bool quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        if (c == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
            fields.back() += line[++i];
        } else if (c == '"') {
            quoted = !quoted;
        } else if (c == ',' && !quoted) {
            fields.emplace_back();
        } else {
            fields.back() += c;
        }
    }
    return fields;
}

/// Why a line cannot be used, or "". Only what was written by line_of() passes the check, so the
/// numbers behind it are sound.
std::string fault(const Fields& fields) {
    if (fields.size() != columns.size()) {
        return "was cut short or is not a notebook's line";
    }
    return fields.back() == check_of(fields) ? "" : "is not as it was written";
}

double number(const std::string& text) {
    double value = std::nan("");
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value;
}

Batch batch_of(Fields fields, int line) {
    Batch batch;
    batch.line = line;
    for (const TextColumn& c : texts) {
        batch.*c.member = at(fields, c.name);
    }
    for (const NumberColumn& c : numbers) {
        if (const std::string& text = at(fields, c.name); !text.empty()) {
            c.of(batch) = number(text) * c.scale + c.shift;
        }
    }
    batch.slice.time = number(at(fields, "day")) * day;
    batch.slice.through = at(fields, "pink_through") == "yes";
    return batch;
}

std::string without_bom(const std::string& text) {
    return text.starts_with(bom) ? text.substr(3) : text;
}

Fields lines_of(std::string text) {
    boost::replace_all(text, "\r\n", "\n");
    boost::replace_all(text, "\r", "\n");
    Fields lines;
    boost::split(lines, text, [](char c) { return c == '\n'; });
    return lines;
}

/// The first line, cut short by a crash while the file was made.
bool torn_header(const std::string& text) {
    return header().starts_with(text);
}

/// A file held for this process alone, or for readers only, until it is closed.
class Held {
public:
    Held(const std::string& path, int how, int lock)
        : path_(path), file_(open(path.c_str(), how, 0666)) {
        if (file_ < 0 || flock(file_, lock) != 0) {
            const std::string why = std::error_code(errno, std::generic_category()).message();
            if (file_ >= 0)
                close(file_);
            throw base::RunError(path + ": cannot be opened: " + why);
        }
    }
    ~Held() { close(file_); }
    Held(const Held&) = delete;
    Held& operator=(const Held&) = delete;

    /// Adds text to what is `there` [bytes]; nothing, if not all of it can be written.
    void write(const std::string& text, std::size_t there) const {
        try {
            base::write_all(file_, text, path_);
        } catch (const base::RunError&) {
            if (ftruncate(file_, static_cast<off_t>(there)) == 0 && there == 0) {
                unlink(path_.c_str());
            }
            throw;
        }
    }

private:
    std::string path_;
    int file_;
};

} // namespace

Notebook notebook_from_text(const std::string& bytes, const std::string& file) {
    const std::string text = without_bom(bytes);
    Notebook book;
    if (torn_header(text)) {
        return book;
    }
    const Fields lines = lines_of(text);
    if (split(lines.front()) != columns) {
        throw InputError(file + ":1", base::shortened(lines.front(), 60),
                         "is not the first line of a notebook",
                         "name another file; a new one is begun as needed");
    }
    for (std::size_t i = 1; i < lines.size(); ++i) {
        if (lines[i].empty()) {
            continue;
        }
        const Fields fields = split(lines[i]);
        const std::string why = fault(fields);
        if (why.empty()) {
            book.batches.push_back(batch_of(fields, static_cast<int>(i) + 1));
        } else {
            book.warnings.push_back(file + ':' + std::to_string(i + 1) + ": " + why +
                                    "; it is passed over: give that batch again");
        }
    }
    return book;
}

Notebook read_notebook(const std::string& path, const std::string& where) {
    if (path == base::standard_stream) {
        return notebook_from_text(base::read_bytes(path, where, longest_notebook), path);
    }
    std::error_code ignored;
    if (!std::filesystem::is_regular_file(path, ignored)) {
        throw InputError(where, path, "is not a file",
                         "begin one: tidemark learn --notebook FILE "
                         "with a batch");
    }
    if (access(path.c_str(), R_OK) != 0) {
        throw InputError(where, path, "cannot be read", "check its permissions");
    }
    const Held held(path, O_RDONLY | O_CLOEXEC, LOCK_SH);
    return notebook_from_text(base::read_bytes(path, where, longest_notebook), path);
}

void append(const std::string& path, const std::string& where, const Batch& batch) {
    if (is_formula(batch.name)) {
        throw InputError("--batch", batch.name, "begins as a formula of a spreadsheet does",
                         "begin it with a letter or a digit");
    }
    base::check_writable(path, where);
    const Held held(path, O_RDWR | O_APPEND | O_CREAT | O_CLOEXEC, LOCK_EX);
    const std::string bytes = base::read_bytes(path, where, longest_notebook);
    const std::string text = without_bom(bytes), line = line_of(batch);
    const auto said = [](const Batch& b) {
        Batch bare = b; // predictions change as the shop learns
        bare.half.reset();
        bare.late.reset();
        return line_of(bare);
    };
    const std::string now = said(batch);
    for (const Batch& old : notebook_from_text(text, path).batches) {
        if (said(old) == now) {
            throw InputError(where, path + ':' + std::to_string(old.line),
                             "holds this batch already",
                             "give --date or --batch if it is another one");
        }
    }
    if (torn_header(text)) {
        held.write(header().substr(text.size()) + '\n' + line, bytes.size());
    } else {
        held.write((text.ends_with('\n') ? "" : "\n") + line, bytes.size());
    }
}

} // namespace tidemark::inference
