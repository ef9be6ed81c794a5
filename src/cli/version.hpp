// SPDX-License-Identifier: MIT
/// What --version tells.
#pragma once

#include <string>

namespace tidemark::cli {

/// The commit the program was built from, with "+changes" where files differed from it; "unknown"
/// without git. The one thing in a source of its own that every build writes (version.cmake).
extern const char* const built_from;

/// The day on which the models' numbers were last weighed against what is published, as
/// models/posterior.ini tells: "2026-11-27".
std::string models_date();

/// Three lines: version, commit, date of the models.
std::string version_text();

} // namespace tidemark::cli
