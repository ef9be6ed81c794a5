// SPDX-License-Identifier: MIT
/// Limits are keyed limit.CODE.PRODUCT.METHOD.SUBSTANCE; a substance ending in -ion is turned into
/// the salt.
#include "materials/limits.hpp"

#include "materials/lookup.hpp"
#include "materials/solutes.hpp"

#include <boost/algorithm/string/predicate.hpp>

#include <algorithm>
#include <cmath>

namespace tidemark::materials {
namespace {

Limit read(base::Records& records, const std::string& code, const std::string& product,
           const std::string& method, const std::string& substance) {
    const base::Record& record =
        records.use("limit." + code + '.' + product + '.' + method + '.' + substance);
    const bool ion = boost::ends_with(substance, "-ion");
    const std::string anion = substance.substr(0, substance.find('-'));
    const double factor = ion ? equivalent(records, substance, "sodium-" + anion) : 1;
    // To half a ppm, for a code's figure has no more digits: 80 ppm of the ion are 120 of the salt,
    // not 119.98.
    const double salt = ion ? std::round(2e6 * record.si() * factor) / 2e6 : record.si();
    return {code,        product, method,        anion,        salt,
            record.si(), ion,     record.source, record.where, record.mark};
}

} // namespace

std::vector<std::string> code_names(const base::Records& records) {
    return records.group("limit");
}

std::vector<std::string> product_classes(const base::Records& records) {
    std::vector<std::string> list{"cured"};
    for (const std::string& code : code_names(records)) {
        for (const std::string& product : records.group("limit." + code)) {
            if (std::ranges::count(list, product) == 0) {
                list.push_back(product);
            }
        }
    }
    return list;
}

std::optional<Limit> limit_of(base::Records& records, const std::string& code,
                              const std::string& product, const std::string& method,
                              const std::string& substance) {
    known("law", code, code_names(records));
    for (const std::string& class_ : {product, std::string("cured")}) {
        // What is found in the finished meat cannot be more than what went in.
        for (const std::string& way : {method, std::string("any"), std::string("finished")}) {
            for (const char* basis : {"", "-ion"}) {
                if (records.find("limit." + code + '.' + class_ + '.' + way + '.' + substance +
                                 basis)) {
                    return read(records, code, class_, way, substance + basis);
                }
            }
        }
    }
    return {};
}

std::optional<double> least_nitrite(base::Records& records, const std::string& code) {
    const std::string key = "minimum." + code + ".nitrite";
    return records.find(key) ? std::optional(records.si(key)) : std::nullopt;
}

double rind_factor(base::Records& records) {
    return 1 - records.si("limit-rule.rind");
}

double bacon_share(base::Records& records) {
    return 1 - records.si("limit-rule.bacon-tolerance");
}

} // namespace tidemark::materials
