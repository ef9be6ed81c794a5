// SPDX-License-Identifier: MIT
/// The chance that a piece is right on a day, and the best day. A piece is right when its core is
/// cured and the mean salt of its lean is in the band that tastes cured, both on the same day: one
/// joint chance from the same draws. Colour and taste only: not a safety rule.
#pragma once

#include <optional>
#include <utility>
#include <vector>

namespace tidemark::inference {

/// What becomes of one draw [s]: from when its core is cured, and between when its mean salt is in
/// the band. Infinite: not within the time looked at.
struct Fate {
    double cured = 0, salted = 0, too_salty = 0;
};

/// Shares of the draws at one time [1].
struct DayChance {
    double time = 0;    ///< [s]
    double cured = 0;   ///< the core is
    double in_band = 0; ///< the mean salt is
    double right = 0;   ///< both
    double grey = 0;    ///< the core is not cured; with the next two and `right` these make 1
    double salty = 0;   ///< the core is cured, the whole is above the band
    double bland = 0;   ///< the core is cured, the whole is below the band
};

struct BestDay {
    /// The earliest day whose chance is within `indifferent` of the greatest; none where no draw is
    /// right on any day.
    std::optional<DayChance> best;
    double confidence = 0.9; ///< asked for [1]
    /// First and last day of at least that chance [s].
    std::optional<std::pair<double, double>> window;
    std::optional<DayChance> as_set; ///< of a bucket's piece that stays as long as it was told to
    double error = 0;              ///< of the chance, of the sampling alone: one standard error [1]
    std::vector<DayChance> by_day; ///< from the first day on which anything is right
    bool sure() const { return window.has_value(); }
    bool likely() const { return best && best->right >= 0.5; }
    static constexpr double indifferent = 0.01;
};

/// Shares at each of some times [s], which rise; `fates` not empty.
std::vector<DayChance> chances_at(const std::vector<Fate>& fates, const std::vector<double>& times);
/// Shares at time `t` [s]; `fates` not empty.
DayChance chance_at(const std::vector<Fate>& fates, double t);

/// A day as a cook can keep to it: quarters up to day 3, halves up to day 10, then whole ones [s].
std::vector<double> days_to_try(double horizon);

/// Of the chances of some days, in order, from so many draws.
BestDay best_of(std::vector<DayChance> days, double confidence, std::size_t draws);

/// Throws nothing; `fates` not empty, `horizon` [s] how far was looked.
BestDay best_day(const std::vector<Fate>& fates, double horizon, double confidence);

} // namespace tidemark::inference
