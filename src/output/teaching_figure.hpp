// SPDX-License-Identifier: MIT
/// Figures that teach: days against the thickness, and where the spread of a day comes from.
#pragma once

#include "base/record.hpp"
#include "inference/answer.hpp"
#include "output/drawing.hpp"

#include <limits>
#include <string>
#include <vector>

namespace tidemark::output {

/// Days on which the core of one thickness is cured [s]; NaN where it never is.
struct DaysOfThickness {
    double thickness = 0;                   ///< [m]
    double sheet = 0, round = 0;            ///< as the nitrite is used up on its way
    double sheet_kept = 0, round_kept = 0;  ///< as if none were
    double round_early = 0, round_late = 0; ///< 5 and 95 of 100 rounds are cured by then
};

/// Days against the thickness, beside the trade's rules of days for each inch. `asked` says of
/// what. `rows` has 50 and 100 mm among its thicknesses, in order.
Drawing thickness_figure(const std::vector<DaysOfThickness>& rows,
                         const std::vector<base::Record>& rules, const std::string& asked);

/// The spread of the day on which the core is cured, and what it comes from: a bar for each cause,
/// with how it could be known better. The answer has ranges.
Drawing spread_figure(const inference::Answer& answer);

} // namespace tidemark::output
