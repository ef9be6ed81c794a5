// SPDX-License-Identifier: MIT
/// A page is its HTML with the other parts put where they are named: {{common.css}}.
#include "cli/command_page.hpp"

#include "base/embedded.hpp"
#include "base/error.hpp"

#include <unistd.h>

#include <algorithm>
#include <iostream>

namespace tidemark::cli {
namespace {

std::string page(const std::string& name) {
    const auto parts = base::embedded_page();
    const auto part = std::ranges::find(parts, name, &base::Embedded::name);
    if (part == parts.end())
        throw base::RunError("this build of the program holds no " + name);
    std::string text;
    const std::string whole(part->text);
    for (std::size_t from = 0; from < whole.size();) {
        const std::size_t mark = std::min(whole.find("{{", from), whole.size());
        text += whole.substr(from, mark - from);
        const std::size_t end = whole.find("}}", mark);
        if (end == std::string::npos)
            break;
        text += page(whole.substr(mark + 2, end - mark - 2));
        from = end + 2;
    }
    return text;
}

void print(const std::string& name, const std::string& what,
           const std::vector<std::string>& words) {
    const std::string command = "tidemark " + name, remedy = command + " > " + name + ".html";
    if (!words.empty() && words[0] != "--help")
        throw base::InputError("", words[0], "is more than tidemark " + name + " takes",
                               "see " + command + " --help");
    if (!words.empty()) {
        std::cout << remedy << '\n' << what;
        return;
    }
    if (isatty(STDOUT_FILENO) != 0)
        throw base::InputError("", "", "the page would fill the screen", "type " + remedy);
    std::cout << page(name + ".html");
}

} // namespace

void command_page(const std::vector<std::string>& words) {
    print("page",
          "Writes the cook's page: one file of a megabyte or two that holds this program, for the\n"
          "browser of a phone. It needs no network, and keeps your batches on the phone.\n",
          words);
}

void command_teach(const std::vector<std::string>& words) {
    print("teach",
          "Writes the apprentice's page: one file that holds this program. Move a slider and see "
          "how\n"
          "the cure goes in; six short lessons say what to look at. It can be printed.\n",
          words);
}

} // namespace tidemark::cli
