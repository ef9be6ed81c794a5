// SPDX-License-Identifier: MIT
#include "cli/answer.hpp"

#include "cli/screen_from_options.hpp"

#include "output/json.hpp"

#include <iostream>

namespace tidemark::cli {

void print_dangers(const judge::Findings& findings, const std::string& command, bool json) {
    if (findings.dangers().empty())
        return;
    output::Document dangers;
    dangers.dangers(findings);
    output::Shown shown;
    shown.columns = terminal_columns();
    std::cout << (json ? output::json(command, findings) : output::screen(dangers, shown));
    std::cout.flush();
}

} // namespace tidemark::cli
