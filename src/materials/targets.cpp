// SPDX-License-Identifier: MIT
/// Names are checked against what models/ holds.
#include "materials/targets.hpp"

#include "materials/lookup.hpp"

#include <algorithm>
#include <functional>

namespace tidemark::materials {

Band taste_band(base::Records& records) {
    return {records.si("target.taste.low"), records.si("target.taste.high")};
}

const std::vector<std::string>& ways_afterwards() {
    static const std::vector<std::string> ways{"eaten", "simmered", "soaked"};
    return ways;
}

double salt_afterwards(base::Records& records, const std::string& way) {
    return way == "eaten" ? 1 : records.si("target.afterwards." + way);
}

double salt_floor(base::Records& records) {
    return records.si("target.salt-floor");
}

double purge(base::Records& records) {
    return records.si("practice.purge");
}

double surface_depth(base::Records& records) {
    return records.si("practice.surface");
}

double told_between_needles(base::Records& records) {
    return records.si("practice.between-needles");
}

std::vector<base::Record> paces(base::Records& records) {
    std::vector<base::Record> list;
    for (const std::string& name : records.group("practice.pace"))
        list.push_back(records.use("practice.pace." + name));
    std::ranges::sort(list, std::greater<>{}, &base::Record::value);
    return list;
}

std::vector<std::string> premix_names(const base::Records& records) {
    return records.group("premix");
}

Premix premix(base::Records& records, const std::string& name) {
    const std::string key = "premix." + known("premix", name, premix_names(records));
    return {records.si(key + ".salt"), records.si(key + ".nitrite"), records.si(key + ".nitrate")};
}

} // namespace tidemark::materials
