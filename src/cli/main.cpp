// SPDX-License-Identifier: MIT
/// The program: finds the command, runs it, and turns failures into one line and an exit code:
/// 0 done, 1 something failed while running, 2 the input cannot be used.
#include "base/error.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "cli/door.hpp"
#include "cli/screen_from_options.hpp"
#include "cli/version.hpp"

#include <algorithm>
#include <iostream>

#ifdef __GLIBC__
#include <malloc.h>
#endif

namespace {

using namespace tidemark;

void help() {
    cli::Folded to_the_terminal;
    std::cout << "tidemark predicts how a cure moves into whole muscle in brine.\n\n";
    for (const cli::Command& command : cli::commands()) {
        std::string name = command.name;
        name.resize(12, ' ');
        std::cout << "  tidemark " << name << command.purpose << '\n';
    }
    std::cout << "\n  tidemark COMMAND --help   its flags\n"
                 "  tidemark --version\n\n"
                 "Curing with nitrite can hurt people when it goes wrong. Weigh it, keep to your\n"
                 "local code, and do not let a number from a program outrank either.\n"
                 "Exit code: 0 done, 1 failed while running, 2 the input cannot be used.\n";
}

void run(std::vector<std::string> words) {
    if (words.empty()) {
        throw base::InputError("", "", "no command was given", "see tidemark --help");
    }
    const std::vector<cli::Command>& all = cli::commands();
    const std::string name = words[0];
    std::ranges::replace(words, "-h", "--help");
    if (name == "help" && words.size() > 1) {
        if (words.size() > 2) {
            throw base::InputError("help", words[2], "is a second command",
                                   "ask for one at a time");
        }
        run({words[1], "--help"});
    } else if (words[0] == "--help" || name == "help") {
        help();
    } else if (name == "--version" || name == "-V") {
        std::cout << cli::version_text();
    } else if (const auto found = std::ranges::find(all, name, &cli::Command::name);
               found != all.end()) {
        words.erase(words.begin());
        found->run(words);
    } else {
        std::vector<std::string> names;
        std::ranges::transform(all, std::back_inserter(names), &cli::Command::name);
        const std::string near = base::nearest(name, names);
        throw base::InputError("", name, "is not a command",
                               near.empty() ? "see tidemark --help" : "did you mean " + near + "?");
    }
}

} // namespace

int main(int count, char** words) {
#ifdef __GLIBC__
    // A solve makes and drops many blocks of some megabytes. Given back to the system each time,
    // their page faults cost as much as the arithmetic.
    mallopt(M_MMAP_THRESHOLD, 1 << 30);
    mallopt(M_TRIM_THRESHOLD, 1 << 30);
    mallopt(M_TOP_PAD, 32 << 20);
#endif
    cli::Door door;
    const auto say = [](const std::exception& error) {
        std::cerr << "tidemark: " << base::showable(error.what()) << '\n';
    };
    try {
        run({words + 1, words + count});
        door.close();
        return 0;
    } catch (const base::InputError& error) {
        say(error);
        return 2;
    } catch (const std::exception& error) {
        say(error);
        return 1;
    }
}
