// SPDX-License-Identifier: MIT
#include "cli/flags.hpp"

#include "cli/flag_groups.hpp"

namespace tidemark::cli {

using namespace groups;

po::options_description flags_of(const std::string& command, bool all) {
    po::options_description flags(page, text);
    if (command == "brine") {
        flags.add(meat()).add(brine()).add(targets()).add(dosing()).add(law());
        po::options_description answer = sheet();
        answer.add_options()("more", po::bool_switch(), "every number of the brine, and the law");
        return flags.add(answer).add(screen()).add(any_number());
    }
    if (command == "numbers") {
        return flags.add(library());
    }
    if (command == "teach") {
        return flags.add(lessons());
    }
    if (command == "page" || command == "manual" || command == "completion") {
        return flags.add(alone());
    }
    if (command == "plan") {
        flags.add(piece()).add(brine()).add(needles()).add(schedule());
    } else if (command == "bucket") {
        flags.add(piece()).add(brine()).add(company());
    } else if (command == "sheet") { // of what day, plan or bucket answer
        flags.add(piece()).add(brine()).add(needles()).add(company());
    } else if (command == "choose") {
        flags.add(piece()).add(brine()).add(needles()).add(aims());
    } else if (command == "learn") {
        flags.add(slice_flags()).add(checks()).add(notebook());
        flags.add(piece()).add(brine()).add(needles());
    } else if (command == "why") {
        flags.add(slice_flags()).add(checks()).add(piece()).add(brine()).add(needles());
        flags.add(verdict());
    } else {
        flags.add(piece()).add(brine()).add(answer()).add(slice_flags()).add(checks());
    }
    if (command != "learn") {
        flags.add(right());
    }
    flags.add(law()).add(screen());
    if (all) {
        flags.add(model()).add(any_number());
    }
    return flags;
}

po::options_description seen_flags() {
    po::options_description flags;
    return flags.add(slice_flags()).add(checks());
}

po::options_description piece_flags() {
    po::options_description flags = piece();
    flags.add_options()("out", takes("TIME"), "taken out then, before the others");
    return flags;
}

po::options_description case_file_flags() {
    po::options_description flags;
    for (const char* command : {"day", "plan", "choose", "brine", "bucket", "why"}) {
        const po::options_description of_command = flags_of(command, true);
        for (const auto& option : of_command.options()) {
            if (!flags.find_nothrow(option->long_name(), false)) {
                flags.add(option);
            }
        }
    }
    return flags;
}

po::options_description standing_flags() {
    po::options_description flags;
    flags.add_options()("units", takes("WORD"), "")("law", takes("CODE"), "");
    return flags;
}

} // namespace tidemark::cli
