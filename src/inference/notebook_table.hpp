// SPDX-License-Identifier: MIT
/// The table a notebook is kept in: its columns, one line as text, one line read. A line holds no
/// line break, whatever is in its quotes, so that a torn one never swallows the next. Read by the
/// names of the first line, so that a spreadsheet may have saved it with semicolons or tabs, with
/// decimal commas, or with columns of its own. Not for files: see notebook.hpp.
#pragma once

#include "inference/notebook.hpp"

#include <string>
#include <vector>

namespace tidemark::inference {

/// How a file writes its table: what parts the fields, and the first line.
struct Layout {
    char separator = ',';
    std::vector<std::string> columns; ///< as they stand, those of others too
    enum class Kind { text, number, foreign };
    std::vector<Kind> kinds; ///< of the columns

    /// The program's own.
    static Layout own();
    /// Of a first line; `where` ("FILE:1") heads the message. Throws base::InputError if it is not
    /// that of a notebook.
    static Layout of(const std::string& first_line, const std::string& where);

    std::string first_line() const; ///< without its line end
};

/// The batch as a line, its end included. Throws base::InputError, headed by `where`, if the table
/// has no column for something that was seen.
std::string line_of(Batch batch, const Layout& layout, const std::string& where);

/// A line read; `line` is its number. What is wrong with it, or "" and the batch is sound. A line
/// that does not fit its check, but is whole and can be read, is `changed`.
struct Read {
    Batch batch;
    std::string fault;
    bool changed = false, empty = false;
};
Read read_line(const std::string& text, const Layout& layout, int line);

} // namespace tidemark::inference
