// SPDX-License-Identifier: MIT
/// Read everything, work it out, print.
#include "cli/commands.hpp"

#include "cli/again.hpp"
#include "cli/answer.hpp"
#include "cli/brine_from_options.hpp"
#include "cli/case_from_options.hpp"
#include "cli/options.hpp"
#include "cli/screen_from_options.hpp"
#include "output/json.hpp"

#include <iostream>

namespace tidemark::cli {
namespace {

/// The meat, for the next command: by the case file, unless that asks of something besides.
output::AskedMeat asked_meat(const Options& options) {
    const Given* file = options.find("case");
    for (const char* besides : {"way", "brine-salt", "brine-nitrite", "water"})
        if (const Given* given = options.find(besides); given && !given->on_line())
            file = nullptr;
    output::AskedMeat meat;
    meat.measured = options.find("thickness") || options.find("outline");
    meat.several = !options.all("with").empty();
    if (file)
        meat.flags += " --case " + in_shell(file->text);
    else if (!options.find("muscle"))
        meat.flags += " --muscle pork-loin";
    for (const char* flag : {"muscle", "weight", "pieces", "shape", "thickness", "width", "length",
                             "outline", "fat-cap", "bones", "bone-diameter", "bone-depth", "seal",
                             "with", "cooler", "afterwards", "law", "product"})
        for (const Given& given : options.all(flag))
            if (given.text != "us" && (!file || given.on_line()))
                meat.flags += std::string(" --") + flag + ' ' + in_shell(given.text);
    return meat;
}

} // namespace

void command_brine(const std::vector<std::string>& words) {
    const Options options = read_options(words, "brine");
    if (helped(options, "brine",
               "tidemark brine --water AMOUNT --salt AMOUNT [flags]\n"
               "tidemark brine --target-salt SHARE --weight MASS --container VOLUME [flags]\n"
               "tidemark brine --case FILE [flags]\n"
               "tidemark brine --way rub --target-salt SHARE --weight MASS [flags]\n"
               "Tells how strong, how cold and how legal a brine is before the meat goes in,\n"
               "or what to weigh out for a brine, for needles, for a rub or a bag.\n\n"))
        return;
    const output::Shown shown = shown_by(options);
    base::Records records = base::Records::built_in();
    for (const cure::Case::Override& o : numbers_set(options, records)) {
        if (o.key != "loss") {
            records.set(o.key, o.text, o.where);
        }
    }
    std::vector<std::string> warnings;
    const cure::BrineQuestion question = brine_question(options, records, warnings);
    cure::BrineSheet sheet = cure::work_out(question, records);
    warn_first(sheet.findings, warnings);
    const output::AskedMeat meat = asked_meat(options);
    std::cout << (options.on("json") ? output::json(sheet, meat)
                                     : output::screen(output::view(sheet, meat), shown));
}

} // namespace tidemark::cli
