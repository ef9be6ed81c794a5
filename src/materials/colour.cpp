// SPDX-License-Identifier: MIT
/// Visible pink begins when nitrite about equals heme in moles; the regression says the same.
#include "materials/colour.hpp"

#include "materials/lookup.hpp"

#include <cmath>

namespace tidemark::materials {

double pink_threshold(base::Records& records, double myoglobin) {
    return records.si("colour.threshold.base") + records.si("colour.threshold.slope") * myoglobin;
}

double stable_threshold(base::Records& records, const std::string& species) {
    return records.si("colour.stable." + known("animal", species, records.group("colour.stable")));
}

double cured_threshold(base::Records& records, double pink, double lasting) {
    return pink * std::pow(lasting / pink, records.si("colour.eye"));
}

} // namespace tidemark::materials
