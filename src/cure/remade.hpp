// SPDX-License-Identifier: MIT
/// A brine made up again with more or less salt, as a cook would weigh and write it.
#pragma once

#include "cure/pickle.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace tidemark::cure {

struct Remade {
    Brine brine;
    std::string what;                                       ///< "4.5 % salt in the brine"
    std::vector<std::pair<std::string, std::string>> flags; ///< name and text
    double salt = 1, water = 1; ///< salt on its water, and its water, over those of the other [1]
};

/// `brine`, which is `now`, with `salt` [kg per kg brine]: of a recipe the salt that is added
/// changes and is rounded as scales show it, of any other its strength. None where its premix alone
/// brings as much.
std::optional<Remade> remade(const Brine& brine, const Pickle& now, double salt);

} // namespace tidemark::cure
