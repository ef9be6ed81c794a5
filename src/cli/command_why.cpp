// SPDX-License-Identifier: MIT
/// Read everything, solve, weigh the causes, print.
#include "cli/command_why.hpp"

#include "cli/answer.hpp"
#include "cli/case_from_options.hpp"
#include "cli/flags.hpp"
#include "cli/options.hpp"
#include "cli/progress.hpp"
#include "cli/shop.hpp"
#include "cli/slice_from_options.hpp"
#include "cli/values.hpp"
#include "cure/picture.hpp"
#include "cure/two_meshes.hpp"
#include "cure/weigh.hpp"
#include "inference/why.hpp"
#include "output/figure.hpp"
#include "output/why_report.hpp"

#include <functional>
#include <iostream>
#include <optional>

namespace tidemark::cli {
namespace {

constexpr int figure_columns = 400;

void help(bool all) {
    std::cout
        << "tidemark why --case FILE --day TIME --ring-top LENGTH --grey LENGTH ... [flags]\n"
           "Tells what may have left a core grey, how likely each cause is, and what to check.\n\n"
        << flags_of("why", all);
}

} // namespace

void command_why(const std::vector<std::string>& words) {
    const Options options = read_options(words, "why");
    if (options.on("help") || options.on("help-all")) {
        help(options.on("help-all"));
        return;
    }
    base::Records records = base::Records::built_in();
    inference::Slice slice = slice_from_options(options);
    const Asked asked = case_from_options(options, records);
    const Given* notebook = options.find("notebook");
    std::optional<inference::Notebook> book;
    if (notebook) {
        book = inference::read_notebook(notebook->text, notebook->where);
    }
    const Given* figure = options.find("figure");
    if (figure) {
        output::check_figure(figure->text, figure->where);
    }
    inference::Why why;
    std::vector<std::string> shop_says;
    with_dangers(cure::judged(cure::in_brine(asked.question), records), "why", options.on("json"),
                 [&] {
                     Progress progress;
                     cure::Outcome told = cure::run(cure::in_brine(asked.question), records);
                     slice = slice_of(options, asked.question, records);
                     std::optional<inference::Inputs> shop;
                     if (book) {
                         const Taught taught = by_shop(*book, *notebook, told, records, shop_says);
                         told = cure::run(cure::in_brine(taught.question), records);
                         shop = taught.inputs(told.question.base, told.solved->setup(), records);
                     }
                     const inference::Inquiry inquiry(told, records, slice.time, 1024,
                                                      std::ref(progress), shop ? &*shop : nullptr);
                     why = inquiry.explain(slice, Values(options).get("confidence", 0.9));
                 });
    warn_first(why.findings, shop_says);
    warn_first(why.findings, asked.warnings);
    std::cout << (options.on("json") ? output::why_json(why)
                                     : output::why_report(why, options.on("more")));
    std::cout.flush();
    if (figure) { // the day of the slice, as told
        cure::Case then = asked.question;
        then.at = slice.time;
        const cure::Outcome p = cure::run(cure::in_brine(then), records);
        output::draw_figure(p, cure::picture(p, p.at, figure_columns, {slice.time}), figure->text,
                            {}, inference::SliceModel(p).strokes(slice));
    }
}

} // namespace tidemark::cli
