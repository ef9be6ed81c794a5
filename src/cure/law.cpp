// SPDX-License-Identifier: MIT
#include "cure/law.hpp"

#include "cure/say.hpp"

#include <cmath>

namespace tidemark::cure {
namespace {

constexpr double rounding = 1e-9;

} // namespace

std::optional<materials::Limit> nitrite_limit(const Case& c, const std::string& method,
                                              base::Records& records) {
    return materials::limit_of(records, c.law, c.product, method, "nitrite");
}

double counted_nitrite(double nitrite, double nitrate, const std::string& law) {
    return nitrite + (law == "canada" ? nitrate : 0);
}

Pickle counted(Pickle pickle, const std::string& law) {
    pickle.nitrite = counted_nitrite(pickle.nitrite, pickle.nitrate, law);
    return pickle;
}

std::string in_words(const materials::Limit& limit) {
    return "the " + limit.code + " limit of " + ppm(limit.value) +
           (limit.product == "bacon" ? " for bacon" : "") +
           (limit.method == "any" ? "" : ", " + limit.method);
}

std::string below_least(double ingoing, double least, const std::string& law) {
    return "ingoing nitrite " + ppm_beside(ingoing, least) + " is below the " + ppm(least) +
           " the " + law + " code asks of cured meat" +
           (law == "us" ? " sold to be kept cold, unless heat, pH or dryness make it safe" : "");
}

std::string left_not_ingoing(const std::string& law) {
    return "the " + law +
           " code limits what is left in the product, not what goes in: have it analysed";
}

Verdict verdict(const Case& c, const Dosing& j, base::Records& records) {
    Verdict v;
    if (j.limit && j.ingoing > j.limit->value * (1 + rounding))
        v.hazards.push_back("ingoing nitrite " + ppm_beside(j.ingoing, j.limit->value) +
                            " is above " + in_words(*j.limit) + ": use less premix");
    const auto least = materials::least_nitrite(records, c.law);
    if (least && j.ingoing > 0 && j.ingoing < *least * (1 - rounding))
        v.warnings.push_back(below_least(j.ingoing, *least, c.law));
    if (j.ingoing > 0 && !j.limited)
        v.warnings.push_back(left_not_ingoing(c.law));
    if (j.nitrate) {
        const auto limit = materials::limit_of(records, c.law, c.product, "immersion", "nitrate");
        v.hazards.push_back(limit && limit->value == 0 ? nitrate_in_bacon : nitrate_in_brine);
    }
    return v;
}

Immersion immersion(const Case& c, const Pickle& pickle, double meat, base::Records& records) {
    Immersion i;
    const auto limit = nitrite_limit(c, "immersion", records);
    i.ingoing.law = c.law + ", " + c.product;
    if (limit)
        i.ingoing.limit = limit->value;
    const bool much = !std::isfinite(pickle.mass);
    if (meat > 0 || much) {
        i.ingoing.whole_system = whole_system_nitrite(counted(pickle, c.law), meat);
        i.ingoing.note = much ? "nitrite over meat plus brine, for very much brine"
                              : "nitrite over meat plus brine";
    }
    i.verdict = verdict(
        c, {i.ingoing.whole_system.value_or(0), limit, limit.has_value(), pickle.nitrate > 0},
        records);
    return i;
}

} // namespace tidemark::cure
