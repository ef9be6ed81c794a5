// SPDX-License-Identifier: MIT
/// Read everything, run the methods, print.
#include "cli/commands.hpp"

#include "base/calendar.hpp"
#include "base/error.hpp"
#include "base/file.hpp"
#include "base/text.hpp"
#include "cli/again.hpp"
#include "cli/answer.hpp"
#include "cli/clock.hpp"
#include "cli/options.hpp"
#include "cli/progress.hpp"
#include "cli/question_from_options.hpp"
#include "cli/save_case.hpp"
#include "cli/screen_from_options.hpp"
#include "cli/shop.hpp"
#include "cli/values.hpp"
#include "cure/choose_brines.hpp"
#include "cure/picture.hpp"
#include "cure/weigh.hpp"
#include "inference/choose_chance.hpp"
#include "materials/limits.hpp"
#include "output/csv.hpp"
#include "output/figure.hpp"
#include "output/gnuplot.hpp"
#include "output/html_page.hpp"
#include "output/json.hpp"
#include "output/sheet.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>
#include <filesystem>
#include <functional>
#include <iostream>

namespace tidemark::cli {
namespace {

/// Of every way, with its name.
std::vector<output::Course> courses(const cure::Choice& choice) {
    std::vector<output::Course> list;
    for (const cure::Method& method : choice.methods)
        list.push_back({method.name, cure::course(method.result)});
    return list;
}

/// The line that comes next once the way is kept in a case file.
std::string sheet_of(const std::string& file, std::optional<double> ready,
                     std::optional<std::chrono::local_seconds> start,
                     std::optional<std::chrono::local_seconds> ready_by) {
    if (!start && ready_by && ready)
        start = base::minute_after(*ready_by, -*ready);
    return "tidemark sheet --case " + in_shell(file) +
           (start ? " --start \"" + base::format_moment(*start, "%Y-%m-%d %H:%M") + '"'
                  : std::string()) +
           " --sheet " + in_shell(std::filesystem::path(file).replace_extension(".html").string());
}

} // namespace

void command_choose(const std::vector<std::string>& words) {
    const Options options = read_options(words, "choose");
    if (helped(
            options, "choose",
            "tidemark choose --thickness LENGTH --weight MASS [flags]\n"
            "tidemark choose --case FILE [flags]\n"
            "Sets brine, needles, rub and bag side by side on one cut and says which to take.\n\n"))
        return;
    const output::Shown shown = shown_by(options);
    const bool no_screen = in_place_of_screen(options) != nullptr;
    const Values values(options);
    base::Records records = base::Records::built_in();
    Options with_brine = options;
    cure::ChooseQuestion question;
    question.without = without_from_options(options);
    const auto left_out = [&](const std::string& name) {
        return std::ranges::count(question.without, name) > 0;
    };
    if (std::ranges::all_of(cure::method_names(), left_out)) {
        const Given& given = *options.find("without");
        throw base::InputError(given.where, given.text, "leaves no way to choose from",
                               "keep one of " + boost::join(cure::method_names(), ", "));
    }
    question.own_brine = options.find("brine-salt") || options.find("water");
    question.salt = values.get("target-salt", 0);
    question.nitrite = values.get("target-nitrite");
    question.even = values.get("even");
    question.limits = options.on("json") || options.on("more");
    if (!options.find("pump"))
        with_brine.add("pump", {"10 %", "--pump"});
    question.pump = *pump_from_options(with_brine, records);
    if (!question.own_brine) { // made up later; the case wants one
        with_brine.add("brine-salt", {"5 %", "--brine-salt"});
        if (question.nitrite.value_or(1) > 0)
            with_brine.add("brine-nitrite", {"200 ppm", "--brine-nitrite"});
    }
    with_brine.drop("target-salt"); // of the meat, not of a brine to be made up
    with_brine.drop("target-nitrite");
    with_brine.drop("container"); // which tidemark brine fills
    Asked asked = case_from_options(with_brine, records);
    tell_left_out(options, asked.warnings);
    question.base = asked.question;
    if (!options.find("target-salt"))
        question.salt = cure::usual_salt(question.base, records);

    std::optional<std::chrono::local_seconds> start, ready;
    if (const Given* given = options.find("start"))
        start = moment_of(*given);
    if (const Given* given = options.find("ready")) {
        ready = moment_of(*given);
        question.within = static_cast<double>((*ready - start.value_or(kitchen_now())).count());
        if (*question.within <= 0 && start)
            throw base::InputError(given->where, given->text, "is not after the start",
                                   "give a later date, or an earlier --start");
        if (*question.within <= 0)
            throw base::InputError(given->where, given->text, "is past",
                                   "give a date to come, or --start for one that has been");
    }
    const Given* notebook = options.find("notebook");
    std::optional<inference::Notebook> book;
    if (notebook)
        book = inference::read_notebook(notebook->text, notebook->where);
    const Given* figure = options.find("figure");
    if (figure)
        output::check_figure(figure->text, figure->where);
    const Given* sheet = options.find("sheet");
    if (sheet)
        check_sheet(*sheet);
    check_save(options);
    std::optional<Taught> taught;
    std::vector<std::string> shop_says;
    judge::Findings before; // of a brine that is not yet made up nothing is known
    if (question.own_brine)
        before = cure::judged(cure::in_brine(question.base), records);
    cure::Choice choice = with_dangers(before, "choose", options.on("json"), [&] {
        if (book) {
            shop_says = book->warnings;
            taught = by_shop(*book, *notebook, cure::run(cure::in_brine(question.base), records),
                             records, shop_says);
            question.base = taught->question;
        }
        Progress progress(shown.quiet);
        return cure::choose(question, records, std::ref(progress));
    });
    const inference::Ask ask{values.count("draws", 4096), values.get("confidence", 0.9)};
    inference::Ways ways;
    {
        Progress progress(shown.quiet);
        ways = inference::ways_of(
            choice, records,
            [&](const cure::Outcome& r) {
                return inference::schedule_inputs(
                    r, records, [&](const cure::Case& c, const cure::Setup& setup) {
                        return taught ? taught->inputs(c, setup, records)
                                      : inference::case_inputs(c, setup, records);
                    });
            },
            ask, std::ref(progress));
    }
    warn_first(choice.findings, shop_says);
    warn_first(choice.findings, asked.warnings);
    output::Lines lines;
    if (ways.best) {
        Options piece = options; // what the schedule says itself is not said twice
        const std::string& schedule = ways.list[*ways.best].schedule;
        for (const char* flag : {"pump", "pump-salt", "pump-nitrite"})
            piece.drop(flag);
        for (auto from = schedule.find("--"); from != std::string::npos;
             from = schedule.find("--", from + 2))
            piece.drop(schedule.substr(from + 2, schedule.find(' ', from) - from - 2));
        if (start) // one of the two says when
            piece.drop("ready");
        lines.plan = asked_again(piece, "plan", {}) + ' ' + ways.list[*ways.best].schedule;
        lines.sheet = asked_again(piece, "sheet", {}) + ' ' + ways.list[*ways.best].schedule +
                      " --sheet batch.html";
    }
    const Given* saved = options.find("save");
    if (saved && ways.best)
        lines.next = sheet_of(saved->text, ways.list[*ways.best].ready, start, ready);
    output::Document document = output::view(choice, ways, lines, start, ready);
    if (options.on("json"))
        std::cout << output::json(choice, ways, lines.plan);
    else if (options.on("course"))
        std::cout << output::course_csv(courses(choice), cure::all_findings(choice));
    else if (!no_screen)
        std::cout << output::screen(document, shown);
    std::cout.flush();
    if (sheet) {
        output::add_sheet(document, choice, ways, records);
        base::write_file(sheet->text, output::page(document));
    }
    if (figure)
        output::draw_page(figure->text, output::choice_figure(choice, ways));
    if (saved && !ways.best)
        throw base::RunError("--save: " + saved->text +
                             ": is not written, since no way can be recommended");
    if (saved)
        save_case(options, ways.list[*ways.best].schedule,
                  choice.methods[*ways.best].name + ", by tidemark choose");
}

} // namespace tidemark::cli
