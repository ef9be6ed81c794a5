// SPDX-License-Identifier: MIT
#include "inference/chance.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tidemark::inference {

std::vector<DayChance> chances_at(const std::vector<Fate>& fates,
                                  const std::vector<double>& times) {
    // How many more draws there are from each time on: a draw is looked at once for all times.
    struct More {
        int cured = 0, in_band = 0, right = 0, salty = 0;
    };
    std::vector<More> more(times.size() + 1);
    const auto between = [&](int More::*what, std::size_t from, std::size_t to) {
        if (from < to) {
            more[from].*what += 1;
            more[to].*what -= 1;
        }
    };
    const auto index = [&](auto time) { return static_cast<std::size_t>(time - times.begin()); };
    for (const Fate& f : fates) {
        const std::size_t cured = index(std::lower_bound(times.begin(), times.end(), f.cured)),
                          salted = index(std::lower_bound(times.begin(), times.end(), f.salted)),
                          salty = index(std::upper_bound(times.begin(), times.end(), f.too_salty));
        between(&More::cured, cured, times.size());
        between(&More::in_band, salted, salty);
        between(&More::right, std::max(cured, salted), salty);
        between(&More::salty, std::max(cured, salty), times.size());
    }
    const double n = static_cast<double>(fates.size());
    std::vector<DayChance> chances;
    More now;
    for (std::size_t k = 0; k < times.size(); ++k) {
        now.cured += more[k].cured;
        now.in_band += more[k].in_band;
        now.right += more[k].right;
        now.salty += more[k].salty;
        chances.push_back({times[k], now.cured / n, now.in_band / n, now.right / n,
                           1 - now.cured / n, now.salty / n,
                           std::max(0.0, (now.cured - now.right - now.salty) / n)});
    }
    return chances;
}

DayChance chance_at(const std::vector<Fate>& fates, double t) {
    return chances_at(fates, {t}).front();
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
    return best_of(chances_at(fates, days_to_try(horizon)), confidence, fates.size());
}

} // namespace tidemark::inference
