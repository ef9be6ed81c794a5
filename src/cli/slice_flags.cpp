// SPDX-License-Identifier: MIT
/// The flags of a slice and of other looks; one line each, as in flags.cpp.
#include "cli/flag_groups.hpp"
#include "cli/flags.hpp"

namespace tidemark::cli {

namespace po = boost::program_options;

// clang-format off
po::options_description slice_flags() {
    po::options_description flags = group("The slice, cut through the middle");
    flags.add_options()
        ("day", takes("TIME"), "when it came out of the brine, 7 d after it went in")
        ("ring", takes("LENGTH"), "from every face to where the pink ends, on the middle line")
        ("ring-top", takes("LENGTH"), "from the top face alone")
        ("ring-bottom", takes("LENGTH"), "from the bottom face")
        ("ring-left", takes("LENGTH"), "from the left face")
        ("ring-right", takes("LENGTH"), "from the right face")
        ("grey", takes("LENGTH"), "height of the grey core")
        ("grey-width", takes("LENGTH"), "width of the grey core")
        ("pink-through", po::bool_switch(), "no grey is left");
    return flags;
}

po::options_description checks() {
    po::options_description flags = group("What you found when you looked again");
    flags.add_options()
        ("found-thickness", takes("LENGTH"), "by a ruler on the slice, as --thickness was measured")
        ("found-cooler", takes("TEMPERATURE"), "by a thermometer in water where the piece stood")
        ("found-brine-salt", takes("SHARE"), "salt of the brine that is left, 3.5 %")
        ("found-salometer", takes("DEGREES"), "or its degrees by the salometer, at 60 F")
        ("found-brine-nitrite", takes("SHARE"), "nitrite of the brine that is left, 80 ppm by strip")
        ("found-core-salt", takes("SHARE"), "salt of the grey core, 1.2 % by strip or meter")
        ("found-ph", takes("NUMBER"), "of the grey core, by paper or meter");
    return flags;
}
// clang-format on

po::options_description seen_flags() {
    po::options_description flags;
    return flags.add(slice_flags()).add(checks());
}

} // namespace tidemark::cli
