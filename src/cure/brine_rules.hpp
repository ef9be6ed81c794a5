// SPDX-License-Identifier: MIT
/// What is to be told of a brine being made up. Catches known slips; a brine without a line is not
/// thereby safe.
#pragma once

#include "cure/brine_sheet.hpp"

namespace tidemark::cure {

/// Share of the premix that scales may take away or add before finer ones are asked for [1].
inline constexpr double much_moved = 0.05;

/// A sheet worked out so far, as the judge sees it.
judge::Weighed weigh(const BrineSheet& sheet);

/// Fills in the findings.
void judge_brine(BrineSheet& sheet, base::Records& records);

} // namespace tidemark::cure
