// SPDX-License-Identifier: MIT
/// What the README prints is what its commands print: each block of text is the beginning of what
/// the command above it gives.
#include "run.hpp"

#include <catch2/catch.hpp>

#include <sstream>

namespace test_readme {

using namespace tidemark::cli;

TEST_CASE("the answers shown in the README are those of its commands", "[cli]") {
    const Folder folder;
    std::istringstream readme(contents(std::filesystem::path(TIDEMARK_SOURCE_DIR) / "README.md"));
    std::string command, shown, line;
    bool in_text = false, goes_on = false;
    int checked = 0;
    while (std::getline(readme, line)) {
        if (line == "```text") {
            in_text = true;
            shown.clear();
        } else if (in_text && line == "```") {
            in_text = false;
            const Ran ran = folder.run(command);
            CAPTURE(command, ran.err);
            CHECK(ran.code == 0);
            CHECK_THAT(ran.out, Catch::StartsWith(shown));
            ++checked;
        } else if (in_text) {
            shown += line + '\n';
        } else if (line.starts_with("    build/tidemark ") || goes_on) {
            const std::string text = line.substr(line.find_first_not_of(' '));
            command = goes_on ? command + ' ' + text : text.substr(text.find(' ') + 1);
            goes_on = command.ends_with("\\");
            if (goes_on)
                command.resize(command.size() - 1);
        }
    }
    CHECK(checked >= 1);
}

} // namespace test_readme
