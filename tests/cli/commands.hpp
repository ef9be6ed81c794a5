// SPDX-License-Identifier: MIT
/// Every command that cures meat, for what must hold in all of them.
#pragma once

#include "run.hpp"

#include <vector>

namespace tidemark::cli {

/// One command, its piece given so that all of them cure the same meat.
struct Command {
    const char* name;
    std::string words;
    bool piece = true;
};
inline const std::vector<Command> commands{
    {"day", "day --draws 0"},
    {"plan", "plan --draws 0 --stage 'brine, 4 d'"},
    {"bucket", "bucket --with other.ini"},
    {"choose", "choose --draws 0"},
    {"why", "why --day 4d --grey 20mm --draws 512"},
    {"learn", "learn --notebook shop.csv --day 4d --ring 10mm"},
    {"brine", "brine", false},
};

inline std::string line(const Command& c, const std::string& flags) {
    return c.words + " --weight 2kg " + (c.piece ? "--thickness 50mm " : "") + flags;
}

/// Where they run: a second piece lies there, and no notebook yet.
inline Folder& kitchen() {
    static Folder folder;
    folder.write("other.ini", "thickness = 30 mm\nweight = 5 g\n");
    std::filesystem::remove(folder / "shop.csv");
    return folder;
}

} // namespace tidemark::cli
