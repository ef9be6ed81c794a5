// SPDX-License-Identifier: MIT
/// Read everything, check where to write, run, print, write the calendar.
#include "cli/command_plan.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "cli/answer.hpp"
#include "cli/flags.hpp"
#include "cli/options.hpp"
#include "cli/plan_from_options.hpp"
#include "cli/progress.hpp"
#include "cli/shop.hpp"
#include "cli/stages.hpp"
#include "cli/values.hpp"
#include "cure/weigh.hpp"
#include "inference/schedule_chance.hpp"
#include "output/gnuplot.hpp"
#include "output/plan_calendar.hpp"
#include "output/plan_figure.hpp"
#include "output/plan_report.hpp"

#include <algorithm>
#include <functional>
#include <iostream>

namespace tidemark::cli {
namespace {

constexpr int screen_columns = 168; // four for each character of the map
constexpr int figure_columns = 240;

void help(bool all) {
    std::cout << "tidemark plan --thickness LENGTH --brine-salt SHARE --stage \"brine, 7 d\" "
                 "--stage ...\n"
                 "tidemark plan --case FILE [flags]\n"
                 "Follows a piece through a schedule of stages, with its dates.\n\n"
              << stage_help << flags_of("plan", all);
}

std::chrono::sys_seconds now() {
    return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
}

} // namespace

void command_plan(const std::vector<std::string>& words) {
    const Options options = read_options(words, "plan");
    if (options.on("help") || options.on("help-all")) {
        help(options.on("help-all"));
        return;
    }
    base::Records records = base::Records::built_in();
    const AskedPlan asked = plan_from_options(options, records);
    const Given* calendar = options.find("calendar");
    const Given* start = options.find("start");
    std::optional<std::chrono::local_seconds> begin;
    if (start)
        begin = base::parse_moment(start->text, start->where);
    if (calendar) {
        if (!begin)
            throw base::InputError(calendar->where, calendar->text,
                                   "needs the day the schedule begins",
                                   "add --start \"2026-12-05 18:00\"");
        if (!calendar->text.ends_with(".ics"))
            throw base::InputError(calendar->where, calendar->text, "does not end in .ics",
                                   "name it like loin.ics");
        base::check_writable(calendar->text, calendar->where);
    }

    const Given* notebook = options.find("notebook");
    std::optional<inference::Notebook> book;
    if (notebook)
        book = inference::read_notebook(notebook->text, notebook->where);
    const Given* figure = options.find("figure");
    if (figure)
        output::check_figure(figure->text, figure->where);

    cure::Plan plan = asked.plan;
    plan.start = begin;
    std::optional<Taught> taught;
    std::vector<std::string> shop_says;
    const judge::Findings before = cure::judged(plan, records);
    const bool json = options.on("json");
    cure::PlanResult result = with_dangers(before, json, [&] {
        if (book) {
            taught =
                by_shop(*book, *notebook, cure::predict(plan.base, records), records, shop_says);
            plan.base = taught->question;
        }
        Progress progress;
        return cure::run(plan, records, std::ref(progress));
    });
    warn_first(result.findings, shop_says);
    std::optional<inference::ScheduleRange> range;
    std::optional<inference::ScheduleChance> chance;
    const bool logged = std::ranges::any_of(asked.plan.stages,
                                            [](const cure::Stage& s) { return s.log != nullptr; });
    const Values values(options);
    const inference::Ask ask{values.count("draws", 4096), values.get("confidence", 0.9)};
    if (ask.draws > 0 && !logged) {
        Progress progress;
        progress(0, "chances");
        inference::Inputs inputs = inference::schedule_inputs(result, records);
        if (taught) {
            base::Records own = records;
            inputs =
                taught->inputs(result.plan.base, cure::make_setup(result.plan.base, own), records);
        }
        chance = inference::schedule_chance(result, records, inputs, ask);
        result.findings.supersede(chance->findings);
        if (json || options.on("more") || options.find("figure"))
            range = inference::schedule_range(result, records, inputs, ask.draws);
    }
    if (logged)
        result.findings.warn(
            "log",
            "with a cooler's log no range is worked out: the days are those of meat in the middle");
    warn_first(result.findings, asked.warnings);
    const double end = result.stages.back().to;
    const double needles =
        result.cured.value_or(0) > 0 ? *result.cured : end; // while they can be told
    if (json) {
        std::cout << output::plan_json(result, range, chance);
    } else {
        std::cout << output::plan_report(result, range, chance, options.on("more"),
                                         cure::section_at(result, end, screen_columns, {}),
                                         cure::across_at(result, needles, screen_columns));
        if (begin)
            std::cout << '\n' << output::calendar_text(output::plan_entries(result), *begin);
    }
    std::cout.flush();
    std::string name = "Cure of " + result.plan.base.piece.muscle;
    for (const cure::StageResult& s : result.stages)
        name += ", " + output::stage_name(s.stage);
    if (calendar)
        base::write_file(calendar->text,
                         output::icalendar(output::plan_entries(result), *begin, name, now()));
    if (figure)
        output::draw_plan(result, range, cure::section_at(result, end, figure_columns, {}),
                          cure::across_at(result, needles, figure_columns), figure->text);
}

} // namespace tidemark::cli
