// SPDX-License-Identifier: MIT
/// The best day of a prediction and how sure it is: the spread of its inputs carried through to the
/// days, and where it comes from. Covers the spreads written in the records and the brine; that
/// meat is not uniform, and that the model is a model, it does not. Colour and taste only: not a
/// safety rule.
#pragma once

#include "cure/outcome.hpp"
#include "inference/chance.hpp"
#include "inference/inputs.hpp"

#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::inference {

constexpr double never = std::numeric_limits<double>::infinity();

/// A day with its range [s]. Draws that never get there within the horizon count as later than all
/// others; a quantile that falls among them is infinite.
struct DayRange {
    double early = never, half = never, late = never; ///< 5, 50 and 95 %
    double share_never = 1;                           ///< of the draws [1]
};

/// Share of the spread of the pull day's logarithm [1]; see sensitivity.hpp.
struct SpreadShare {
    std::string group;
    std::string name;   ///< for the cook
    std::string remedy; ///< how to know it better; empty: in no way
    std::string owner;  ///< whose it is: "all meat", "the shop", "the piece"
    double first = 0, total = 0;
};

/// A mistake that is drawn under its own name and kept out of the days and the chance, since the
/// cook can see to it: what it would make of such a piece.
struct Mistake {
    std::string name, remedy; ///< for the cook
    double share = 0;         ///< of pieces that it befalls [1]
    DayRange cured;           ///< of those
    double grey = 0;          ///< share of those whose core is not cured on the best day [1]
};

struct Ranges {
    int draws = 0;
    DayRange pull, lasting, salted, last_good;
    BestDay best;
    std::optional<DayChance> asked;  ///< of the day that was asked for, if one was
    std::vector<SpreadShare> shares; ///< the largest first
    std::vector<Mistake> mistakes;
    double error = 0;          ///< relative, of the days, as found at the 5, 50 and 95 % draws [1]
    double brine_salt_low = 0; ///< the weak end of the brine, 95 % above it [kg/kg]
    std::optional<double> ingoing_high;   ///< ingoing nitrite at the strong end [kg/kg]
    judge::Findings findings;             ///< of the best day and of the brine as measured out
    std::vector<base::Record> parameters; ///< used here and not in the prediction
};

/// How a prediction is to be asked again with what varies.
struct Ask {
    int draws = 4096;
    double confidence = 0.9; ///< of the window [1]
    std::uint64_t seed = 1;
};

/// Ranges of a prediction, by quasi-random draws of its case's inputs. `records` as they were given
/// to run(in_brine()). Deterministic for a seed. Throws base::RunError for a case whose cooler has
/// a log.
Ranges ranges(const cure::Outcome& prediction, const base::Records& records, const Ask& ask = {});

/// The same with inputs changed by the caller, as by what slices have taught.
Ranges ranges(const cure::Outcome& prediction, const base::Records& records, const Inputs& inputs,
              const Ask& ask = {});

/// What becomes of each draw, as ranges() takes it.
std::vector<Fate> fates(const cure::Outcome& prediction, const base::Records& records,
                        const Inputs& inputs, const Ask& ask);

/// What is to be told of ending the stage `stage` at `time` [s], if that is later than it was.
judge::Findings of_waiting(const cure::Outcome& outcome, std::size_t stage, double time,
                           const base::Records& records);

/// The best of the days up to which cold alone keeps the meat safe, if the stage `stage` ends then
/// and its chance is `least` [1] or more, by default as sure as asked; else the best of all.
BestDay kept_cold(const BestDay& all, const cure::Outcome& outcome, std::size_t stage,
                  const base::Records& records, int draws, std::optional<double> least = {});

/// The q-quantile [as the values] of values of which some may be infinite; 0 < q < 1, values not
/// empty.
double quantile(std::vector<double> values, double q);

} // namespace tidemark::inference
