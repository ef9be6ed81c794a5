// SPDX-License-Identifier: MIT
/// What the cook saw on the slice, out of the flags.
#pragma once

#include "cli/options.hpp"
#include "inference/slice.hpp"

namespace tidemark::cli {

/// Whether any flag of the slice was given but the day.
bool slice_given(const Options& options);

/// The slice; its reading error is left as the type has it. Throws InputError if the day or every
/// reading is missing, if readings contradict each other, or for a value no kitchen sees.
inference::Slice slice_from_options(const Options& options);

/// What looks besides the ring found. Throws InputError as Values::get(), and for two strengths of
/// one brine.
inference::Findings findings_from_options(const Options& options, base::Records& records);

/// Throws InputError for a slice that a piece of that thickness [m] cannot show.
void check_slice(const Options& options, const inference::Slice& slice, double thickness);

} // namespace tidemark::cli
