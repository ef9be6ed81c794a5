// SPDX-License-Identifier: MIT
/// The cup is printed a little lighter than sixteen tablespoons, so each measure keeps its own
/// mass.
#include "materials/measures.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "materials/lookup.hpp"

#include <cmath>

namespace tidemark::materials {

std::vector<std::string> measure_names(const base::Records& records) {
    return records.group("measure");
}

double measured_mass(base::Records& records, const std::string& item, double volume) {
    const std::string key = "measure." + known("measure", item, measure_names(records)) + '.';
    const auto size = [](const char* unit) {
        return base::to_si(1, unit, base::Dimension::volume);
    };
    if (!(volume >= 0)) {
        throw base::InputError("measure", base::significant(volume * 1e6, 4) + " mL",
                               "is less than nothing", "give a volume of zero or more");
    }
    const char* unit = volume < size("tbsp") ? "tsp" : volume < size("cup") ? "tbsp" : "cup";
    return volume / size(unit) * records.si(key + unit);
}

double spoon_volume(base::Records& records, const std::string& item, double mass) {
    const std::string key = "measure." + known("measure", item, measure_names(records)) + '.';
    const bool tsp = mass < records.si(key + "tbsp"), tbsp = mass < records.si(key + "cup");
    const std::string unit = tsp ? "tsp" : tbsp ? "tbsp" : "cup";
    const double parts = tsp || !tbsp ? 4 : 2;
    return std::round(mass / records.si(key + unit) * parts) / parts *
           base::to_si(1, unit, base::Dimension::volume);
}

} // namespace tidemark::materials
