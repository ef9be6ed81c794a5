// SPDX-License-Identifier: MIT
#include "cure/advice.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/weigh.hpp"
#include "materials/diffusion.hpp"
#include "materials/limits.hpp"
#include "materials/meat.hpp"
#include "materials/safety.hpp"
#include "materials/targets.hpp"
#include "materials/warnings.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace tidemark::cure {

namespace {

constexpr double day = 86400;

std::string percent(double fraction) {
    return base::significant(100 * fraction, 2) + " %";
}
std::string ppm(double fraction) {
    return base::significant(1e6 * fraction, 3) + " ppm";
}
std::string days(double seconds) {
    return base::significant(seconds / day, 3) + " days";
}

std::string title_of(const Case& question, const Setup& setup) {
    const std::string name = question.name.empty() ? "" : question.name + ": ";
    const std::string muscle = question.piece.muscle;
    std::string words = muscle;
    std::replace(words.begin(), words.end(), '-', ' ');
    const std::string shape = question.piece.shape == "outline" && setup.section
                                  ? setup.section->name
                                  : question.piece.shape;
    return name + words + ", " + shape + ", " + base::show_length(2 * setup.half_thickness) +
           " thick" + (ends_left_out(setup).empty() || !setup.section ? "" : ", length not given") +
           ", in a " + percent(setup.pickle.salt) + " brine at " +
           base::show_temperature(question.temperature);
}

/// Why the core is never cured, with the remedy.
std::string why_never(const Prediction& p, const Solved& s) {
    const std::string horizon = "within " + days(p.question.horizon);
    if (!p.has_nitrite) {
        const double full = p.core.of_equilibrium > 0 ? p.core.salt / p.core.of_equilibrium : 0;
        if (full < p.target)
            return "the brine is too weak: at full balance the meat would hold about " +
                   percent(full) + " salt, below the " + percent(p.target) +
                   " asked of the core; use a stronger brine or more of it";
        return "the core does not reach " + percent(p.target) + " salt " + horizon +
               "; inject, cut thinner, or ask for a longer --horizon";
    }
    const double w = s.setup.tissues.at("lean").water_fraction;
    const transport::System& system = s.fine->nitrite_chain.last().system;
    // Where nitrite is used up in the meat more follows, up to all there is.
    const bool lost = s.setup.tissues.at("lean").nitrite.loss > 0;
    const double held = system.capacity.dot(system.initial);
    const double most =
        system.held
            ? (lost ? std::numeric_limits<double>::infinity() : system.initial[system.bath()])
            : held / (lost ? s.fine->lean_water.sum() : system.capacity.sum());
    if (most * w < p.target)
        return std::string("the brine holds too little nitrite: ") +
               (lost ? "all of it would come to " : "shared out evenly it comes to ") +
               ppm(most * w) + " in the meat, and the colour needs " + ppm(p.target) +
               "; see the strength and the amount of the brine";
    const std::string reached = "the core has " + ppm(p.core.arrived) + " of the " + ppm(p.target) +
                                " it needs after " + days(p.at);
    if (p.thiele >= 2)
        return reached + ", because nitrite is used up on its way in (Thiele modulus " +
               base::significant(p.thiele, 2) +
               "; past about 2 immersion cannot reach the core): inject";
    return reached + "; inject, cut thinner, or ask for a longer --horizon";
}

void warn(Prediction& p, const Solved& s, base::Records& records) {
    const Case& q = p.question;
    const auto add = [&](const std::string& text) { p.findings.note(text); };
    const Tissue& lean = s.setup.tissues.at("lean");
    add(materials::ceiling_warning(records, lean.salt.diffusivity, q.temperature));
    for (const std::string& text : materials::range_warnings(
             records, {{"temperature", q.temperature},
                       {"brine salt", s.setup.pickle.salt},
                       {"pH", materials::ph(records, q.piece.muscle)},
                       {"myoglobin", materials::myoglobin(records, q.piece.muscle)}}))
        add(text);
    if (!std::isfinite(s.setup.pickle.mass))
        add("no amount of brine was given: it is taken as so much that it does not weaken; give "
            "--brine and --weight");
    if (p.pull && p.mean.salt < materials::taste_band(records).low && p.at == *p.pull)
        add(std::string("the core has its colour, but the whole is still under-salted: the mean ") +
            (p.salted ? "reaches" : "never reaches") + " the " +
            percent(materials::taste_band(records).low) + " that tastes cured" +
            (p.salted ? " on day " + base::significant(*p.salted / day, 3) : std::string()));
    if (const std::string text = ends_left_out(s.setup); !text.empty())
        add(text);
    if (s.setup.follows_salt())
        add("what follows the salt in this answer does not in its chance and ranges" +
            std::string(s.setup.whole ? "; the ends are left out, so that it is late" : ""));
}

} // namespace

std::string ends_left_out(const Setup& s) {
    const bool sheet = !s.section && s.power == 0, ball = !s.section && s.power == 2;
    if (s.whole || ball || s.shut_ends == 2)
        return "";
    return sheet ? "edges and ends are left out: a piece not much wider and longer than thick is "
                   "cured sooner, and too salty sooner, which is the unsafe side; a --shape block "
                   "with --width and --length has them"
                 : "the ends are left out, as neither length nor weight is known: a piece not much "
                   "longer than thick is cured sooner, and too salty sooner, which is the unsafe "
                   "side; give --length or --weight";
}

void advise(Prediction& p, const Solved& s, base::Records& records) {
    p.title = title_of(p.question, s.setup);
    const judge::Weighed weighed =
        weigh(p.question, s.setup.pickle, p.weight * p.question.piece.pieces);
    if (p.has_nitrite)
        p.ingoing = ingoing_of(weighed, records);
    p.findings = judge::judge(weighed, records);
    p.findings.add(judge::judge_time({{"cooler", p.question.temperature, p.at}}, p.has_nitrite,
                                     p.core.water_salt, records));
    if (!p.pull)
        p.never = why_never(p, s);

    for (const auto& [kind, tissue] : s.setup.tissues) {
        p.derived.push_back({"diffusivity of salt in " + kind + " at the cooler's temperature",
                             tissue.salt.diffusivity, "m2/s"});
        p.derived.push_back({"water in " + kind, tissue.salt.water, "kg/m3"});
    }
    const transport::Medium& nitrite = s.setup.tissues.at("lean").nitrite;
    p.derived.push_back({"diffusivity of nitrite in lean at the cooler's temperature",
                         nitrite.diffusivity, "m2/s"});
    p.derived.push_back({"loss of nitrite at the cooler's temperature", nitrite.loss, "1/s"});
    if (nitrite.loss > 0)
        p.derived.push_back({"half-life of nitrite at the cooler's temperature",
                             std::numbers::ln2 / nitrite.loss, "s"});
    p.derived.push_back({"target at the core", p.target, "kg/kg"});

    warn(p, s, records);
    p.findings.add(judge::cautions(p.has_nitrite, records));
}

} // namespace tidemark::cure
