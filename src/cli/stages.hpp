// SPDX-License-Identifier: MIT
/// A stage of a schedule as the cook writes it: "brine, 7 d", "rub, salt 30 g/kg, premix 2.5 g/kg,
/// 10 d, sealed bottom", "soak, 6 L, 2 h, changes 2", "rest, until even 20 %".
#pragma once

#include "cli/options.hpp"
#include "cure/outcome.hpp"

namespace tidemark::cli {

/// What the words of a stage need to know of the rest.
struct StageContext {
    double premix_strength = 0.0625; ///< sodium nitrite in the premix [1]
    double premix_nitrate = 0;       ///< sodium nitrate in it [1]
    double weight = 0;               ///< of one piece [kg]; 0 unknown
};

/// Reads one stage. Throws InputError headed by the place it was written.
cure::Stage stage_from_text(const Given& given, const StageContext& context);

/// One line of help for each kind of stage and each phrase.
extern const char* const stage_help;

} // namespace tidemark::cli
