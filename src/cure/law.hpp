// SPDX-License-Identifier: MIT
/// What a code of law says of the nitrite that goes in, the same words for every command. The list in
/// models/limits.ini may be old or wrong: the local code decides.
#pragma once

#include "base/record.hpp"
#include "cure/case.hpp"
#include "materials/limits.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::cure {

/// The ingoing limit of nitrite under the case's law for its product [kg/kg], by immersion, pumped,
/// dry or ground; none where the law sets none.
std::optional<materials::Limit> nitrite_limit(const Case& c, const std::string& method, base::Records& records);

/// "the us limit of 200 ppm for immersion".
std::string in_words(const materials::Limit& limit);

struct Verdict {
    std::vector<std::string> hazards, warnings;
};

/// Of ingoing nitrite [kg/kg] against the least of the methods' limits and the least that the law asks
/// for. `nitrate`: some goes in as well. `limited`: the law has a limit for every method used.
Verdict verdict(const Case& c, double ingoing, const std::optional<materials::Limit>& limit, bool limited,
                bool nitrate, base::Records& records);

} // namespace tidemark::cure
