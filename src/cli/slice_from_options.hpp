// SPDX-License-Identifier: MIT
/// What the cook saw on the slice, out of the flags.
#pragma once

#include "cli/options.hpp"
#include "cure/case.hpp"
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

/// Both, of a piece of that case. Throws InputError also for a slice that no such piece can show.
inference::Slice slice_of(const Options& options, const cure::Case& piece, base::Records& records);

} // namespace tidemark::cli
