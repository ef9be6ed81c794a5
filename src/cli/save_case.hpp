// SPDX-License-Identifier: MIT
/// A way that was chosen, kept as a case file for the commands that come after.
#pragma once

#include "cli/options.hpp"

#include <string>

namespace tidemark::cli {

/// Checks, before any work, that the file can be written, and is not the case file that was read.
/// Throws InputError.
void check_save(const Options& options);

/// Writes what was asked, with the flags of the way (as of `plan`, in a shell's quotes) in place of
/// its own, to the file behind --save, headed by `title`. Dates are left out, and a cover brine
/// where no stage is one. Throws InputError for a value that a case file cannot hold.
void save_case(const Options& options, const std::string& way, const std::string& title);

} // namespace tidemark::cli
