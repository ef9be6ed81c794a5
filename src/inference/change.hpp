// SPDX-License-Identifier: MIT
/// The smallest change that makes a day sure enough: the changes a cook could make are tried in the
/// order in which a cook would, and the first that reaches the confidence asked for is run as it is
/// told. For a piece in brine; looks at no change that brings a danger or a warning of the law that
/// was not there before.
#pragma once

#include "inference/ranges.hpp"
#include "inference/variant.hpp"

#include <functional>
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
};

/// One kind of change and how far it came.
struct Tried {
    std::string what;
    double day = 0, chance = 0; ///< [s], [1]
};

struct Changes {
    std::optional<Change> best; ///< none: nothing that was tried is worth it
    std::vector<Tried> tried;
};

/// Looks for a change of the case of `prediction`, whose best day is `now`. `records` as they were
/// given to run(in_brine()).
Changes smallest_change(const cure::Outcome& prediction, const BestDay& now,
                        const base::Records& records, const InputsOf& inputs_of, const Ask& ask);

} // namespace tidemark::inference
