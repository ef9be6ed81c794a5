// SPDX-License-Identifier: MIT
/// How an answer is shown: how wide, in which units, how much of it, and whether a file takes its
/// place on standard output.
#pragma once

#include "cli/options.hpp"
#include "output/screen.hpp"

#include <sstream>
#include <streambuf>

namespace tidemark::cli {

/// Characters in a line of the terminal, 40 to 100: COLUMNS if it is set, else what the terminal
/// behind standard output has; `otherwise` where that is none.
std::size_t terminal_columns(std::size_t otherwise = 80);

/// While it stands, what is written to std::cout is held back; then its long lines are broken where
/// the terminal ends.
class Folded {
public:
    Folded();
    ~Folded();
    Folded(const Folded&) = delete;
    Folded& operator=(const Folded&) = delete;

private:
    std::ostringstream text_;
    std::streambuf* before_;
};

/// Prints `text` and the flags of a command, if --help or --help-all is among the options.
bool helped(const Options& options, const std::string& command, const std::string& text);

/// What the flags and the terminal say; from here on quantities are shown in the units asked for.
/// Throws InputError.
output::Shown shown_by(const Options& options);

/// The flag whose file is "-": it is written in place of the screen. Throws InputError if another
/// answer wants standard output as well. nullptr: none.
const Given* in_place_of_screen(const Options& options);

/// Throws InputError unless the file's name ends in `ending`, or is "-"; `like` is one that does.
void check_ending(const Given& file, const std::string& ending, const std::string& like);

} // namespace tidemark::cli
