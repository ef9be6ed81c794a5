// SPDX-License-Identifier: MIT
/// Read everything, solve, weigh the causes, print.
#include "cli/commands.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/one_piece.hpp"
#include "cli/options.hpp"
#include "cli/progress.hpp"
#include "cli/screen_from_options.hpp"
#include "cli/shop.hpp"
#include "cli/slice_from_options.hpp"
#include "cli/values.hpp"
#include "cure/picture.hpp"
#include "cure/two_meshes.hpp"
#include "cure/weigh.hpp"
#include "inference/answer.hpp"
#include "inference/schedule_range.hpp"
#include "inference/why.hpp"
#include "output/figure.hpp"
#include "output/gnuplot.hpp"
#include "output/json.hpp"
#include "output/slice_words.hpp"

#include <functional>
#include <iostream>

namespace tidemark::cli {
void command_why(const std::vector<std::string>& words) {
    const Options given = read_options(words, "why");
    if (helped(given, "why",
               "tidemark why --case FILE --day TIME --ring-top LENGTH --grey LENGTH ... [flags]\n"
               "Tells what may have left a core grey, how likely each cause is, and what to "
               "check.\n\n"))
        return;
    const output::Shown shown = shown_by(given);
    const bool no_screen = in_place_of_screen(given) != nullptr;
    base::Records records = base::Records::built_in();
    inference::Slice slice = slice_from_options(given);
    const Options options = of_one_piece(given, records);
    const AskedQuestion asked = question_of(options, records);
    const Given* figure = options.find("figure");
    if (figure) {
        output::check_figure(figure->text, figure->where);
    }
    OwnShop shop(options);
    inference::Why why;
    with_dangers(cure::judged(asked.question, records), "why", options.on("json"), [&] {
        Progress progress(shown.quiet);
        cure::Question question = asked.question;
        shop.teach(question, records);
        const cure::Outcome told = cure::run(question, records);
        slice = slice_of(options, question.base, records);
        const inference::Inputs inputs =
            inference::schedule_inputs(told, records, shop.inputs_of(records));
        const inference::Inquiry inquiry(told, records, slice.time, 1024, std::ref(progress),
                                         &inputs);
        why = inquiry.explain(slice, Values(options).get("confidence", 0.9));
    });
    warn_first(why.findings, shop.says);
    warn_first(why.findings, asked.warnings);
    if (options.on("json"))
        std::cout << output::json(why);
    else if (!no_screen)
        std::cout << output::why_screen(why, shown);
    std::cout.flush();
    if (figure) { // the day of the slice, as told
        cure::Question then = asked.question;
        then.base.at = slice.time;
        inference::Answer told;
        told.outcome = cure::run(then, records);
        const cure::Outcome& o = told.outcome;
        output::SectionPanel panel{cure::picture(o, slice.time, 0, {slice.time}),
                                   output::SectionPanel::Shows::told};
        panel.marks.fronts = panel.picture.fronts;
        panel.marks.seen =
            inference::slice_lines(o).strokes(slice, 0.1 * o.solved->setup().half_thickness);
        output::draw_page(figure->text, output::section_figure(told, {panel}, slice));
    }
}

} // namespace tidemark::cli
