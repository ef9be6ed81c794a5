// SPDX-License-Identifier: MIT
/// From what the cook wrote to the case in SI: units, sensible ranges, spoons and names.
#pragma once

#include "base/record.hpp"
#include "cli/options.hpp"
#include "cure/case.hpp"

#include <string>
#include <vector>

namespace tidemark::cli {

/// A case, and what to warn of because of the way it was written (spoons, a strength that gives way
/// to a recipe).
struct Asked {
    cure::Case question;
    std::vector<std::string> warnings;
};

/// Reads every value once. `records` supplies the names and the weights of spoons. Throws
/// InputError for a value that no kitchen sees (a slab of 3 m, a cooler at 40 C), an unknown name,
/// or a piece or a brine that is not described.
Asked case_from_options(const Options& options, base::Records& records);

/// What --set asks for. Throws InputError for text that is not KEY=VALUE and for
/// a value that the records do not allow.
std::vector<cure::Case::Override> numbers_set(const Options& options, const base::Records& records);

} // namespace tidemark::cli
