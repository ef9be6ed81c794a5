// SPDX-License-Identifier: MIT
#include "cure/two_meshes.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::cure {

double extrapolated(double coarse, double fine) {
    return fine + (fine - coarse) / 3;
}

std::optional<double> extrapolated(const std::optional<double>& coarse,
                                   const std::optional<double>& fine) {
    if (!coarse || !fine)
        return fine;
    return extrapolated(*coarse, *fine);
}

double fine_error(double coarse, double fine) {
    // Where the two happen to err alike or apart their difference says nothing, and cells are not
    // trusted below a ten-thousandth.
    return std::max(std::abs(fine - coarse) / 3, 1e-4 * fine);
}

double along_error(const Grid& fine, const Level& level, double time, bool nitrite) {
    const double by = fine.along_error(time, nitrite), before = 0.98 * time,
                 pace = (level(fine, time) - level(fine, before)) / (time - before);
    return by > 0 && pace > 0 ? by / pace : 0;
}

void Event::search(const Grid& grid, double first, double last) {
    coarse = first_time([&](double t) { return level(grid, t); }, target, first, last);
}

void Event::refine(const Grid& fine) {
    if (!coarse)
        return;
    if (*coarse == 0) {
        time = 0;
        return;
    }
    const auto on_fine = [&](double t) { return level(fine, t); };
    const double end = fine.salt_chain.last().history->last();
    std::optional<double> found;
    for (const double margin : {0.02, 0.2, 0.9}) // it crosses near the coarse one's time
        if (!found && on_fine((1 - margin) * *coarse) < target)
            found = first_time(on_fine, target, (1 - margin) * *coarse,
                               std::min((1 + margin) * *coarse, end));
    if (!found)
        return;
    time = extrapolated(*coarse, *found);
    error = fine_error(*coarse, *found) + along_error(fine, level, *found, nitrite);
}

} // namespace tidemark::cure
