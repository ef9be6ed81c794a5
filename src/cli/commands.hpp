// SPDX-License-Identifier: MIT
/// The commands: what the help, the manual page and the completion of words all list.
#pragma once

#include <string>
#include <vector>

namespace tidemark::cli {

using Words = std::vector<std::string>; ///< behind the name of a command

struct Command {
    std::string name, purpose;
    void (*run)(const Words& words);
};

/// In the order in which they are told.
const std::vector<Command>& commands();

// They run. All throw InputError, before anything is written, and RunError.
/// `day`, `plan` and `bucket`: one question, asked of one engine; `sheet` asks the one of them that
/// the flags describe and writes the answer as a page.
void command_cure(const std::string& name, const Words& words);
/// Brine, needles, rub and bag side by side on one cut.
void command_choose(const Words& words);
/// Keeps what slices showed, and tells what they teach.
void command_learn(const Words& words);
/// What may have made a core grey.
void command_why(const Words& words);
/// A brine worked out before the meat goes in.
void command_brine(const Words& words);
/// Every literature number the program holds, with its source: all heads, those below one,
/// or --sources.
void command_numbers(const Words& words);
/// The cook's page and the apprentice's: they hold the whole program and need nothing else. They
/// refuse to fill a terminal.
void command_page(const Words& words);
void command_teach(const Words& words);
/// What the machine around the program reads, made of the same tables as the help: the manual page
/// in the language of man, and the completion for one shell.
void command_manual(const Words& words);
void command_completion(const Words& words);

} // namespace tidemark::cli
