// SPDX-License-Identifier: MIT
/// The one judge of every command. Looks at what was weighed, before anything is solved, and at how
/// long it lasted afterwards. A limit the user has set is judged by, and told; the record's own
/// limit is judged by as well, so that setting one never silences a danger. The list of limits may
/// be old or wrong: the local code decides.
#pragma once

#include "base/record.hpp"
#include "judge/finding.hpp"
#include "judge/weighed.hpp"
#include "materials/limits.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::judge {

/// The law's arithmetic on the doses.
struct Law {
    double ingoing = 0;       ///< nitrite by all methods, as the code counts it [kg/kg]
    double low = 0, high = 0; ///< as far as the spoons may have missed [kg/kg]
    std::optional<materials::Limit> limit; ///< the least of the methods used
    bool limited = true;                   ///< the law has a limit for every method used
    std::vector<std::optional<materials::Limit>> limits; ///< of each dose
};

/// The ingoing limit of a substance for a method under the law of the cure, lowered for the rind.
std::optional<materials::Limit> limit_for(const Weighed& cure, const std::string& method,
                                          const std::string& substance, base::Records& records);
/// Nitrite as a code counts it [as given]: Canada takes nitrate with it, but in slow cures.
double counted_nitrite(double nitrite, double nitrate, const std::string& law,
                       const std::string& product);
/// The least ingoing nitrite the code asks of this cure [kg/kg]; none where it asks for none.
std::optional<double> least_for(const Weighed& cure, const Law& law, base::Records& records);
/// "the us limit of 200 ppm, immersion", with the ion where the code counts that.
std::string in_words(const materials::Limit& limit);

/// What goes in, against the least limit of the methods used.
Law by_law(const Weighed& cure, base::Records& records);

/// All that can be said before anything is solved, the gravest first.
Findings judge(const Weighed& cure, base::Records& records);

/// How long the meat stays at its temperatures against the days to toxin. `water_salt` is the least
/// water-phase salt it comes to [1].
Findings judge_time(const std::vector<Period>& periods, bool nitrite, double water_salt,
                    base::Records& records);

/// Longest time [s] that a cooler's log was above the limit on end.
Findings judge_log(double above, base::Records& records);

/// What always holds, of any cure.
Findings cautions(bool nitrite, base::Records& records);

} // namespace tidemark::judge
