// SPDX-License-Identifier: MIT
/// Asks the log of records used, so no function has to pass warnings along.
#include "materials/warnings.hpp"

namespace tidemark::materials {

std::vector<std::string> range_warnings(const base::Records& records,
                                        const std::map<std::string, double>& conditions) {
    std::vector<std::string> texts;
    for (const base::Record& record : records.used()) {
        for (const auto& [quantity, value] : conditions) {
            const std::string text = records.outside(record.key, quantity, value);
            if (!text.empty()) {
                texts.push_back(text);
            }
        }
    }
    return texts;
}

} // namespace tidemark::materials
