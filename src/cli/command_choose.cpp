// SPDX-License-Identifier: MIT
/// Read everything, run the methods, print.
#include "cli/command_choose.hpp"

#include "base/calendar.hpp"
#include "base/error.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/flags.hpp"
#include "cli/options.hpp"
#include "cli/plan_from_options.hpp"
#include "cli/progress.hpp"
#include "cli/shop.hpp"
#include "cli/values.hpp"
#include "cure/choose.hpp"
#include "cure/weigh.hpp"
#include "materials/limits.hpp"
#include "output/choose_report.hpp"
#include "output/gnuplot.hpp"
#include "output/plan_figure.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>
#include <functional>
#include <iostream>

namespace tidemark::cli {
namespace {

void help(bool all) {
    std::cout << "tidemark choose --thickness LENGTH --weight MASS [flags]\n"
                 "tidemark choose --case FILE [flags]\n"
                 "Sets immersion, needles, dry rub and bag side by side on one cut and recommends "
                 "one.\n\n"
              << flags_of("choose", all);
}

} // namespace

void command_choose(const std::vector<std::string>& words) {
    const Options options = read_options(words, "choose");
    if (options.on("help") || options.on("help-all")) {
        help(options.on("help-all"));
        return;
    }
    const Values values(options);
    base::Records records = base::Records::built_in();
    Options with_brine = options;
    cure::ChooseQuestion question;
    if (const Given* given = options.find("without")) {
        std::vector<std::string> names;
        boost::split(names, given->text, boost::is_any_of(","));
        for (const std::string& name : names)
            question.without.push_back(
                Values::one_of(*given, base::trim(name), cure::method_names()));
        const auto left_out = [&](const std::string& name) {
            return std::ranges::count(question.without, name) > 0;
        };
        if (std::ranges::all_of(cure::method_names(), left_out))
            throw base::InputError(given->where, given->text, "leaves no way to choose from",
                                   "keep one of " + boost::join(cure::method_names(), ", "));
    }
    question.own_brine = options.find("brine-salt") || options.find("water");
    question.salt = values.get("target-salt", question.salt);
    question.nitrite = values.get("target-nitrite");
    question.even = values.get("even", question.even);
    if (!options.find("pump"))
        with_brine.add("pump", {"10 %", "--pump"});
    question.pump = *pump_from_options(with_brine, records);
    if (!question.own_brine) // made up later; the case wants one
        with_brine.add("brine-salt", {"5 %", "--brine-salt"});
    with_brine.drop("target-salt"); // of the meat, not of a brine to be made up
    with_brine.drop("target-nitrite");
    const Asked asked = case_from_options(with_brine, records);
    question.base = asked.question;

    std::optional<std::chrono::local_seconds> start, ready;
    if (const Given* given = options.find("start"))
        start = base::parse_moment(given->text, given->where);
    if (const Given* given = options.find("ready")) {
        ready = base::parse_moment(given->text, given->where);
        if (start) {
            question.within = static_cast<double>((*ready - *start).count());
            if (*question.within <= 0)
                throw base::InputError(given->where, given->text, "is not after the start",
                                       "give a later date, or an earlier --start");
        }
    }
    const Given* notebook = options.find("notebook");
    std::optional<inference::Notebook> book;
    if (notebook)
        book = inference::read_notebook(notebook->text, notebook->where);
    const Given* figure = options.find("figure");
    if (figure)
        output::check_figure(figure->text, figure->where);
    std::optional<Taught> taught;
    std::vector<std::string> shop_says;
    judge::Findings before; // of a brine that is not yet made up nothing is known
    if (question.own_brine)
        before = cure::judged(question.base, records);
    cure::Choice choice = with_dangers(before, options.on("json"), [&] {
        if (book) {
            taught = by_shop(*book, *notebook, cure::predict(question.base, records), records,
                             shop_says);
            question.base = taught->question;
        }
        Progress progress;
        return cure::choose(question, records, std::ref(progress));
    });
    output::MethodRanges ranges;
    if (const int draws = values.count("draws", 4096); draws > 0) {
        Progress progress;
        for (const cure::Method& m : choice.methods) {
            progress(static_cast<double>(ranges.size()) /
                         static_cast<double>(choice.methods.size()),
                     "ranges");
            base::Records own = records;
            ranges.push_back(
                taught ? inference::schedule_range(
                             m.result, records,
                             taught->inputs(m.result.plan.base,
                                            cure::make_setup(m.result.plan.base, own), records),
                             draws)
                       : inference::schedule_range(m.result, records, draws));
        }
    }
    warn_first(choice.findings, shop_says);
    warn_first(choice.findings, asked.warnings);
    std::cout << (options.on("json") ? output::choose_json(choice, ranges)
                                     : output::choose_report(choice, ranges, start, ready));
    std::cout.flush();
    if (figure)
        output::draw_choice(choice, ranges, figure->text);
}

} // namespace tidemark::cli
