// SPDX-License-Identifier: MIT
#include "inference/notebook.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "inference/notebook_table.hpp"

#include <boost/algorithm/string.hpp>

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <initializer_list>
#include <string_view>
#include <utility>

namespace tidemark::inference {
namespace {

using base::InputError;
using Fields = std::vector<std::string>;

constexpr std::size_t longest_notebook = 16000 * base::kilobyte; ///< some fifty thousand batches
constexpr const char* bom = "\xEF\xBB\xBF";

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
    return Layout::own().first_line().starts_with(text);
}

/// Warnings of lines read though they were changed: few by themselves, many together.
void tell_changed(Notebook& book, const std::string& file, const std::vector<int>& lines) {
    constexpr std::size_t few = 3;
    const std::string what = " not as written, as when a spreadsheet saved ",
                      remedy = " as the table stands: hold that against your own notes, or take "
                               "out what is wrong";
    if (lines.size() > few) {
        book.warnings.push_back(file + ':' + std::to_string(lines.front()) + ": and " +
                                std::to_string(lines.size() - 1) + " more lines are" + what +
                                "them; they are read" + remedy);
        return;
    }
    for (const int line : lines) {
        book.warnings.push_back(file + ':' + std::to_string(line) + ": is" + what +
                                "it; it is read" + remedy);
    }
}

/// A file held for this process alone, or for readers only, until it is closed.
class Held {
public:
    Held(const std::string& path, int how, int lock) : path_(path) {
        do {
            file_ = open(path.c_str(), how, 0666);
            if (file_ < 0 || flock(file_, lock) != 0) {
                const std::string why = std::error_code(errno, std::generic_category()).message();
                if (file_ >= 0)
                    close(file_);
                throw base::RunError(path + ": cannot be opened: " + why);
            }
        } while (gave_way());
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
    /// While this waited another one may have been renamed to its place; then it is let go.
    bool gave_way() const {
        struct stat mine {
        }, there{};
        if (fstat(file_, &mine) != 0 || stat(path_.c_str(), &there) != 0 ||
            (mine.st_ino == there.st_ino && mine.st_dev == there.st_dev))
            return false;
        close(file_);
        return true;
    }

    std::string path_;
    int file_ = -1;
};

void check_name(const Batch& batch) {
    if (is_formula(batch.name)) {
        throw InputError("--batch", batch.name, "begins as a formula of a spreadsheet does",
                         "begin it with a letter or a digit");
    }
}

/// Where line `number` of a text begins, and where the next one does; equal if it has none.
std::pair<std::size_t, std::size_t> place_of(const std::string& text, int number) {
    std::size_t from = 0, to = 0;
    for (int k = 0; k < number && to < text.size(); ++k) {
        from = to;
        to = text.find_first_of("\r\n", from);
        to = to == std::string::npos ? text.size() : to + (text.substr(to, 2) == "\r\n" ? 2 : 1);
    }
    return {from, to};
}

bool same(const Batch& a, const Batch& b) {
    return a.date == b.date && a.name == b.name && a.slice == b.slice && a.command == b.command;
}

} // namespace

Notebook notebook_from_text(const std::string& bytes, const std::string& file) {
    const std::string text = without_bom(bytes);
    Notebook book;
    if (torn_header(text)) {
        return book;
    }
    const Fields lines = lines_of(text);
    const Layout layout = Layout::of(lines.front(), file + ":1");
    std::vector<int> changed;
    for (std::size_t i = 1; i < lines.size(); ++i) {
        const int number = static_cast<int>(i) + 1;
        Read read = read_line(lines[i], layout, number);
        if (read.empty) {
            continue;
        }
        if (read.fault.empty()) {
            book.batches.push_back(std::move(read.batch));
            if (read.changed)
                changed.push_back(number);
        } else {
            book.warnings.push_back(file + ':' + std::to_string(number) + ": " + read.fault +
                                    "; it is passed over: give that batch again");
        }
    }
    tell_changed(book, file, changed);
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
    check_name(batch);
    base::check_writable(path, where);
    const Held held(path, O_RDWR | O_APPEND | O_CREAT | O_CLOEXEC, LOCK_EX);
    const std::string bytes = base::read_bytes(path, where, longest_notebook);
    const std::string text = without_bom(bytes);
    const bool torn = torn_header(text);
    const Layout layout = torn ? Layout::own() : Layout::of(lines_of(text).front(), path + ":1");
    const std::string line = line_of(batch, layout, where);
    const auto said = [&](const Batch& b) {
        Batch bare = b; // predictions change as the shop learns
        bare.half.reset();
        bare.late.reset();
        return line_of(bare, layout, where);
    };
    const std::string now = said(batch);
    for (const Batch& old : notebook_from_text(text, path).batches) {
        if (old.slice.time == batch.slice.time && said(old) == now) {
            throw InputError(where, path + ':' + std::to_string(old.line),
                             "holds this batch already",
                             "give --date or --batch if it is another one");
        }
    }
    if (torn) {
        held.write(layout.first_line().substr(text.size()) + '\n' + line, bytes.size());
    } else {
        held.write((text.ends_with('\n') ? "" : "\n") + line, bytes.size());
    }
}

const Batch& earlier(const Notebook& book, const Batch& again, const std::string& where) {
    std::vector<const Batch*> found, of_case;
    for (const Batch& b : book.batches) {
        const bool dated = !b.date.empty() && !again.date.empty();
        if (b.muscle != again.muscle || b.slice.time != again.slice.time || b.name != again.name ||
            (dated && b.date != again.date))
            continue;
        found.push_back(&b);
        if (b.command == again.command)
            of_case.push_back(&b);
    }
    if (found.empty())
        throw InputError(where, "", "no line of the notebook is of this muscle, day and name",
                         "give them as in the line that is wrong; --undo takes out the last line");
    if (found.size() > 1)
        found.swap(of_case);
    if (found.size() != 1)
        throw InputError(where, "",
                         "more than one line of the notebook is of this muscle, day and name",
                         "give the --date of the one that is wrong, or take it out by hand");
    return *found.front();
}

void replace(const std::string& path, const std::string& where, const Batch& old,
             const Batch* instead) {
    if (instead)
        check_name(*instead);
    base::check_writable(path, where);
    const Held held(path, O_RDWR | O_CLOEXEC, LOCK_EX);
    std::string bytes = base::read_bytes(path, where, longest_notebook);
    const std::size_t head = bytes.size() - without_bom(bytes).size();
    std::string text = bytes.substr(head);
    const Notebook book = notebook_from_text(text, path);
    const auto there = std::ranges::find(book.batches, old.line, &Batch::line);
    if (there == book.batches.end() || !same(*there, old))
        throw InputError(where, path + ':' + std::to_string(old.line),
                         "is no longer the line that was read", "ask again");
    const Layout layout = Layout::of(lines_of(text).front(), path + ":1");
    const auto [from, to] = place_of(text, old.line);
    text.replace(from, to - from, instead ? line_of(*instead, layout, where) : "");
    base::write_file(path, bytes.substr(0, head) + text);
}

} // namespace tidemark::inference
