// SPDX-License-Identifier: MIT
/// The changes of a case that a cook could make, a step at a time, as a cook would write them.
#pragma once

#include "cure/outcome.hpp"
#include "cure/pickle.hpp"
#include "inference/case_inputs.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::inference {

/// What another brine is beside the one of the case, as factors [1]: salt and nitrite on its water,
/// and its water.
struct BrineFactors {
    double salt = 1, nitrite = 1, water = 1;
    Draw operator()(Draw d) const {
        d.salt *= salt;
        d.nitrite *= nitrite;
        d.water *= water;
        return d;
    }
};
/// As far as brines are looked at [1].
constexpr double least_salt = 0.3, most_salt = 3, most_nitrite = 2, least_brine = 0.5,
                 most_brine = 3;

/// A flag of the command and what to write behind it.
struct ChangedFlag {
    std::string name, text;
};

struct Variant {
    std::string what;
    cure::Case question;
    std::vector<ChangedFlag> flags;
    BrineFactors brine;
};

// `step` counts from the case; none where there is no such change.

/// No face shut.
std::optional<Variant> turned(const cure::Case& c);
/// Salt of the brine on the next quarters of a percent up (1, 2, ...) or down (-1, -2, ...).
std::optional<Variant> with_salt(const cure::Case& c, const cure::Pickle& now, int step);
/// Nitrite as near to the limit of the law as scales allow.
std::optional<Variant> with_most_nitrite(const cure::Case& c, const cure::Pickle& now,
                                         const cure::Ingoing& ingoing);
std::optional<Variant> both(const cure::Case& c, const cure::Pickle& now,
                            const cure::Ingoing& ingoing, int step);
/// More (1, 2, ...) or less (-1, -2, ...) of the same brine, by half of it.
std::optional<Variant> with_brine(const cure::Case& c, const cure::Pickle& now, int step);
/// Cut thinner, by a sixth of the thickness each step.
std::optional<Variant> thinner(const cure::Case& c, int step);

} // namespace tidemark::inference
