// SPDX-License-Identifier: MIT
/// What a shop's slices taught, as one screen of text or as one JSON object.
#pragma once

#include "inference/learn.hpp"
#include "inference/notebook.hpp"
#include "inference/ranges.hpp"
#include "output/screen.hpp"

#include <string>
#include <vector>

namespace tidemark::output {

struct LearnAnswer {
    std::string notebook; ///< file
    std::string muscle;
    std::string next;   ///< title of the case the days are for
    bool added = false; ///< the last batch has just been written
    std::vector<inference::Batch> batches;
    inference::Learnt learnt;
    inference::DayRange by_records, by_shop; ///< pull day of the next piece [s]
    inference::DayRange of_pieces; ///< of this cut's pieces in a shop known to its middle [s]
    judge::Findings findings;
};

/// The screen, lines of at most 80 characters.
std::string learn_report(const LearnAnswer& answer, const Shown& shown = {});

/// The object as text, two spaces deep; units stand in the names of the members.
std::string learn_json(const LearnAnswer& answer);

} // namespace tidemark::output
