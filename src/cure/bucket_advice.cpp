// SPDX-License-Identifier: MIT
#include "cure/bucket_advice.hpp"

#include "base/quantity.hpp"
#include "cure/say.hpp"
#include "cure/weigh.hpp"
#include "materials/limits.hpp"
#include "materials/meat.hpp"
#include "materials/safety.hpp"
#include "materials/warnings.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

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
    const judge::Weighed weighed = weigh(first, pickle, b.meat);
    if (b.has_nitrite)
        b.ingoing = ingoing_of(weighed, records);
    b.findings = judge::judge(weighed, records);
    double least = std::numeric_limits<double>::infinity(); // salt over salt and water at a core
    for (const BucketPiece& p : b.pieces)
        least = std::min(least, p.core_water_salt);
    b.findings.add(
        judge::judge_time({{"cooler", first.temperature, b.at}}, b.has_nitrite, least, records));
    const auto add = [&](const std::string& text) { b.findings.note(text); };
    for (const BucketPiece& p : b.pieces)
        for (const std::string& text : materials::range_warnings(
                 records, {{"temperature", first.temperature},
                           {"brine salt", pickle.salt},
                           {"pH", materials::ph(records, p.piece.muscle)},
                           {"myoglobin", materials::myoglobin(records, p.piece.muscle)}}))
            add(text);
    if (!std::isfinite(pickle.mass))
        add("no amount of brine was given: it does not weaken, and the pieces do not affect each "
            "other; give --brine, and the weight of every piece");
    b.findings.note(
        "every face not sealed is taken to be wet: where pieces lie on each other write seal = "
        "bottom for the one above and seal = top for the one below; turning them needs tidemark "
        "plan");
    b.findings.add(judge::cautions(b.has_nitrite, records));
}

} // namespace tidemark::cure
