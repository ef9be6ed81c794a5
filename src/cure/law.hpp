// SPDX-License-Identifier: MIT
/// What a code of law says of the nitrite that goes in, the same words for every command. The list
/// in models/limits.ini may be old or wrong: the local code decides.
#pragma once

#include "base/record.hpp"
#include "cure/case.hpp"
#include "cure/pickle.hpp"
#include "cure/prediction.hpp"
#include "materials/limits.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::cure {

/// The ingoing limit of nitrite under the case's law for its product [kg/kg], by immersion, pumped,
/// dry or ground; none where the law sets none.
std::optional<materials::Limit> nitrite_limit(const Case& c, const std::string& method,
                                              base::Records& records);

/// Nitrite as a code counts it [as given]: Canada takes nitrate with it.
double counted_nitrite(double nitrite, double nitrate, const std::string& law);
/// The same of a pickle: one whose nitrite is what the code counts.
Pickle counted(Pickle pickle, const std::string& law);

/// "the us limit of 200 ppm for immersion".
std::string in_words(const materials::Limit& limit);
/// "ingoing nitrite 40 ppm is below the 120 ppm the us code asks of cured meat ..."; shares [1].
std::string below_least(double ingoing, double least, const std::string& law);
/// "the codex code limits what is left in the product, ..."
std::string left_not_ingoing(const std::string& law);
/// What is wrong with nitrate in a brine.
inline constexpr const char* nitrate_in_brine =
    "the premix holds nitrate, which is for dry cures of months: for a brine that is cooked after "
    "days use one "
    "without";
inline constexpr const char* nitrate_in_bacon =
    "no nitrate is allowed in bacon: use a premix without it";

struct Verdict {
    std::vector<std::string> hazards, warnings;
};

/// One cure against its law.
struct Dosing {
    double ingoing = 0; ///< nitrite by all methods, as the code counts it [kg/kg]
    std::optional<materials::Limit> limit; ///< the least of the methods used
    bool limited = true;                   ///< the law has a limit for every method used
    bool nitrate = false;                  ///< there is nitrate in a brine
};
Verdict verdict(const Case& c, const Dosing& dosing, base::Records& records);

/// Meat [kg] left in one brine, and what the law says; meat of 0 is of unknown weight.
struct Immersion {
    Ingoing ingoing;
    Verdict verdict;
};
Immersion immersion(const Case& c, const Pickle& pickle, double meat, base::Records& records);

} // namespace tidemark::cure
