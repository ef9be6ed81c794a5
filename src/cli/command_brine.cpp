// SPDX-License-Identifier: MIT
/// Read everything, work it out, print.
#include "cli/command_brine.hpp"

#include "cli/answer.hpp"
#include "cli/brine_from_options.hpp"
#include "cli/case_from_options.hpp"
#include "cli/flags.hpp"
#include "cli/options.hpp"
#include "cli/screen_from_options.hpp"
#include "output/brine_report.hpp"

#include <iostream>

namespace tidemark::cli {

void command_brine(const std::vector<std::string>& words) {
    const Options options = read_options(words, "brine");
    if (options.on("help")) {
        Folded to_the_terminal;
        std::cout
            << "tidemark brine --water AMOUNT --salt AMOUNT [flags]\n"
               "tidemark brine --target-salt SHARE --weight MASS --container VOLUME [flags]\n"
               "tidemark brine --case FILE [flags]\n"
               "tidemark brine --way rub --target-salt SHARE --weight MASS [flags]\n"
               "Tells how strong, how cold and how legal a brine is before the meat goes in,\n"
               "or what to weigh out for a brine, for needles, for a rub or a bag.\n\n"
            << flags_of("brine", true);
        return;
    }
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
    std::string piece; // what the day turns on besides the brine
    for (const char* flag : {"shape", "thickness", "width", "length", "fat-cap", "bones", "seal",
                             "cooler", "afterwards", "law", "product"})
        if (const Given* given = options.find(flag); given && given->text != "us")
            piece += std::string(" --") + flag + " \"" + given->text + '"';
    std::cout << (options.on("json") ? output::brine_json(sheet)
                                     : output::brine_report(sheet, shown, piece));
}

} // namespace tidemark::cli
