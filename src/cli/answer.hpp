// SPDX-License-Identifier: MIT
/// What every command does with its findings.
#pragma once

#include "judge/finding.hpp"

#include <string>
#include <vector>

namespace tidemark::cli {

/// Prints the dangers alone, as the screen or the JSON object of an answer that did not come.
void print_dangers(const judge::Findings& findings, const std::string& command, bool json);

/// What `solve` returns. If it fails, or refuses the input, the dangers that were known before are
/// printed all the same: the gravest mistakes are also those that are hardest to solve.
template <class Solve>
auto with_dangers(const judge::Findings& before, const std::string& command, bool json,
                  const Solve& solve) {
    try {
        return solve();
    } catch (const std::exception&) {
        print_dangers(before, command, json);
        throw;
    }
}

/// Puts warnings about what was typed or read before the others.
inline void warn_first(judge::Findings& findings, const std::vector<std::string>& warnings) {
    judge::Findings all;
    for (const std::string& text : warnings)
        all.tell("input", text);
    all.add(findings);
    findings = all;
}

} // namespace tidemark::cli
