// SPDX-License-Identifier: MIT
/// What time it is.
#pragma once

#include <chrono>

namespace tidemark::cli {

/// By the clock, or as told for output that is to be the same again (SOURCE_DATE_EPOCH, of
/// reproducible-builds.org).
std::chrono::sys_seconds now();
/// The same where the kitchen is, to the minute.
std::chrono::local_seconds kitchen_now();

} // namespace tidemark::cli
