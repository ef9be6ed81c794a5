// SPDX-License-Identifier: MIT
/// Read everything, check where to write, solve, print, draw.
#include "cli/command_day.hpp"

#include "base/error.hpp"
#include "base/file.hpp"
#include "cli/again.hpp"
#include "cli/answer.hpp"
#include "cli/case_from_options.hpp"
#include "cli/flags.hpp"
#include "cli/options.hpp"
#include "cli/progress.hpp"
#include "cli/shop.hpp"
#include "cli/values.hpp"
#include "cure/prediction.hpp"
#include "cure/solved.hpp"
#include "cure/weigh.hpp"
#include "inference/case_inputs.hpp"
#include "inference/change.hpp"
#include "output/csv.hpp"
#include "output/figure.hpp"
#include "output/json.hpp"
#include "output/report.hpp"

#include <cmath>
#include <functional>
#include <iostream>
#include <optional>

namespace tidemark::cli {
namespace {

constexpr int screen_columns = 168; // four for each character of the map
constexpr int figure_columns = 400;

void help(bool all) {
    std::cout << "tidemark day --thickness LENGTH --brine-salt SHARE [flags]\n"
                 "tidemark day --case FILE [flags]\n"
                 "Tells from which day the core of a piece in brine is cured, and until which day "
                 "it is good.\n\n"
              << flags_of("day", all);
}

/// The days of the fronts, and the day of the answer if it is not among them [s].
std::vector<double> profile_times(const cure::Prediction& prediction) {
    std::vector<double> times = cure::front_days(prediction);
    if (times.empty() || std::abs(times.back() - prediction.at) > 60) {
        times.push_back(prediction.at);
    }
    return times;
}

} // namespace

void command_day(const std::vector<std::string>& words) {
    const Options options = read_options(words, "day");
    if (options.on("help") || options.on("help-all")) {
        help(options.on("help-all"));
        return;
    }
    const bool json = options.on("json"), csv = options.on("csv");
    if (json && csv) {
        throw base::InputError("--csv", "", "does not go with --json", "ask for one of them");
    }
    base::Records records = base::Records::built_in();
    const Asked asked = case_from_options(options, records);
    const int draws = Values(options).count("draws", 4096);
    const Given* notebook = options.find("notebook");
    std::optional<inference::Notebook> book;
    if (notebook) {
        book = inference::read_notebook(notebook->text, notebook->where);
    }
    const Given* figure = options.find("figure");
    if (figure) {
        output::check_figure(figure->text, figure->where);
    }

    const inference::Ask ask{draws, Values(options).get("confidence", 0.9)};
    cure::Prediction prediction;
    std::optional<inference::Ranges> ranges;
    output::Advised advised;
    with_dangers(cure::judged(asked.question, records), json, [&] {
        Progress progress;
        prediction = cure::predict(asked.question, records, std::ref(progress));
        std::optional<Taught> taught;
        if (book) {
            std::vector<std::string> warnings;
            taught = by_shop(*book, *notebook, prediction, records, warnings);
            prediction = cure::predict(taught->question, records, std::ref(progress));
            warn_first(prediction.findings, warnings);
        }
        if (draws > 0 && !(csv && !figure)) {
            const inference::InputsOf inputs = [&](const cure::Case& c, const cure::Setup& setup) {
                return taught ? taught->inputs(c, setup, records)
                              : inference::case_inputs(c, setup, records);
            };
            progress(0.9, "chances");
            ranges = inference::ranges(prediction, records,
                                       inputs(prediction.question, prediction.solved->setup), ask);
            progress(0.95, "changes");
            advised.changes =
                inference::smallest_change(prediction, ranges->best, records, inputs, ask);
            if (const auto& change = advised.changes.best) {
                advised.command = asked_again(options, "day", change->flags);
            }
        }
        if (ranges && ranges->best.best && !asked.question.at && !json) { // shown on its best day
            cure::Case best = prediction.question;
            best.at = ranges->best.best->time;
            const judge::Findings findings = prediction.findings;
            prediction = cure::predict(best, records);
            prediction.findings = findings;
        }
    });
    if (ranges) {
        prediction.parameters.insert(prediction.parameters.end(), ranges->parameters.begin(),
                                     ranges->parameters.end());
    }
    warn_first(prediction.findings, asked.warnings);
    if (json) {
        std::cout << output::json(prediction, ranges, advised);
    } else if (csv) {
        std::cout << output::csv(cure::profiles(prediction, profile_times(prediction)),
                                 prediction.findings);
    } else {
        std::cout << output::report(prediction, cure::picture(prediction, screen_columns, {}),
                                    ranges, advised, options.on("more"));
    }
    std::cout.flush();
    if (figure) {
        output::draw_figure(prediction,
                            cure::picture(prediction, figure_columns, cure::front_days(prediction)),
                            figure->text, ranges);
    }
}

} // namespace tidemark::cli
