// SPDX-License-Identifier: MIT
/// The brine out of the options, for every command; the one place where spoons become grams.
#pragma once

#include "base/record.hpp"
#include "cli/options.hpp"
#include "cure/brine_sheet.hpp"

#include <string>
#include <vector>

namespace tidemark::cli {

/// The brine by its strength, its recipe, or made for its targets. Warnings are added about the way
/// it was written. Throws InputError.
cure::Brine brine_from_options(const Options& options, base::Records& records,
                               std::vector<std::string>& warnings);

/// The whole question of `tidemark brine`, as brine_from_options().
cure::BrineQuestion brine_question(const Options& options, base::Records& records,
                                   std::vector<std::string>& warnings);

/// An empty brine with the premix that was named: its nitrite and nitrate.
cure::Brine premix_from_options(const Options& options, base::Records& records);

} // namespace tidemark::cli
