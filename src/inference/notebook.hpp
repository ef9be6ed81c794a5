// SPDX-License-Identifier: MIT
/// A shop's notebook: every batch that was sliced, one line each, in a plain table (RFC 4180) that
/// a spreadsheet opens. Lines are added, and taken out only where that is asked for. Each ends in a
/// check of what it says, so that one that was cut short or changed is known and passed over. POSIX
/// only; to be looked at in a spreadsheet, not saved from there.
#pragma once

#include "inference/slice.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::inference {

/// One batch. All but the command and the slice is for the reader of the table.
struct Batch {
    std::string date, name; ///< as given; may be empty
    std::string muscle, shape;
    std::optional<double> thickness;                 ///< [m]
    std::optional<double> brine_salt, brine_nitrite; ///< [kg per kg brine]
    std::optional<double> cooler;                    ///< [K]
    Slice slice;                      ///< what was seen; its reading error is not kept
    std::optional<double> half, late; ///< pull days predicted before the slice [s]
    std::string command;              ///< "tidemark day --muscle ...": asks the case again
    int line = 0;                     ///< of the file; set on reading
};

struct Notebook {
    std::vector<Batch> batches;
    std::vector<std::string> warnings; ///< lines passed over, "FILE:LINE: WHY"
};

/// Reads a notebook's text. Line ends of any kind and a byte-order mark are accepted; a text
/// without any line is an empty notebook. Throws base::InputError if the first line is not a
/// notebook's.
Notebook notebook_from_text(const std::string& text, const std::string& file_name);

/// Reads the file. Throws base::InputError, headed by `where`, if there is none.
Notebook read_notebook(const std::string& path, const std::string& where);

/// Adds a batch behind what is there with one write, and waits until it is on the disk; makes the
/// file if there is none. Another writer is waited for. Throws base::InputError for a name that a
/// spreadsheet would take for a formula, a batch that is there already, and a file that is no
/// notebook or cannot be written; base::RunError if the write fails half way: the torn line is then
/// passed over by the next reader.
void append(const std::string& path, const std::string& where, const Batch& batch);

/// The batch that `again` corrects: of the same muscle, day and name, and of the same date where
/// both have one; of several, the one of the same case. Throws base::InputError, headed by `where`,
/// if there is none, or more than one.
const Batch& earlier(const Notebook& book, const Batch& again, const std::string& where);

/// Takes the line of `old` out, or puts `instead` in its place; the other lines stay as they are.
/// The file is written aside and renamed, and another writer waited for. Throws base::InputError as
/// append(), or if the line is no longer as it was read; base::RunError if it cannot be written,
/// and then nothing is changed.
void replace(const std::string& path, const std::string& where, const Batch& old,
             const Batch* instead = nullptr);

} // namespace tidemark::inference
