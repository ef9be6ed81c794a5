// SPDX-License-Identifier: MIT
/// What may have been otherwise than told when a core is grey: each cause is the same model with
/// one change. How often a cause is met, and how far it goes, stands in models/causes.ini.
#pragma once

#include "base/record.hpp"
#include "cure/outcome.hpp"
#include "inference/slice.hpp"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::inference {

/// One cause, as a cook reads it.
struct CauseText {
    std::string name;         ///< "colder", as in the records
    std::string title;        ///< "the cooler was colder than told, or froze the piece in part"
    std::string check;        ///< the next thing to look at
    std::optional<Look> look; ///< that shows it, if one does
};
const std::vector<CauseText>& cause_texts();

/// A cause with what its pieces would have shown.
struct Suspect {
    CauseText text;
    double prior = 0;             ///< share before the slice was looked at, of all suspects [1]
    std::vector<Draw> draws;      ///< of the inputs, the change among them
    std::vector<Slice> shown;     ///< at the time asked for, without errors of reading
    std::vector<double> log_grey; ///< log of the chance that a cook sees grey in it at all
    std::shared_ptr<const SliceModel> model;
};

/// All causes the case can have, the first as told; a ball has no faces to shut. `draws`
/// quasi-random draws each, deterministic for a `seed`. Solves the case anew for each shut face and
/// for fat. `inputs`: in place of case_inputs(), as slices have taught. Throws as SliceModel.
std::vector<Suspect> suspects(const cure::Outcome& prediction, const base::Records& records,
                              double time, int draws, std::uint64_t seed = 1,
                              const cure::Progress& progress = {}, const Inputs* inputs = nullptr);

} // namespace tidemark::inference
