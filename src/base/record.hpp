// SPDX-License-Identifier: MIT
/// Literature numbers as records, read from the texts in models/, with their bibliography.
/// Assumes every value is a scalar; tables are groups of scalars. Not for computed results.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tidemark::base {

/// Where a record may be used: low <= quantity <= high, both in SI.
struct Validity {
    std::string quantity; ///< e.g. "temperature", "brine salt"
    double low = 0;
    double high = 0;
    std::string text; ///< as written: "temperature 0 .. 20 C"
};

/// One literature number. `value` is as written in `unit`; `si()` converts.
struct Record {
    std::string key;    ///< "muscle.pork-loin.diffusivity-salt"
    double value = 0;   ///< in `unit`
    std::string unit;   ///< as a cook or a paper writes it; "1" for a pure number
    std::string spread; ///< "gsd 1.5", "sd 4", "range 0.88 .. 1.02" or "none stated"
    std::vector<Validity> valid;
    std::string source; ///< key into the bibliography, or "flag" for a value the user gave
    std::string where;  ///< table, equation or page in the source
    char mark = ' ';    ///< S seen, M from memory, C computed, J judgement, U user
    std::string note;   ///< what was converted and how

    double si() const; ///< `value` in SI; pure numbers unchanged
};

/// One entry of the bibliography.
struct Source {
    std::string key;
    std::string citation; ///< authors, year, title, place, DOI; one line
};

/// The library of records. Copyable; each copy has its own log of the records used.
class Records {
public:
    /// The records compiled into the program, moved to where models/posterior.ini puts their
    /// middles: the one place where that is done.
    static Records built_in();

    /// Reads one text in the format of models/ on top of what is there; later values win.
    /// `name` is the file name used in messages. Throws InputError with file and line; nothing of a
    /// text with an error is kept.
    void read(std::string_view text, const std::string& name);

    /// Replaces one value, written with its unit ("3e-10 m2/s"); source "flag", mark U. The key
    /// must exist (the nearest is named otherwise) and the unit must fit. `where` heads the
    /// message. The old source's spread and validity go with it, and the note tells what was
    /// replaced.
    void set(const std::string& key, std::string_view text, const std::string& where);

    /// What the value of a key may be set to, by the texts' [allowed]; `quantity` is the pattern
    /// that fitted. nullptr where nothing is said.
    const Validity* allowed(const std::string& key) const;
    /// Throws InputError unless `text` is a value that set() can take and the key may have. `where`
    /// heads the message. For what a user gives; set() itself asks for no range.
    void check(const std::string& key, std::string_view text, const std::string& where) const;

    /// The record, noted as used. Throws InputError naming the nearest key.
    const Record& use(const std::string& key);
    /// use(key).si()
    double si(const std::string& key);
    /// As use(), but nothing is noted and a missing key gives nullptr.
    const Record* find(const std::string& key) const;

    /// Checks an SI value against the record's validity for `quantity`; a text for a warning when
    /// it lies outside, empty when inside or when no range is stated. Throws InputError for an
    /// unknown key.
    std::string outside(const std::string& key, const std::string& quantity, double si) const;

    std::vector<Record> used() const;      ///< in order of first use
    std::vector<std::string> keys() const; ///< all, sorted
    std::vector<std::string>
    group(const std::string& prefix) const; ///< next key parts below prefix
    /// A word of a section without a value, heading("muscle.pork-loin", "cut"); "" where it has
    /// none.
    std::string heading(const std::string& section, const std::string& word) const;
    /// The section whose `moves` names a key, "posterior.pork-speed"; "" if there is none.
    std::string mover(const std::string& key) const;
    const Source* source(const std::string& key) const;
    std::vector<std::string> sources() const;

private:
    void move();
    std::map<std::string, Record> records_;
    std::map<std::string, Source> sources_;
    std::map<std::string, std::map<std::string, std::string>> headings_;
    std::vector<Validity> allowed_; ///< in the order of the text
    std::vector<std::string> used_;
};

} // namespace tidemark::base
