// SPDX-License-Identifier: MIT
/// The rules of the law, one function each.
#include "judge/rules.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::judge {
namespace {

constexpr double rounding = 1e-9;
/// That many times a limit is a slip of the pen: no recipe means it. Common practice, no source.
constexpr double far = 5;

/// The most premix that keeps to a limit, cut off to a tenth of a gram.
std::string less_premix(const Weighed& w, double limit) {
    if (!w.scale || !(w.scale->others > 0) || w.doses.size() != 1)
        return ": use less premix";
    const Scale& s = *w.scale;
    const double strength =
        s.share * counted_nitrite(s.nitrite, s.nitrate, w.law, w.product); // [per kg premix]
    const double most = limit * s.others / (strength - limit);
    return ": at most " + base::significant(std::floor(1e4 * most) / 10, 4) +
           " g of premix in place of " + grams(s.mass);
}

std::string times(double value, double limit) {
    return "that is " + base::significant(value / limit, 2) +
           " times the limit: look for a percent written as a proportion, for premix in place of "
           "salt, or for grams in place of ounces";
}

} // namespace

std::optional<materials::Limit> limit_for(const Weighed& w, const std::string& method,
                                          const std::string& substance, base::Records& records) {
    auto limit = materials::limit_of(records, w.law, w.product, method, substance);
    if (limit && w.rind && w.law == "us" && limit->product == "bacon")
        limit->value *= materials::rind_factor(records);
    return limit;
}

double counted_nitrite(double nitrite, double nitrate, const std::string& law,
                       const std::string& product) {
    return nitrite + (law == "canada" && product != "slow" ? nitrate : 0);
}

std::optional<double> least_for(const Weighed& w, const Law& law, base::Records& records) {
    auto least = materials::least_nitrite(records, w.law);
    if (!least || (w.law == "us" && w.product == "home")) // which asks it of what is sold
        return {};
    if (w.law == "us" && w.product == "bacon" && law.limit)
        least = materials::bacon_share(records) * std::min(*least, law.limit->value);
    return least;
}

std::string in_words(const materials::Limit& limit) {
    return "the " + limit.code + " limit of " + ppm(limit.value) +
           (limit.ion ? " (" + ppm(limit.printed) + " as the ion)" : "") +
           (limit.product == "bacon"             ? " for bacon"
            : limit.product == "wiltshire-bacon" ? " for Wiltshire bacon"
            : limit.product == "slow"            ? " for slow cures"
            : limit.product == "home"            ? " for home-curing mixes"
                                                 : "") +
           (limit.method == "any"        ? ""
            : limit.method == "finished" ? " in the finished meat"
                                         : ", " + limit.method);
}

Law by_law(const Weighed& w, base::Records& records) {
    Law law;
    for (const Dose& dose : w.doses) {
        const double counted = counted_nitrite(dose.nitrite, dose.nitrate, w.law, w.product);
        law.ingoing += counted;
        law.low += counted * dose.low;
        law.high += counted * dose.high;
        law.limits.push_back(limit_for(w, dose.method, "nitrite", records));
        const auto& limit = law.limits.back();
        law.limited = law.limited && limit;
        if (limit && (!law.limit || limit->value < law.limit->value))
            law.limit = limit;
    }
    return law;
}

void over_limit(const Weighed& w, const Law& law, base::Records&, Findings& out) {
    if (!law.limit || !(law.high > 0))
        return;
    const double limit = law.limit->value;
    if (law.ingoing > limit * (1 + rounding))
        out.danger("over-limit", "ingoing nitrite " + ppm_beside(law.ingoing, limit) +
                                     " is above " + in_words(*law.limit) + less_premix(w, limit));
    else if (law.high > limit * (1 + rounding))
        out.danger("over-limit-by-spoon",
                   "ingoing nitrite may be as high as " + ppm_beside(law.high, limit) + ", above " +
                       in_words(*law.limit) + ", if the spoons are heavy: weigh it");
    if (limit > 0 && law.ingoing > far * limit)
        out.danger("far-over-limit", times(law.ingoing, limit));
}

void without_a_limit(const Weighed& w, const Law& law, base::Records& records, Findings& out) {
    if (law.limited || !(law.ingoing > 0))
        return;
    std::optional<materials::Limit> most;
    for (const std::string& code : materials::code_names(records))
        for (const Dose& dose : w.doses) {
            const auto limit = materials::limit_of(records, code, "cured", dose.method, "nitrite");
            if (limit && (!most || limit->value > most->value))
                most = limit;
        }
    if (most && law.ingoing > most->value * (1 + rounding)) {
        out.danger("over-every-limit", "ingoing nitrite " + ppm_beside(law.ingoing, most->value) +
                                           " is more than any code in this program's list lets "
                                           "in; the highest is " +
                                           in_words(*most) + less_premix(w, most->value));
        if (law.ingoing > far * most->value)
            out.danger("far-over-limit", times(law.ingoing, most->value));
    }
    const auto left = materials::limit_of(records, w.law, w.product, "residual", "nitrite");
    if (!left || law.high > left->value) // no more can be left than went in
        out.warn("limit-is-on-what-is-left",
                 "the " + w.law + " code limits what is left in the product" +
                     (left ? ", to " + ppm(left->value) + " (" + ppm(left->printed) + " as the ion)"
                           : "") +
                     ", not what goes in: have it analysed");
}

void unknown_weights(const Weighed& w, const Law&, base::Records& records, Findings& out) {
    if (!(w.brine_nitrite > 0) || w.meat_known || !w.amount_known)
        return;
    out.warn("weight-unknown",
             "the weight of the meat is not known, so neither is the ingoing nitrite");
    const auto limit = limit_for(w, "immersion", "nitrite", records);
    if (limit && w.brine_nitrite > far * limit->value)
        out.danger(
            "strong-brine",
            "the brine holds " + ppm(w.brine_nitrite) + " of nitrite: it keeps to " +
                in_words(*limit) + " only with " +
                base::significant(std::ceil(10 * (w.brine_nitrite / limit->value - 1)) / 10, 3) +
                " times its weight of meat in it. Give --weight");
}

void nitrate(const Weighed& w, const Law&, base::Records& records, Findings& out) {
    const auto say = [&](const std::string& method) { // however much it is
        const auto limit = limit_for(w, method, "nitrate", records);
        if (limit && limit->value == 0)
            out.danger("nitrate-in-bacon",
                       "no nitrate is allowed in bacon: use a premix without it");
        else if (method != "dry" && w.product != "slow")
            out.danger("nitrate-in-brine",
                       "the premix holds nitrate, which is for dry cures of months: for a brine "
                       "that is cooked after days use one without");
        return limit;
    };
    if (w.brine_nitrate > 0 && !w.meat_known) // which is no dose yet
        say("immersion");
    for (const Dose& dose : w.doses) {
        if (!(dose.nitrate > 0))
            continue;
        const auto limit = say(dose.method);
        if (limit && limit->value > 0 && dose.nitrate > limit->value * (1 + rounding))
            out.danger("nitrate-over-limit", "ingoing nitrate " +
                                                 ppm_beside(dose.nitrate, limit->value) +
                                                 " is above " + in_words(*limit));
    }
}

void too_little(const Weighed& w, const Law& law, base::Records& records, Findings& out) {
    const auto least = least_for(w, law, records);
    if (!least || !(law.ingoing > 0))
        return;
    const std::string sold =
        " the " + w.law + " code asks of cured meat" +
        (w.law != "us"          ? ""
         : w.product == "bacon" ? " at least, the level of bacon less a fifth"
                                : " sold to be kept cold, unless heat, pH or dryness make it safe");
    if (law.ingoing < *least * (1 - rounding))
        out.warn("below-least", "ingoing nitrite " + ppm_beside(law.ingoing, *least) +
                                    " is below the " + ppm(*least) + sold);
    else if (law.low < *least * (1 - rounding))
        out.warn("below-least-by-spoon", "ingoing nitrite may be as low as " +
                                             ppm_beside(law.low, *least) + ", below the " +
                                             ppm(*least) + sold +
                                             ", if the spoons are light: "
                                             "weigh it");
}

void rind(const Weighed& w, const Law&, base::Records&, Findings& out) {
    if (w.rind && !(w.law == "us" && w.product == "bacon"))
        out.note("the rind lowers the limits of US bacon alone: --law us --product bacon");
}

void erythorbate(const Weighed& w, const Law&, base::Records& records, Findings& out) {
    for (const Dose& dose : w.doses) {
        const auto limit = limit_for(w, dose.method, "erythorbate", records);
        const bool asked = w.law == "us" && w.product == "bacon" && dose.method == "pumped";
        if (limit && asked && dose.nitrite > 0 &&
            dose.erythorbate < materials::bacon_share(records) * limit->value)
            out.danger("bacon-without-erythorbate",
                       "pumped bacon needs " + ppm(limit->value) +
                           " of ascorbate or erythorbate with its nitrite under the us code: "
                           "tidemark brine --erythorbate works it out");
        else if (limit && !asked && dose.erythorbate > limit->value * (1 + rounding))
            out.danger("erythorbate-over-limit", "ingoing erythorbate " +
                                                     ppm_beside(dose.erythorbate, limit->value) +
                                                     " is above " + in_words(*limit));
    }
}

} // namespace tidemark::judge
