// SPDX-License-Identifier: MIT
/// The flags of the commands, and what the cook wrote behind them on the line or in a case file.
/// Everything stays text here; case_from_options.hpp turns it into numbers.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace tidemark::cli {

/// One value as written, and the place to name when it is wrong: "--cooler" or "ham.ini:7: cooler".
struct Given {
    std::string text, where;
    bool on_line() const { return where.starts_with("--"); } ///< not in a case file
};

/// The key of a --set KEY=VALUE; all of a text without a "=".
std::string key_of(const Given& set);

/// The values by the name of their flag. Only `set`, `stage` and `with` may hold more.
class Options {
public:
    /// nullptr if the flag was not given.
    const Given* find(const std::string& name) const;
    /// Switches: given, and not turned off with "no" in the case file. Throws InputError for a word
    /// that is neither yes nor no.
    bool on(const std::string& name) const;
    const std::vector<Given>& all(const std::string& name) const;
    /// Throws InputError for a text that base::check_showable() refuses.
    void add(const std::string& name, const Given& given);
    void drop(const std::string& name) { values_.erase(name); }
    /// Adds what is not there yet. Of the flags that may hold more, a `set` of another key and
    /// every `with` are added too; a list of stages stands as a whole.
    void merge(const Options& file);

private:
    std::map<std::string, std::vector<Given>> values_;
};

/// The name under which a word without a flag is kept, where a command takes one.
constexpr const char* head_word = "HEAD";

/// Reads the words behind `tidemark COMMAND`, the case file among them if there is one, and the
/// user's standing defaults (units and law, from tidemark/defaults.ini in XDG_CONFIG_HOME or
/// ~/.config). The line wins over the case file, which may hold the flags of every command, and
/// that over the defaults. Throws InputError.
Options read_options(const std::vector<std::string>& words, const std::string& command);

/// Reads a file that describes a piece and nothing else. Throws InputError naming file and line.
Options read_piece_file(const Given& file);

/// Checks, before any work, that a sheet can be written. Throws InputError.
void check_sheet(const Given& file);

} // namespace tidemark::cli
