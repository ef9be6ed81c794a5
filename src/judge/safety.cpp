// SPDX-License-Identifier: MIT
/// The rules of safety that are not a limit on what goes in.
#include "judge/rules.hpp"

#include "base/quantity.hpp"
#include "materials/safety.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::judge {
namespace {

constexpr double day = 86400;

std::string in_words(const std::string& organism) {
    if (organism.starts_with("c-botulinum"))
        return "Clostridium botulinum of warm rooms";
    std::string name = organism.starts_with("c-") ? "Clostridium " + organism.substr(2) : organism;
    std::ranges::replace(name, '-', ' ');
    return name;
}

} // namespace

void mistaken_premix(const Weighed& w, const Law&, base::Records&, Findings& out) {
    if (!w.scale)
        return;
    const Scale& s = *w.scale;
    constexpr double strong = 0.015;   // nitrite salts of 0.4 to 0.9 % are meant as salt
    constexpr double suspicious = 0.5; // common practice, no source: premix is a few % of the salt
    const double salt = s.mass * (1 - s.nitrite - s.nitrate);
    if (s.nitrite > strong && salt > suspicious * s.salt_added)
        out.danger("premix-as-salt", "the premix is " + percent(salt / (salt + s.salt_added)) +
                                         " of all salt: was it taken for table salt? At " +
                                         percent(s.nitrite) + " nitrite it must not be");
}

void warmth(const Weighed& w, const Law&, base::Records& records, Findings& out) {
    const double limit = records.si("cooler.limit");
    for (const Period& p : w.periods) {
        const std::string text = materials::cooler_warning(records, p.temperature);
        if (!text.empty())
            out.add(p.temperature > limit ? Severity::danger : Severity::note,
                    p.temperature > limit ? "warm-cooler" : "freezing-cooler",
                    p.where + ": " + text);
    }
    out.add(judge_log(w.above_limit, records));
}

void warm_brine(const Weighed& w, const Law&, base::Records& records, Findings& out) {
    if (!w.chilled)
        return;
    const double t = w.chilled->temperature, limit = records.si("cooler.limit");
    const std::string comes = "the brine comes to " + base::show_temperature(t) +
                              (w.chilled->told ? "" : " (taken as boiling before: give --hot)");
    if (t > limit)
        out.danger("warm-brine", comes + ": no meat in it above " + base::show_temperature(limit) +
                                     ". Chill it first");
    if (t < records.si("cooler.lowest"))
        out.danger("freezing-brine", comes + " and freezes the meat: use less ice");
}

Findings judge_log(double above, base::Records& records) {
    Findings out;
    if (above > 0)
        out.danger("warm-log", "the cooler's log is above " +
                                   base::show_temperature(records.si("cooler.limit")) + " for " +
                                   base::significant(above / 3600, 2) +
                                   " h on end: judge the meat by your local code");
    return out;
}

void poison(const Weighed& w, const Law&, base::Records& records, Findings& out) {
    if (!w.scale)
        return;
    const double fatal = materials::fatal_dose(records);
    if (w.scale->mass * w.scale->nitrite >= fatal)
        out.warn("fatal-dose", "nitrite is poisonous: " + grams(fatal / w.scale->nitrite) +
                                   " of this premix can kill an adult, and " +
                                   grams(w.scale->mass) +
                                   " is on the scale: label it and lock it away");
}

void no_nitrite(const Weighed& w, const Law&, base::Records&, Findings& out) {
    if (!w.nitrite)
        out.warn("no-nitrite", "there is no nitrite in this cure: no cured colour, and no "
                               "protection from botulism beyond salt and cold");
}

Findings judge_time(const std::vector<Period>& periods, bool nitrite, double water_salt,
                    base::Records& records) {
    const auto toxin = materials::toxin_times(records);
    double share = 0, total = 0, warmest = 0; // of the time to toxin; [s]; [K]
    for (const Period& p : periods) {
        if (p.temperature < toxin.front().temperature || !p.lasts)
            continue;
        share += *p.lasts / materials::time_to_toxin(toxin, p.temperature);
        total += *p.lasts;
        warmest = std::max(warmest, p.temperature);
    }
    Findings out;
    const double stops = records.si("growth.c-botulinum-nonproteolytic.water-phase-salt"); // [1]
    if (share < 1 || water_salt >= stops)
        return out;
    std::string others;
    for (const materials::Growth& g : materials::growth_limits(records))
        if (g.temperature <= warmest && g.water_phase_salt > water_salt)
            others += (others.empty() ? "" : ", ") + in_words(g.name);
    out.add(nitrite ? Severity::warning : Severity::danger, "long-cure",
            base::significant(total / day, 3) + " days at up to " +
                base::show_temperature(warmest) + (nitrite ? "" : " without nitrite") +
                " is longer than cold alone keeps it safe: Clostridium botulinum made toxin there "
                "in " +
                base::significant(materials::time_to_toxin(toxin, warmest) / day, 2) +
                " days. For so long keep it below " +
                base::show_temperature(toxin.front().temperature) +
                ", or cut it thinner; your local code decides (Graham 1997; FDA seafood guide)");
    out.note("long-cure-salt",
             percent(stops) + " salt in the core's water stops that Clostridium; this core has " +
                 percent(water_salt) + " or more by then" +
                 (others.empty() ? "" : ". What grows then besides: " + others + " (ICMSF 1996)"));
    return out;
}

Findings cautions(bool nitrite, base::Records& records) {
    Findings out;
    if (nitrite)
        out.caution("nitrite is poisonous in gram amounts: weigh it, keep it from table salt");
    out.caution("keep it below " + base::show_temperature(records.si("cooler.limit")) +
                "; colour is no proof of safety: cook it");
    return out;
}

} // namespace tidemark::judge
