// SPDX-License-Identifier: MIT
#include "cli/answer.hpp"

#include "cli/screen_from_options.hpp"

#include "output/dangers_alone.hpp"

#include <iostream>

namespace tidemark::cli {

void print_dangers(const judge::Findings& findings, const std::string& command, bool json) {
    if (findings.dangers().empty())
        return;
    std::cout << (json ? output::dangers_json(command, findings)
                       : output::dangers_screen(findings, terminal_columns()));
    std::cout.flush();
}

} // namespace tidemark::cli
