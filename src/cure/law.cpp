// SPDX-License-Identifier: MIT
#include "cure/law.hpp"

#include "cure/say.hpp"

namespace tidemark::cure {

std::optional<materials::Limit> nitrite_limit(const Case& c, const std::string& method, base::Records& records) {
    return materials::limit_of(records, c.law, c.product, method, "nitrite");
}

std::string in_words(const materials::Limit& limit) {
    return "the " + limit.code + " limit of " + ppm(limit.value) + (limit.product == "bacon" ? " for bacon" : "") +
           (limit.method == "any" ? "" : ", " + limit.method);
}

Verdict verdict(const Case& c, double ingoing, const std::optional<materials::Limit>& limit, bool limited,
                bool nitrate, base::Records& records) {
    constexpr double rounding = 1e-9;
    Verdict v;
    if (limit && ingoing > limit->value * (1 + rounding))
        v.hazards.push_back("ingoing nitrite " + ppm_beside(ingoing, limit->value) + " is above " + in_words(*limit) +
                            ": use less premix");
    const auto least = materials::least_nitrite(records, c.law);
    if (least && ingoing > 0 && ingoing < *least * (1 - rounding))
        v.warnings.push_back("ingoing nitrite " + ppm_beside(ingoing, *least) + " is below the " + ppm(*least) +
                             (c.law == "us" ? " the us code asks of cured meat sold to be kept cold, unless heat, pH "
                                              "or dryness make it safe"
                                            : " the " + c.law + " code asks of cured meat"));
    if (ingoing > 0 && !limited)
        v.warnings.push_back("the " + c.law + " code limits what is left in the product, not what goes in: have it "
                             "analysed");
    if (nitrate)
        v.hazards.push_back(c.product == "bacon" && c.law == "us"
                                ? "no nitrate is allowed in bacon: use a premix without it"
                                : "the premix holds nitrate, which is for dry cures of months and is not counted "
                                  "here: tidemark brine judges it; for meat cooked after days use one without");
    return v;
}

} // namespace tidemark::cure
