// SPDX-License-Identifier: MIT
/// The cooler limit is the printed 40 F; the freezing hint is from memory.
#include "materials/safety.hpp"

#include "base/quantity.hpp"
#include "materials/lookup.hpp"
#include "materials/solutes.hpp"

#include <cmath>
#include <limits>

namespace tidemark::materials {

std::string cooler_warning(base::Records& records, double temperature) {
    const double limit = records.si("cooler.limit");
    const double lowest = records.si("cooler.lowest");
    const std::string shown = base::show_temperature(temperature);
    if (temperature > limit) {
        return shown + " is warmer than a cure may be kept, " + base::show_temperature(limit) +
               ": bacteria grow";
    }
    if (temperature < lowest) {
        return shown + " freezes lean meat, which begins near " + base::show_temperature(lowest) +
               ": the cure stops moving";
    }
    return "";
}

std::vector<Growth> growth_limits(base::Records& records) {
    std::vector<Growth> list;
    for (const std::string& name : records.group("growth")) {
        const std::string key = "growth." + name;
        if (records.find(key + ".temperature")) { // the other goes by its times to toxin
            list.push_back(
                {name, records.si(key + ".temperature"), records.si(key + ".water-phase-salt")});
        }
    }
    return list;
}

std::vector<ToxinTime> toxin_times(const base::Records& records) {
    const Table points = table(records, "toxin.c-botulinum-nonproteolytic");
    std::vector<ToxinTime> list;
    for (std::size_t i = 0; i < points.x.size(); ++i) {
        list.push_back({points.x[i], points.y[i]});
    }
    return list;
}

double time_to_toxin(const std::vector<ToxinTime>& points, double temperature) {
    if (temperature < points.front().temperature)
        return std::numeric_limits<double>::infinity();
    for (std::size_t i = 1; i < points.size(); ++i) {
        const ToxinTime &a = points[i - 1], &b = points[i];
        if (temperature <= b.temperature)
            return std::lerp(a.duration, b.duration,
                             (temperature - a.temperature) / (b.temperature - a.temperature));
    }
    return points.back().duration;
}

double fatal_dose(base::Records& records) {
    return records.si("toxic.fatal") * records.si("toxic.adult");
}

double harmful_dose(base::Records& records) {
    return records.si("toxic.ill") * records.si("toxic.adult") *
           equivalent(records, "nitrite-ion", "sodium-nitrite");
}

} // namespace tidemark::materials
