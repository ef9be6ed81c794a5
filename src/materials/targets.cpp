// SPDX-License-Identifier: MIT
/// Limits are keyed limit.CODE.METHOD.SUBSTANCE; a substance ending in -ion is turned into the
/// salt.
#include "materials/targets.hpp"

#include "materials/lookup.hpp"
#include "materials/solutes.hpp"

#include <boost/algorithm/string/predicate.hpp>

namespace tidemark::materials {

Band taste_band(base::Records& records) {
    return {records.si("target.taste.low"), records.si("target.taste.high")};
}

double salt_floor(base::Records& records) {
    return records.si("target.salt-floor");
}

std::vector<std::string> premix_names(const base::Records& records) {
    return records.group("premix");
}

Premix premix(base::Records& records, const std::string& name) {
    const std::string key = "premix." + known("premix", name, premix_names(records));
    return {records.si(key + ".salt"), records.si(key + ".nitrite"), records.si(key + ".nitrate")};
}

std::vector<Limit> limits(base::Records& records) {
    std::vector<Limit> list;
    for (const std::string& code : records.group("limit")) {
        for (const std::string& method : records.group("limit." + code)) {
            const std::string key = "limit." + code + '.' + method;
            for (const std::string& substance : records.group(key)) {
                const base::Record& record = records.use(key + '.' + substance);
                const std::string anion = substance.substr(0, substance.find('-'));
                const double factor = boost::ends_with(substance, "-ion")
                                          ? equivalent(records, substance, "sodium-" + anion)
                                          : 1;
                list.push_back({code, method, anion, record.si() * factor, record.source});
            }
        }
    }
    return list;
}

double refrigerated_minimum(base::Records& records) {
    return records.si("limit.us.refrigerated-minimum");
}

std::vector<std::string> product_names(const base::Records& records) {
    return records.group("finished");
}

double finished_salt(base::Records& records, const std::string& product) {
    return records.si("finished." + known("product", product, product_names(records)) + ".sodium") *
           equivalent(records, "sodium", "sodium-chloride");
}

} // namespace tidemark::materials
