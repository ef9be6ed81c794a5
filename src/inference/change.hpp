// SPDX-License-Identifier: MIT
/// The smallest change that makes a day sure enough: the changes a cook could make are tried in the
/// order in which a cook would, and the first that reaches the confidence asked for is run as it is
/// told. One that takes more than six weeks, and twice as long, is told only if nothing behind it
/// is much sooner; one whose days are too long for cold alone, only if nothing behind it is not.
/// Looks at no change that brings a warning that was not there before, at none while there is a
/// danger, and at none that the cook does without.
#pragma once

#include "inference/ranges.hpp"
#include "inference/schedule_chance.hpp"
#include "inference/variant.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::inference {

struct Change {
    std::string what; ///< "5.25 % salt in the brine: 258 g of salt"
    std::vector<ChangedFlag> flags;
    double day = 0;                                       ///< its best day [s]
    double chance = 0;                                    ///< of that day [1]
    std::optional<std::pair<double, double>> window = {}; ///< as in BestDay
    bool enough = false;                                  ///< the confidence asked for is reached
    std::string command = {};                             ///< empty: the one that was asked
    bool too_long = false; ///< for cold alone, where the question was not: its line warns of that
};

/// One kind of change and how far it came.
struct Tried {
    std::string what;
    double day = 0, chance = 0; ///< [s], [1]
};

struct Changes {
    std::optional<Change> best; ///< none: nothing that was tried is worth it
    std::vector<Tried> tried;
    bool looked = false; ///< not where the day is sure, or a danger is to be mended first
    std::vector<std::string> left_out = {}; ///< as the cook asked: of cure::all_means()
};

/// Of several chances the least.
const BestDay& least_sure(const std::vector<BestDay>& chances);

/// Looks for a change of the question of `outcome`, whose best days are `now`, one for each piece:
/// it is to mend the least sure of them. `fit` is of a schedule of one piece that has one.
/// `records` as they were given to run().
Changes smallest_change(const cure::Outcome& outcome, const std::vector<BestDay>& now,
                        const base::Records& records, const InputsOf& inputs_of, const Ask& ask,
                        const ScheduleFit* fit = nullptr);

} // namespace tidemark::inference
