// SPDX-License-Identifier: MIT
/// What the files with flags share.
#pragma once

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/value_semantic.hpp>

#include <string>

namespace tidemark::cli {

constexpr unsigned page = 96, text = 66; ///< of the help and of what a flag says [characters]

inline auto takes(const char* name) {
    return boost::program_options::value<std::string>()->value_name(name);
}

inline boost::program_options::options_description group(const char* title) {
    return boost::program_options::options_description(title, page, text);
}

/// What a slice shows, and what was found when looking again.
boost::program_options::options_description slice_flags();
boost::program_options::options_description checks();

} // namespace tidemark::cli
