// SPDX-License-Identifier: MIT
/// How thick a piece may be, all else in proportion, for its brine alone to cure it.
#pragma once

#include "cure/choose.hpp"
#include "cure/setup.hpp"

namespace tidemark::cure {

/// Fills in the limits of a choice: of `piece`, as it was asked for. Looks from a quarter of its
/// thickness to four times that, on few cells.
void find_thickest(Choice& choice, const base::Records& records, const Setup& piece);

} // namespace tidemark::cure
