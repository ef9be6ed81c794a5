// SPDX-License-Identifier: MIT
#include "cli/commands.hpp"

namespace tidemark::cli {

const std::vector<Command>& commands() {
    static const std::vector<Command> all{
        {"day", "the best day to take a piece out of its brine, and how sure it is",
         [](const Words& words) { command_cure("day", words); }},
        {"plan", "a schedule of stages: brine, needles, rub, bag, soak, rest, with its dates",
         [](const Words& words) { command_cure("plan", words); }},
        {"bucket", "different pieces in one brine, and the slowest of them",
         [](const Words& words) { command_cure("bucket", words); }},
        {"choose", "brine, needles, rub and bag side by side on one cut", command_choose},
        {"sheet", "one page for the cooler's door: the answer, what to do when, room to write",
         [](const Words& words) { command_cure("sheet", words); }},
        {"learn", "what slices of your own meat teach, kept in a notebook", command_learn},
        {"why", "why a core is grey: the causes, how likely each is, and what to check",
         command_why},
        {"brine", "how strong and legal a brine is, or what to weigh out for one, or dry",
         command_brine},
        {"numbers", "the numbers the program uses, with their sources", command_numbers},
        {"page", "this program as a page for the phone in the kitchen", command_page},
        {"teach", "a page of lessons: move something, see what follows", command_teach},
        {"manual", "the manual page, as man reads it", command_manual},
        {"completion", "what a shell needs to complete words: bash, zsh or fish",
         command_completion},
    };
    return all;
}

} // namespace tidemark::cli
