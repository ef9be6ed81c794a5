// SPDX-License-Identifier: MIT
/// The judge's rules, and those that only a brine being made up has: its gain, its chill, its
/// spoons.
#include "cure/brine_rules.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/say.hpp"
#include "materials/warnings.hpp"

#include <cmath>

namespace tidemark::cure {
namespace {

/// Dosing for a weighed gain and then leaving the meat in.
void left_until_balance(BrineSheet& s) {
    if (!s.question.pick_up)
        return;
    const Dose* taken = s.judged("nitrite");
    for (const Dose& dose : s.doses)
        if (taken && dose.method == "immersion" && dose.substance == "nitrite" &&
            dose.value > taken->value)
            s.findings.danger("left-until-balance",
                              "this holds only while the meat has gained " +
                                  percent(*s.question.pick_up) + ", " +
                                  base::show_mass(*s.question.pick_up * s.meat()) +
                                  ": left until balance it holds " + ppm(dose.value) + ", " +
                                  base::significant(dose.value / taken->value, 2) +
                                  " times as much. Weigh it out, or dose for balance");
}

void warn(BrineSheet& s) {
    const auto add = [&](const std::string& text) { s.findings.tell("brine", text); };
    if (!(s.meat() > 0))
        add("without --weight nothing can be said about the meat, nor about ingoing nitrite");
    if (s.pickle.nitrite > 0 && !std::isfinite(s.pickle.mass))
        add("no amount of brine was given: ingoing nitrite is judged as in unlimited brine; give "
            "--brine");
    if (s.exact && s.exact->premix) {
        const double change = *s.recipe.premix / *s.exact->premix - 1;
        if (std::abs(change) > much_moved)
            add(std::string("rounding ") +
                (change < 0 ? "takes " + percent(-change) + " off"
                            : "adds " + percent(change) + " to") +
                " the premix: weigh it on finer scales, --scale \"0.1 g\"");
    }
}

void caution(BrineSheet& s) {
    const double strength = s.recipe.premix_strength;
    if (s.pickle.nitrite > 0 && !s.findings.has("fatal-dose"))
        s.findings.caution("nitrite is poisonous: " + grams(s.fatal / strength) +
                           " of a premix of " + percent(strength) + " can kill an adult and " +
                           grams(s.harmful / strength) +
                           " make one ill: weigh it, keep it from table salt");
    s.findings.caution("arithmetic does not make a cure safe: keep it cold and cook it; limits "
                       "change, and your authority decides");
}

void verify(BrineSheet& s, const base::Records& records) {
    for (const base::Record& record : records.used())
        if (record.mark == 'M' && record.key.starts_with("premix.") &&
            record.key.ends_with(".nitrite"))
            s.findings.tell("from-memory",
                            "the strength of the premix is from memory: go by its label");
    for (const std::string& text : materials::range_warnings(
             records, {{"temperature", s.question.temperature}, {"brine salt", s.pickle.salt}}))
        s.findings.tell("brine", text);
    for (const Dose& dose : s.doses)
        if (dose.judged && dose.limit && dose.limit->mark == 'M')
            s.findings.tell("from-memory", "the limit for " + dose.substance +
                                               " is from memory: verify with your authority");
}

} // namespace

judge::Weighed weigh(const BrineSheet& s) {
    const BrineQuestion& q = s.question;
    judge::Weighed w;
    w.law = q.law;
    w.product = q.product;
    w.rind = q.rind;
    w.brine = !dry(q.way);
    w.amount_known = std::isfinite(s.pickle.mass);
    w.meat_known = s.meat() > 0;
    w.brine_nitrite = s.pickle.nitrite;
    w.brine_nitrate = s.pickle.nitrate;
    w.nitrite = s.pickle.nitrite > 0;
    w.periods = {{"cooler", q.temperature, {}}};
    if (s.cooled)
        w.chilled = {s.cooled->mixed.temperature, s.recipe.cooling->told};
    for (const Dose& d : s.doses) {
        if (!d.judged)
            continue;
        // The code counts the method, not how its gain was found.
        const std::string method = d.method == "pick-up" ? "immersion" : d.method;
        if (w.doses.empty())
            w.doses.push_back({method, 0, 0, 0, 1, 1});
        judge::Dose& dose = w.doses.front();
        if (d.substance == "nitrite") {
            const double own = s.pickle.nitrite; // Canada's figure has the nitrate in it
            dose.nitrite =
                d.value * own / judge::counted_nitrite(own, s.pickle.nitrate, q.law, q.product);
            dose.low = d.low / d.value;
            dose.high = d.high / d.value;
        } else {
            (d.substance == "nitrate" ? dose.nitrate : dose.erythorbate) = d.value;
        }
    }
    if (dry(q.way)) {
        w.scale = {s.recipe.premix.value_or(0),
                   s.recipe.premix_strength,
                   s.recipe.premix_nitrate,
                   s.recipe.salt_added.value_or(0),
                   0,
                   1};
    } else if (const Brine& b = s.recipe; b.premix.value_or(0) > 0 && s.pickle.nitrite > 0) {
        const double batch = *b.premix * b.premix_strength / s.pickle.nitrite;
        w.scale = {*b.premix, b.premix_strength, b.premix_nitrate, b.salt_added.value_or(0), 0, 1};
        const auto gain = q.pump ? q.pump : q.pick_up;
        if (gain || b.mass) { // a share of the pot
            w.scale->others = batch - *b.premix;
            w.scale->share = gain ? *gain : s.pickle.mass / (s.meat() + s.pickle.mass);
        } else if (s.meat() > 0) {
            w.scale->others = s.meat() + batch - *b.premix;
        }
    }
    return w;
}

void judge_brine(BrineSheet& s, base::Records& records) {
    s.findings.add(judge::judge(weigh(s), records));
    left_until_balance(s);
    warn(s);
    verify(s, records);
    caution(s);
}

} // namespace tidemark::cure
