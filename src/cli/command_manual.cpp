// SPDX-License-Identifier: MIT
#include "cli/commands.hpp"

#include "base/error.hpp"
#include "base/record.hpp"
#include "cli/flags.hpp"
#include "cli/version.hpp"
#include "materials/targets.hpp"

#include <boost/algorithm/string/join.hpp>
#include <boost/algorithm/string/replace.hpp>

#include <iostream>
#include <map>

namespace tidemark::cli {
namespace {

/// One flag as a command has it.
struct Flag {
    std::string name, takes, text; ///< `takes` is empty for a switch
    bool file() const { return takes == "FILE"; }
};

std::vector<Flag> flags(const std::string& command) {
    std::vector<Flag> list;
    const auto table = flags_of(command, true);
    for (const auto& option : table.options())
        list.push_back({option->long_name(),
                        option->semantic()->max_tokens() > 0 ? option->semantic()->name() : "",
                        option->description()});
    return list;
}

/// What the values of some flags are chosen from.
std::vector<std::string> choices(const std::string& flag) {
    static const base::Records records = base::Records::built_in();
    if (flag == "muscle" || flag == "cut")
        return records.group(flag);
    if (flag == "premix-kind")
        return materials::premix_names(records);
    if (flag == "afterwards")
        return materials::ways_afterwards();
    if (flag == "way")
        return {"brine", "needles", "rub", "bag"};
    return {};
}

bool asks_help(const std::vector<std::string>& words, const std::string& text) {
    const bool asked = words.size() == 1 && words[0] == "--help";
    if (asked)
        std::cout << text;
    return asked;
}

/// Text as it may stand in a manual page.
std::string roff(std::string text) {
    boost::replace_all(text, "\\", "\\e");
    boost::replace_all(text, "-", "\\-");
    boost::replace_all(text, "'", "\\(aq");
    return text.starts_with('.') ? "\\&" + text : text;
}

/// Text between single quotes, for bash and zsh.
std::string quoted(std::string text) {
    boost::replace_all(text, "'", "'\\''");
    return '\'' + text + '\'';
}

std::string names_of(const std::vector<Flag>& list, bool files_only) {
    std::string text;
    for (const Flag& f : list)
        if (!files_only || f.file())
            text += (text.empty() ? "--" : files_only ? "|--" : " --") + f.name;
    return text;
}

void bash() {
    std::vector<std::string> names;
    std::map<std::string, Flag> all;
    std::cout
        << "# bash completion of tidemark; made by tidemark completion bash\n"
           "_tidemark() {\n"
           "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} flags=\n"
           "    COMPREPLY=()\n"
           "    case ${COMP_WORDS[1]} in\n";
    for (const Command& command : commands()) {
        const std::vector<Flag> list = flags(command.name);
        names.push_back(command.name);
        std::cout << "    " << command.name << ") flags=" << quoted(names_of(list, false))
                  << " ;;\n";
        for (const Flag& f : list)
            all.emplace(f.name, f);
    }
    std::vector<Flag> once;
    for (const auto& [name, flag] : all)
        once.push_back(flag);
    std::cout << "    esac\n"
                 "    if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
                 "        COMPREPLY=($(compgen -W "
              << quoted(boost::algorithm::join(names, " ") + " --help --version")
              << " -- \"$word\"))\n"
                 "        return\n"
                 "    fi\n"
                 "    case $before in\n"
                 "    "
              << names_of(once, true)
              << ") COMPREPLY=($(compgen -f -- \"$word\")) ;;\n"
                 "    completion) COMPREPLY=($(compgen -W 'bash zsh fish' -- \"$word\")) ;;\n";
    for (const Flag& f : once)
        if (const auto values = choices(f.name); !values.empty())
            std::cout << "    --" << f.name << ") COMPREPLY=($(compgen -W "
                      << quoted(boost::algorithm::join(values, " ")) << " -- \"$word\")) ;;\n";
    std::cout << "    *) COMPREPLY=($(compgen -W \"$flags\" -- \"$word\")) ;;\n"
                 "    esac\n"
                 "}\n"
                 "complete -o filenames -F _tidemark tidemark\n";
}

void zsh() {
    std::cout << "#compdef tidemark\n"
                 "# zsh completion of tidemark; made by tidemark completion zsh\n"
                 "_tidemark() {\n"
                 "    if (( CURRENT == 2 )); then\n"
                 "        local -a commands=(\n";
    for (const Command& command : commands())
        std::cout << "            "
                  << quoted(command.name + ':' +
                            boost::replace_all_copy(command.purpose, ":", "\\:"))
                  << '\n';
    std::cout << "        )\n"
                 "        _describe command commands\n"
                 "        return\n"
                 "    fi\n"
                 "    shift words\n"
                 "    (( CURRENT-- ))\n"
                 "    case $words[1] in\n";
    for (const Command& command : commands()) {
        std::cout << "    " << command.name << ") _arguments";
        for (const Flag& f : flags(command.name)) {
            std::string text = f.text;
            for (const char* sign : {"\\", "[", "]", ":"})
                boost::replace_all(text, sign, std::string("\\") + sign);
            const auto values = choices(f.name);
            const std::string action = f.file() ? "_files"
                                       : values.empty()
                                           ? " "
                                           : '(' + boost::algorithm::join(values, " ") + ')';
            std::cout << " \\\n        "
                      << quoted("*--" + f.name + '[' + text + ']' +
                                (f.takes.empty() ? "" : ':' + f.takes + ':' + action));
        }
        std::cout << (command.name == "completion" ? " \\\n        '1:shell:(bash zsh fish)'" : "")
                  << " ;;\n";
    }
    std::cout << "    esac\n"
                 "}\n"
                 "_tidemark \"$@\"\n";
}

void fish() {
    const auto fish_quoted = [](std::string text) {
        boost::replace_all(text, "\\", "\\\\");
        boost::replace_all(text, "'", "\\'");
        return '\'' + text + '\'';
    };
    std::cout << "# fish completion of tidemark; made by tidemark completion fish\n"
                 "complete -c tidemark -f\n";
    for (const Command& command : commands())
        std::cout << "complete -c tidemark -n __fish_use_subcommand -a " << command.name << " -d "
                  << fish_quoted(command.purpose) << '\n';
    std::cout
        << "complete -c tidemark -n '__fish_seen_subcommand_from completion' -a 'bash zsh fish'\n";
    for (const Command& command : commands())
        for (const Flag& f : flags(command.name)) {
            const auto values = choices(f.name);
            std::cout << "complete -c tidemark -n '__fish_seen_subcommand_from " << command.name
                      << "' -l " << f.name
                      << (f.file()          ? " -r -F"
                          : f.takes.empty() ? ""
                                            : " -x")
                      << (values.empty()
                              ? ""
                              : " -a " + fish_quoted(boost::algorithm::join(values, " ")))
                      << " -d " << fish_quoted(f.text) << '\n';
        }
}

} // namespace

void command_manual(const std::vector<std::string>& words) {
    if (asks_help(words, "tidemark manual > tidemark.1\nPrints the manual page; man ./tidemark.1 "
                         "shows it.\n"))
        return;
    if (!words.empty())
        throw base::InputError("", words[0], "is more than tidemark manual takes",
                               "see tidemark manual --help");
    // The flags of all commands, by name; where commands tell one in other words, once for each.
    std::map<std::string, std::vector<std::pair<Flag, std::vector<std::string>>>> all;
    for (const Command& command : commands())
        for (const Flag& f : flags(command.name)) {
            auto& ways = all[f.name];
            const auto same = std::ranges::find_if(
                ways, [&](const auto& way) { return way.first.text == f.text; });
            if (same == ways.end())
                ways.push_back({f, {command.name}});
            else
                same->second.push_back(command.name);
        }
    std::cout
        << ".TH TIDEMARK 1 " << models_date() << " \"tidemark " TIDEMARK_VERSION "\"\n"
        << ".SH NAME\ntidemark \\- how a cure moves into whole muscle, and on which day it is "
           "done\n"
           ".SH SYNOPSIS\n.B tidemark\n.I COMMAND\n.RI [ flags ]\n.br\n"
           ".B tidemark\n.I COMMAND\n.B \\-\\-help\n.br\n"
           ".B tidemark\n.B \\-\\-version\n"
           ".SH DESCRIPTION\nTells on which day a piece of meat in brine, under a rub or after "
           "needles is cured to the core,\nhow sure that is, and what to change.\n"
           "Values carry their unit as a cook writes it: 65 mm, 2.5 in, 38 F, 6 L, 150 ppm, "
           "6 %.\n"
           ".SH COMMANDS\n";
    for (const Command& command : commands())
        std::cout << ".TP\n.B " << roff(command.name) << '\n' << roff(command.purpose) << '\n';
    std::cout << ".SH FLAGS\n";
    for (const auto& [name, ways] : all)
        for (const auto& [f, of] : ways) {
            std::cout << ".TP\n.B " << roff("--" + name);
            if (!f.takes.empty())
                std::cout << " \\fI" << roff(f.takes) << "\\fR";
            std::cout << '\n'
                      << roff(f.text) << "\n(" << roff(boost::algorithm::join(of, ", ")) << ")\n";
        }
    std::cout
        << ".SH EXIT STATUS\n0 done, 1 failed while running, 2 the input cannot be used.\n"
           ".SH CAUTIONS\nCuring with nitrite can hurt people when it goes wrong. Weigh it, "
           "keep to your local code,\nand do not let a number from a program outrank either.\n";
}

void command_completion(const std::vector<std::string>& words) {
    if (asks_help(words,
                  "tidemark completion SHELL\nPrints what a shell needs to complete commands "
                  "and flags; SHELL is bash, zsh or fish.\nFor one session of bash: "
                  "source <(tidemark completion bash)\n"))
        return;
    const std::map<std::string, void (*)()> shells{{"bash", bash}, {"zsh", zsh}, {"fish", fish}};
    const auto shell = words.size() == 1 ? shells.find(words[0]) : shells.end();
    if (shell == shells.end())
        throw base::InputError("", words.empty() ? "" : words.back(),
                               words.empty() ? "no shell was named" : "is no shell it knows",
                               "type tidemark completion bash, zsh or fish");
    shell->second();
}

} // namespace tidemark::cli
