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

void warmth_of_brine(BrineSheet& s, base::Records& records) {
    if (!s.cooled)
        return;
    const Chilled& mixed = s.cooled->mixed;
    const std::string comes = "the brine comes to " + base::show_temperature(mixed.temperature);
    if (mixed.temperature > s.cooled->limit)
        s.findings.danger("warm-brine", comes + ": no meat in it above " +
                                            base::show_temperature(s.cooled->limit) +
                                            ". Chill it first");
    if (mixed.temperature < records.si("cooler.lowest"))
        s.findings.danger("freezing-brine", comes + " and freezes the meat: use less ice");
}

void warn(BrineSheet& s) {
    const auto add = [&](const std::string& text) { s.findings.warn("brine", text); };
    if (!(s.meat() > 0))
        add("without --weight nothing can be said about the meat, nor about ingoing nitrite");
    if (s.pickle.nitrite > 0 && !std::isfinite(s.pickle.mass))
        add("no amount of brine was given: ingoing nitrite is judged as in very much of it; give "
            "--brine");
    if (s.exact && s.exact->premix) {
        const double change = 1 - *s.recipe.premix / *s.exact->premix;
        constexpr double much = 0.05;
        if (change > much)
            add("rounding takes " + percent(change) +
                " off the premix: weigh it on finer scales, --scale \"0.1 g\"");
    }
    if (s.cooled && s.cooled->salt_hot > 1.02 * s.pickle.salt)
        add("the hot brine is " + percent(s.cooled->salt_hot) + " and becomes " +
            percent(s.pickle.salt) + " only when all ice and cold water are in it");
}

void caution(BrineSheet& s) {
    const double strength = s.recipe.premix_strength;
    if (s.pickle.nitrite > 0)
        s.findings.caution("nitrite is poisonous: " + grams(s.fatal / strength) +
                           " of a premix of " + percent(strength) + " can kill an adult and " +
                           grams(s.harmful / strength) +
                           " can make one ill, a child with less: weigh it, never by eye, and "
                           "keep it apart from table salt");
    s.findings.caution("limits change and this list may be old or wrong: your local code and your "
                       "authority decide, and selling cured meat may need a licence");
    s.findings.caution("arithmetic does not make a cure safe: keep it cold, cook it as the code "
                       "says");
}

void verify(BrineSheet& s, const base::Records& records) {
    for (const base::Record& record : records.used())
        if (record.mark == 'M' && record.key.starts_with("premix.") &&
            record.key.ends_with(".nitrite"))
            s.findings.warn("from-memory",
                            "the strength of the premix is from memory: go by its label");
    for (const std::string& text : materials::range_warnings(
             records, {{"temperature", s.question.temperature}, {"brine salt", s.pickle.salt}}))
        s.findings.warn("model", text);
    for (const Dose& dose : s.doses)
        if (dose.judged && dose.limit && dose.limit->mark == 'M')
            s.findings.warn("from-memory", "the limit for " + dose.substance +
                                               " is from memory: verify with your authority");
}

} // namespace

judge::Weighed weigh(const BrineSheet& s) {
    const BrineQuestion& q = s.question;
    judge::Weighed w;
    w.law = q.law;
    w.product = q.product;
    w.rind = q.rind;
    w.brine = true;
    w.amount_known = std::isfinite(s.pickle.mass);
    w.meat_known = s.meat() > 0;
    w.brine_nitrite = s.pickle.nitrite;
    w.brine_nitrate = s.pickle.nitrate;
    w.nitrite = s.pickle.nitrite > 0;
    w.periods = {{"cooler", q.temperature, {}}};
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
            dose.nitrite = d.value * own / judge::counted_nitrite(own, s.pickle.nitrate, q.law);
            dose.low = d.low / d.value;
            dose.high = d.high / d.value;
        } else {
            (d.substance == "nitrate" ? dose.nitrate : dose.erythorbate) = d.value;
        }
    }
    if (const Brine& b = s.recipe; b.premix.value_or(0) > 0 && s.pickle.nitrite > 0) {
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
    warmth_of_brine(s, records);
    warn(s);
    verify(s, records);
    caution(s);
}

} // namespace tidemark::cure
