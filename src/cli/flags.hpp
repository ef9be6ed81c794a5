// SPDX-License-Identifier: MIT
/// The flags of the commands: their names, what they take and one line of help each.
#pragma once

#include <boost/program_options/options_description.hpp>

#include <string>

namespace tidemark::cli {

/// The flag that names a case file; the one thing besides help a case file cannot hold.
constexpr const char* file_flag = "case";

/// The flags of "day" or "brine"; with `all` also those that set numbers of the model of days.
boost::program_options::options_description flags_of(const std::string& command, bool all);

/// The flags of a slice and of what was found besides.
boost::program_options::options_description seen_flags();

/// The flags that describe a piece.
boost::program_options::options_description piece_flags();

/// What a case file may hold: the flags of every command.
boost::program_options::options_description case_file_flags();

/// What a user may set once for all: units and law.
boost::program_options::options_description standing_flags();

} // namespace tidemark::cli
