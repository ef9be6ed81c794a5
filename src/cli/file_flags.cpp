// SPDX-License-Identifier: MIT
/// What files may hold of the flags.
#include "cli/flags.hpp"

#include <boost/program_options/value_semantic.hpp>

namespace tidemark::cli {

namespace po = boost::program_options;

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
    flags.add_options()("units", po::value<std::string>()->value_name("WORD"),
                        "")("law", po::value<std::string>()->value_name("CODE"), "");
    return flags;
}

} // namespace tidemark::cli
