// SPDX-License-Identifier: MIT
#include "cli/again.hpp"

#include "cli/flags.hpp"

#include <algorithm>
#include <cctype>

namespace tidemark::cli {

bool of_the_answer(const std::string& flag) {
    static const std::vector<std::string> flags{"at",       "json",   "csv",   "figure",
                                                "sheet",    "more",   "help",  "help-all",
                                                "calendar", "course", "quiet", "save"};
    return std::ranges::count(flags, flag) > 0;
}

std::string in_shell(const std::string& text) {
    const auto plain = [](char c) {
        return std::isalnum(static_cast<unsigned char>(c)) ||
               std::string("._-/=,:").find(c) != std::string::npos;
    };
    if (!text.empty() && std::ranges::all_of(text, plain))
        return text;
    if (text.find_first_of("\"$`\\!") == std::string::npos)
        return '"' + text + '"';
    std::string safe = "'";
    for (const char c : text)
        safe += c == '\'' ? "'\\''" : std::string(1, c);
    return safe + "'";
}

std::string asked_again(const Options& options, const std::string& command,
                        const std::vector<inference::ChangedFlag>& changed) {
    std::string line = "tidemark " + command;
    const auto flags = flags_of(command, true);
    for (const auto& flag : flags.options()) {
        const std::string& name = flag->long_name();
        bool other = false;
        for (const inference::ChangedFlag& c : changed)
            if (c.name == name) {
                line += " --" + name + ' ' + in_shell(c.text);
                other = true;
            }
        if (other)
            continue;
        if (of_the_answer(name))
            continue;
        for (const Given& given : options.all(name)) {
            if (!given.on_line())
                continue; // the case file says it
            line += " --" + name;
            if (flag->semantic()->max_tokens() > 0)
                line += ' ' + in_shell(given.text);
        }
    }
    return line;
}

} // namespace tidemark::cli
