// SPDX-License-Identifier: MIT
/// What is to be told of a brine being made up. Catches known slips; a brine without a line is not
/// thereby safe.
#pragma once

#include "cure/brine_sheet.hpp"

namespace tidemark::cure {

/// A sheet worked out so far, as the judge sees it.
judge::Weighed weigh(const BrineSheet& sheet);

/// Fills in the findings.
void judge_brine(BrineSheet& sheet, base::Records& records);

} // namespace tidemark::cure
