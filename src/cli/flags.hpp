// SPDX-License-Identifier: MIT
/// The flags of `tidemark day`: their names, what they take and one line of help each.
#pragma once

#include <boost/program_options/options_description.hpp>

namespace tidemark::cli {

/// The flag that names a case file; the one thing besides help a case file cannot hold.
constexpr const char* file_flag = "case";

/// The kitchen's flags, and with `all` those that set numbers of the model.
boost::program_options::options_description day_flags(bool all);

} // namespace tidemark::cli
