// SPDX-License-Identifier: MIT
/// The changes of a question that a cook could make, a step at a time, as a cook would write them.
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
    cure::Question question;
    std::vector<ChangedFlag> flags; ///< "stage" comes once for each stage, in place of all
    BrineFactors brine;             ///< where the change is one of the question's brine alone
    std::string command = "";       ///< the command to ask, where it is another
};

/// The same with a stage kept to a length [s], in place of what it waits for.
std::optional<Variant> kept_to(const Variant& v, std::size_t stage, double length);

// `step` counts from the question; none where there is no such change. Salt and nitrite are those
// of the stage that doses last; `now` is the question's brine.

/// No face shut.
std::optional<Variant> turned(const cure::Question& q);
/// Salt on the next quarters of a percent of a brine, or 2.5 g/kg of a rub or bag, up (1, 2, ...)
/// or down (-1, -2, ...).
std::optional<Variant> with_salt(const cure::Question& q, const cure::Pickle& now, int step);
/// Nitrite of the question's brine as near to the limit of the law as scales allow.
std::optional<Variant> with_most_nitrite(const cure::Question& q, const cure::Pickle& now,
                                         const cure::Ingoing& ingoing);
std::optional<Variant> both(const cure::Question& q, const cure::Pickle& now,
                            const cure::Ingoing& ingoing, int step);
/// More (1, 2, ...) or less (-1, -2, ...) of the same brine, by half of it.
std::optional<Variant> with_brine(const cure::Question& q, const cure::Pickle& now, int step);
/// A brine without an end put in by needles first, its nitrite what the law leaves room for.
std::optional<Variant> pumped(const cure::Question& q, const cure::Pickle& now,
                              const base::Records& records);
/// Needles alone in place of a brine without an end, then a rest until cured.
std::optional<Variant> pumped_alone(const cure::Question& q, const base::Records& records);
/// A brine without an end followed by a soak of half a day, or by a week's rest.
std::optional<Variant> soaked(const cure::Question& q, double meat, const base::Records& records);
std::optional<Variant> rested(const cure::Question& q, const base::Records& records);
/// Cut thinner, by a sixth of the thickness each step.
std::optional<Variant> thinner(const cure::Question& q, int step);

} // namespace tidemark::inference
