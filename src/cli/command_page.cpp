// SPDX-License-Identifier: MIT
/// A page is its HTML with the other parts put where they are named: {{common.css}}.
#include "cli/commands.hpp"

#include "base/embedded.hpp"
#include "base/error.hpp"
#include "cli/options.hpp"
#include "cli/question_from_options.hpp"
#include "cli/shop.hpp"
#include "inference/answer.hpp"
#include "materials/targets.hpp"
#include "output/gnuplot.hpp"
#include "output/teaching_figure.hpp"

#include <unistd.h>

#include <algorithm>
#include <iostream>
#include <limits>

namespace tidemark::cli {
namespace {

std::string assembled(const std::string& name) {
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
        text += assembled(whole.substr(mark + 2, end - mark - 2));
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
    std::cout << assembled(name + ".html");
}

/// What the program answers of an invented loin, for thicknesses an apprentice meets.
void draw_thickness(const Given& file) {
    const std::vector<std::string> loin{"--muscle",        "pork-loin", "--brine-salt", "5 %",
                                        "--brine-nitrite", "150 ppm",   "--cooler",     "4 C"};
    const auto asked = [&](int mm, const std::string& shape, const std::string& loss, int draws) {
        std::vector<std::string> words = loin;
        words.insert(words.end(), {"--thickness", std::to_string(mm) + " mm", "--shape", shape});
        if (!loss.empty())
            words.insert(words.end(), {"--loss", loss});
        base::Records records = base::Records::built_in();
        const Options options = read_options(words, "day");
        const AskedQuestion question = question_from_options(options, "day", records);
        inference::Wanted wanted;
        wanted.ask.draws = draws;
        wanted.changes = false;
        return inference::answer(question.question, records, OwnShop(options).inputs_of(records),
                                 wanted);
    };
    const auto cured = [](const inference::Answer& a) {
        return a.outcome.first().cured.value_or(std::numeric_limits<double>::quiet_NaN());
    };
    output::check_figure(file.text, file.where);
    std::vector<output::DaysOfThickness> rows;
    for (int mm = 20; mm <= 120; mm += 5) {
        const inference::Answer round = asked(mm, "round", "", 4096);
        rows.push_back({1e-3 * mm, cured(asked(mm, "sheet", "", 0)), cured(round),
                        cured(asked(mm, "sheet", "none", 0)), cured(asked(mm, "round", "none", 0)),
                        round.ranges->pull.early, round.ranges->pull.late});
    }
    base::Records records = base::Records::built_in();
    output::draw_page(file.text,
                      output::thickness_figure(rows, materials::paces(records),
                                               "An invented pork loin in a 5 % brine with 150 ppm "
                                               "nitrite that keeps, at 4 °C (39 °F)"));
}

} // namespace

void command_page(const std::vector<std::string>& words) {
    print("page",
          "Writes the cook's page: one file of a megabyte or two that holds this program, for the\n"
          "browser of a phone. It needs no network, and keeps your batches on the phone.\n",
          words);
}

void command_teach(const std::vector<std::string>& words) {
    if (words.size() == 2 && words[0] == "--figure") {
        draw_thickness({words[1], words[0]});
        return;
    }
    print("teach",
          "Writes the apprentice's page: one file that holds this program. Move a slider and see "
          "how\n"
          "the cure goes in; six short lessons say what to look at. It can be printed.\n"
          "With --figure FILE it draws the days against the thickness to FILE.svg, .png or .pdf\n"
          "instead, beside the rules of the trade.\n",
          words);
}

} // namespace tidemark::cli
