// SPDX-License-Identifier: MIT
/// Flags in groups, one line each, so that the help can be read on a terminal.
#pragma once

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/value_semantic.hpp>

#include <string>

namespace tidemark::cli::groups {

namespace po = boost::program_options;

/// The help's width, and that of its text [characters].
constexpr unsigned page = 96, text = 66;

inline auto takes(const char* name) {
    return po::value<std::string>()->value_name(name);
}

po::options_description law();
po::options_description piece();
po::options_description brine();
po::options_description screen();
po::options_description right();
po::options_description answer();
po::options_description schedule();
po::options_description company();
po::options_description aims();
po::options_description needles();
po::options_description slice_flags();
po::options_description checks();
po::options_description notebook();
po::options_description model();
po::options_description any_number();
po::options_description meat();
po::options_description targets();
po::options_description dosing();
po::options_description sheet();
po::options_description verdict();
po::options_description library();
po::options_description alone();
po::options_description lessons();

} // namespace tidemark::cli::groups
