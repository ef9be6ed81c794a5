// SPDX-License-Identifier: MIT
/// What was published against what the other sources predict, as a page.
#pragma once

#include "output/drawing.hpp"
#include "posterior/report.hpp"

namespace tidemark::posterior {

/// A row for each figure kept out: the range of its prediction and the print, over the prediction's
/// middle on an axis of factors; misses stand out by form, colour and word.
output::Drawing figure(const Report& report);

} // namespace tidemark::posterior
