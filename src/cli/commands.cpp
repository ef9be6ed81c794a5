// SPDX-License-Identifier: MIT
#include "cli/commands.hpp"

#include "cli/command_brine.hpp"
#include "cli/command_choose.hpp"
#include "cli/command_cure.hpp"
#include "cli/command_learn.hpp"
#include "cli/command_manual.hpp"
#include "cli/command_numbers.hpp"
#include "cli/command_page.hpp"
#include "cli/command_why.hpp"

namespace tidemark::cli {

const std::vector<Command>& commands() {
    static const std::vector<Command> all{
        {"day", "the best day to take a piece out of its brine, and how sure it is", command_day},
        {"plan", "a schedule of stages: brine, needles, rub, bag, soak, rest, with its dates",
         command_plan},
        {"bucket", "different pieces in one brine, and the slowest of them", command_bucket},
        {"choose", "brine, needles, rub and bag side by side on one cut", command_choose},
        {"sheet", "one page for the cooler's door: the answer, what to do when, room to write",
         command_sheet},
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
