// SPDX-License-Identifier: MIT
/// What is dangerous or illegal about a brine, in a plain line each.
/// Catches known slips; a brine without a line is not thereby safe.
#pragma once

#include "cure/brine_sheet.hpp"

namespace tidemark::cure {

/// Fills in the hazards, warnings and cautions of a sheet worked out so far.
void judge(BrineSheet& sheet, base::Records& records);

} // namespace tidemark::cure
