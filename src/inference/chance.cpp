// SPDX-License-Identifier: MIT
#include "inference/chance.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tidemark::inference {

DayChance chance_at(const std::vector<Fate>& fates, double t) {
    double cured = 0, in_band = 0, right = 0, salty = 0;
    for (const Fate& f : fates) {
        const bool is_cured = f.cured <= t, is_salty = f.too_salty < t,
                   is_in = f.salted <= t && !is_salty;
        cured += is_cured;
        in_band += is_in;
        right += is_cured && is_in;
        salty += is_cured && is_salty;
    }
    const double n = static_cast<double>(fates.size());
    return {t,
            cured / n,
            in_band / n,
            right / n,
            1 - cured / n,
            salty / n,
            std::max(0.0, (cured - right - salty) / n)};
}

std::vector<double> days_to_try(double horizon) {
    constexpr double day = 86400, quarters_to = 3, halves_to = 10;
    std::vector<double> days;
    for (double d = 0.25; d * day <= horizon * (1 + 1e-9); d += d < quarters_to ? 0.25
                                                                : d < halves_to ? 0.5
                                                                                : 1)
        days.push_back(d * day);
    return days;
}

BestDay best_of(std::vector<DayChance> days, double confidence, std::size_t draws) {
    BestDay b;
    b.confidence = confidence;
    days.erase(days.begin(),
               std::ranges::find_if(days, [](const DayChance& d) { return d.right > 0; }));
    double greatest = 0;
    for (const DayChance& d : days)
        greatest = std::max(greatest, d.right);
    // Where there are days good enough, the best is one of them.
    const double as_good = greatest - BestDay::indifferent,
                 good = greatest >= confidence ? std::max(as_good, confidence) : as_good;
    for (const DayChance& d : days) {
        if (!b.best && d.right >= good)
            b.best = d;
        if (d.right >= confidence)
            b.window = {b.window ? b.window->first : d.time, d.time};
    }
    if (b.best)
        b.error = std::sqrt(b.best->right * (1 - b.best->right) / static_cast<double>(draws));
    b.by_day = std::move(days);
    return b;
}

BestDay best_day(const std::vector<Fate>& fates, double horizon, double confidence) {
    std::vector<DayChance> days;
    for (const double t : days_to_try(horizon))
        days.push_back(chance_at(fates, t));
    return best_of(std::move(days), confidence, fates.size());
}

} // namespace tidemark::inference
