// SPDX-License-Identifier: MIT
/// One function for each kind of slip, the gravest first.
#include "cure/hazard.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/law.hpp"
#include "cure/say.hpp"
#include "materials/safety.hpp"
#include "materials/warnings.hpp"

#include <cmath>

namespace tidemark::cure {
namespace {

using Lines = std::vector<std::string>;

std::string grams(double kilograms) {
    return base::significant(1e3 * kilograms, 3) + " g";
}

void over_limit(const BrineSheet& s, Lines& out) {
    for (const Dose& dose : s.doses) {
        if (!dose.judged || !dose.limit) {
            continue;
        }
        const double limit = dose.limit->value;
        const std::string what = "ingoing " + dose.substance;
        if (limit == 0) {
            out.push_back(nitrate_in_bacon);
        } else if (dose.value > limit * (1 + 1e-9)) {
            std::string remedy;
            if (s.recipe.premix && dose.substance != "erythorbate") {
                remedy = ": at most " + grams(*s.recipe.premix * limit / dose.value) +
                         " of premix in place of " + grams(*s.recipe.premix);
            }
            out.push_back(what + ' ' + ppm_beside(dose.value, limit) + " is above " +
                          in_words(*dose.limit) + remedy);
        } else if (dose.high > limit * (1 + 1e-9)) {
            out.push_back(what + " may be as high as " + ppm_beside(dose.high, limit) + ", above " +
                          in_words(*dose.limit) + ", if the spoons are heavy: weigh it");
        }
    }
}

/// A level that no code comes near is a slip of the pen.
void slips(const BrineSheet& s, Lines& out) {
    const Dose* dose = s.judged("nitrite");
    const Brine& b = s.recipe;
    const double salt_of_premix = b.premix.value_or(0) * (1 - b.premix_strength - b.premix_nitrate);
    constexpr double strong = 0.015; // nitrite salts of 0.4 to 0.9 % are meant as salt
    const double added = b.salt_added.value_or(0);
    constexpr double suspicious = 0.5; // common practice, no source: premix is a few % of the salt
    if (b.premix_strength > strong && salt_of_premix > suspicious * added) {
        out.push_back("the premix is " + percent(salt_of_premix / (salt_of_premix + added)) +
                      " of all salt: was it taken for table salt? At " +
                      percent(b.premix_strength) + " nitrite it must not be");
    }
    constexpr double far = 5;
    if (dose && dose->limit && dose->limit->value > 0 && dose->value > far * dose->limit->value) {
        out.push_back("that is " + base::significant(dose->value / dose->limit->value, 2) +
                      " times the limit: look for a percent written as a proportion, for premix in "
                      "place of salt, or for grams in place of ounces");
    }
}

/// Dosing for a weighed gain and then leaving the meat in.
void left_until_balance(const BrineSheet& s, Lines& out) {
    if (!s.question.pick_up) {
        return;
    }
    const Dose* taken = s.judged("nitrite");
    for (const Dose& dose : s.doses) {
        if (taken && dose.method == "immersion" && dose.substance == "nitrite" &&
            dose.value > taken->value) {
            out.push_back(
                "this holds only while the meat has gained " + percent(*s.question.pick_up) + ", " +
                base::show_mass(*s.question.pick_up * s.meat()) + ": left until balance it holds " +
                ppm(dose.value) + ", " + base::significant(dose.value / taken->value, 2) +
                " times as much. Weigh it out, or dose for balance");
        }
    }
}

void wrong_premix(const BrineSheet& s, Lines& out) {
    if (s.pickle.nitrate > 0) {
        out.push_back(nitrate_in_brine);
    }
}

void too_little(const BrineSheet& s, Lines& out) {
    const Dose* dose = s.judged("nitrite");
    if (dose && s.least && dose->value < *s.least * (1 - 1e-9)) {
        out.push_back(below_least(dose->value, *s.least, s.question.law));
    }
    if (s.question.law == "us" && s.question.product == "bacon" && s.question.pump) {
        const Dose* erythorbate = s.judged("erythorbate");
        if (!erythorbate || erythorbate->value < erythorbate->limit->value * 0.8) {
            out.push_back("pumped bacon needs 550 ppm of ascorbate or erythorbate with its "
                          "nitrite under the us code: give --erythorbate");
        }
    }
}

void warmth(const BrineSheet& s, base::Records& records, Lines& out) {
    if (const std::string text = materials::cooler_warning(records, s.question.temperature);
        !text.empty()) {
        out.push_back("cooler: " + text);
    }
    if (!s.cooled) {
        return;
    }
    const Chilled& mixed = s.cooled->mixed;
    if (mixed.temperature > s.cooled->limit) {
        out.push_back("the brine comes to " + base::show_temperature(mixed.temperature) +
                      ": no meat in it above " + base::show_temperature(s.cooled->limit) +
                      ". Chill it first");
    }
    if (mixed.temperature < records.si("cooler.lowest")) {
        out.push_back("the brine comes to " + base::show_temperature(mixed.temperature) +
                      " and freezes the meat: use less ice");
    }
}

void poison(const BrineSheet& s, Lines& out) {
    const double strength = s.recipe.premix_strength;
    const double nitrite = s.recipe.premix.value_or(0) * strength;
    if (nitrite >= s.fatal) {
        out.push_back("the premix on the scale, " + grams(*s.recipe.premix) + ", holds " +
                      base::significant(nitrite / s.fatal, 2) + " times what can kill an adult (" +
                      grams(s.fatal / strength) + " of this premix): label it and lock it away");
    }
}

void warn(BrineSheet& s) {
    Lines& out = s.warnings;
    if (!(s.meat() > 0)) {
        out.push_back("without --weight nothing can be said about the meat, nor about ingoing "
                      "nitrite");
    }
    if (s.pickle.nitrite > 0 && !std::isfinite(s.pickle.mass)) {
        out.push_back("no amount of brine was given: ingoing nitrite is judged as in very much of "
                      "it; give --brine");
    }
    if (s.pickle.nitrite == 0) {
        out.push_back("there is no nitrite in this brine: no cured colour, and no protection from "
                      "botulism beyond salt and cold");
    }
    if (s.exact && s.exact->premix) {
        const double change = 1 - *s.recipe.premix / *s.exact->premix;
        constexpr double much = 0.05;
        if (change > much) {
            out.push_back("rounding takes " + percent(change) +
                          " off the premix: weigh it on finer scales, --scale \"0.1 g\"");
        }
    }
    if (s.cooled && s.cooled->salt_hot > 1.02 * s.pickle.salt) {
        out.push_back("the hot brine is " + percent(s.cooled->salt_hot) + " and becomes " +
                      percent(s.pickle.salt) + " only when all ice and cold water are in it");
    }
    const auto* judged = s.judged("nitrite");
    if (judged && !judged->limit) {
        out.push_back(left_not_ingoing(s.question.law));
    }
}

void caution(BrineSheet& s) {
    const double strength = s.recipe.premix_strength;
    if (s.pickle.nitrite > 0) {
        s.cautions.push_back("nitrite is poisonous: " + grams(s.fatal / strength) +
                             " of a premix of " + percent(strength) + " can kill an adult and " +
                             grams(s.harmful / strength) +
                             " can make one ill, a child with less: weigh it, never by eye, and "
                             "keep it apart from table salt");
    }
    s.cautions.push_back("limits change and this list may be old or wrong: your local code and "
                         "your authority decide, and selling cured meat may need a licence");
    s.cautions.push_back("arithmetic does not make a cure safe: keep it cold, cook it as the code "
                         "says");
}

void verify(BrineSheet& s, const base::Records& records) {
    for (const base::Record& record : records.used()) {
        if (record.mark == 'M' && record.key.starts_with("premix.") &&
            record.key.ends_with(".nitrite")) {
            s.warnings.push_back("the strength of the premix is from memory: go by its label");
        }
    }
    for (const std::string& text : materials::range_warnings(
             records, {{"temperature", s.question.temperature}, {"brine salt", s.pickle.salt}})) {
        s.warnings.push_back(text);
    }
    for (const Dose& dose : s.doses) {
        if (dose.judged && dose.limit && dose.limit->mark == 'M') {
            s.warnings.push_back("the limit for " + dose.substance +
                                 " is from memory: verify with your authority");
        }
    }
}

} // namespace

void judge(BrineSheet& s, base::Records& records) {
    for (const auto& look : {over_limit, slips, left_until_balance, wrong_premix, too_little}) {
        look(s, s.hazards);
    }
    warmth(s, records, s.hazards);
    poison(s, s.hazards);
    warn(s);
    verify(s, records);
    caution(s);
}

} // namespace tidemark::cure
