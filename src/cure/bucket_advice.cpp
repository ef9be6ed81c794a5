// SPDX-License-Identifier: MIT
#include "cure/bucket_advice.hpp"

#include "base/quantity.hpp"
#include "cure/law.hpp"
#include "cure/say.hpp"
#include "materials/limits.hpp"
#include "materials/meat.hpp"
#include "materials/safety.hpp"
#include "materials/warnings.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::cure {

namespace {

std::string first_day(double seconds) {
    return base::day_number(seconds, base::Rounding::up);
}
std::string last_day(double seconds) {
    return base::day_number(seconds, base::Rounding::down);
}

std::string why_never(const BucketPiece& piece, double horizon, bool nitrite) {
    return "after " + last_day(horizon) + " days its core has " +
           (nitrite ? ppm(piece.core_arrived) + " of the " + ppm(piece.target) + " nitrite"
                    : percent(piece.core_salt) + " of the " + percent(piece.target) + " salt") +
           " it needs" +
           (nitrite && piece.thiele >= 2
                ? ", because nitrite is used up on its way in (Thiele modulus " +
                      base::significant(piece.thiele, 2) + ")"
                : std::string()) +
           "; use more brine or a stronger one, inject, cut thinner, or ask for a longer --horizon";
}

void take_out(Bucket& b) {
    const double need = b.all_cured.value_or(b.at);
    for (const BucketPiece& p : b.pieces) {
        if (!p.last_good || *p.last_good >= need)
            continue;
        std::string text =
            p.name + ": after day " + last_day(*p.last_good) + " " + p.last_good_reason +
            ", before " + (b.all_cured ? "all is cured on day " + first_day(need) : "all is cured");
        if (!p.pull)
            text += ", and it is not cured by then";
        else if (*p.last_good < *p.pull)
            text += ", and it is cured only on day " + first_day(*p.pull) +
                    ": use a weaker brine or soak it afterwards";
        else
            text += ": take it out between day " + first_day(*p.pull) + " and day " +
                    last_day(*p.last_good) +
                    "; the brine is then left to the others, which this answer does not follow";
        b.take_out.push_back(text);
    }
}

} // namespace

void advise(Bucket& b, const Case& first, const Pickle& pickle, base::Records& records) {
    for (BucketPiece& p : b.pieces)
        if (!p.pull)
            p.never = why_never(p, b.at, b.has_nitrite);
    take_out(b);
    const auto add = [&](const std::string& text) {
        if (!text.empty() && !std::ranges::count(b.warnings, text))
            b.warnings.push_back(text);
    };
    if (const std::string text = materials::cooler_warning(records, first.temperature);
        !text.empty())
        b.hazards.push_back("cooler: " + text);
    for (const BucketPiece& p : b.pieces)
        for (const std::string& text : materials::range_warnings(
                 records, {{"temperature", first.temperature},
                           {"brine salt", pickle.salt},
                           {"pH", materials::ph(records, p.piece.muscle)},
                           {"myoglobin", materials::myoglobin(records, p.piece.muscle)}}))
            add(text);
    if (!std::isfinite(pickle.mass))
        add("no amount of brine was given: it does not weaken, and the pieces do not feel each "
            "other; give --brine, "
            "and the weight of every piece");
    if (!b.has_nitrite)
        add("there is no nitrite in this brine: no cured colour, and no protection from botulism "
            "beyond salt and cold");
    if (b.has_nitrite) {
        const Immersion law = immersion(first, pickle, b.meat, records);
        b.ingoing = law.ingoing;
        b.hazards.insert(b.hazards.end(), law.verdict.hazards.begin(), law.verdict.hazards.end());
        b.warnings.insert(b.warnings.end(), law.verdict.warnings.begin(),
                          law.verdict.warnings.end());
    }
    add("the ends of the pieces are left out: a piece not much longer than thick is cured sooner");
    b.cautions.push_back(
        "every face not sealed is taken to be wet: where pieces lie on each other write seal = "
        "bottom "
        "for the one above and seal = top for the one below; turning them needs tidemark plan");
    b.cautions.push_back(
        "keep meat and brine below " + base::show_temperature(records.si("cooler.limit")) +
        "; a predicted colour is not a food-safety rule: cook, and sell, as your local code says");
    if (b.has_nitrite)
        b.cautions.push_back("nitrite is poisonous in gram amounts: weigh the premix and keep it "
                             "apart from table salt");
}

} // namespace tidemark::cure
