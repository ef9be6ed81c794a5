// SPDX-License-Identifier: MIT
#include "cure/advice.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/say.hpp"
#include "cure/schedule_advice.hpp"
#include "cure/two_meshes.hpp"
#include "cure/weigh.hpp"
#include "materials/diffusion.hpp"
#include "materials/meat.hpp"
#include "materials/targets.hpp"
#include "materials/warnings.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace tidemark::cure {

namespace {

constexpr double day = 86400;

std::string days(double seconds) {
    return base::significant(seconds / day, 3) + " days";
}
std::string first_day(double seconds) {
    return base::day_number(seconds, base::Rounding::up);
}
std::string last_day(double seconds) {
    return base::day_number(seconds, base::Rounding::down);
}

std::string title_of(const Outcome& o, const Coefficients& c) {
    const Case& question = o.question.base;
    const Setup& setup = c.first();
    const std::string name = question.name.empty() ? "" : question.name + ": ";
    const std::string words = cut_name(question.piece);
    const std::string shape = question.piece.shape == "outline" && setup.section
                                  ? setup.section->name
                                  : question.piece.shape;
    return name + words + ", " + shape + ", " + base::show_length(2 * setup.half_thickness) +
           " thick" + (ends_left_out(setup).empty() || !setup.section ? "" : ", length not given") +
           (o.question.stages.back().open()
                ? ", in a " + percent(setup.pickle.salt) + " brine at " +
                      base::show_temperature(question.temperature)
                : "");
}

/// The law's arithmetic and what was used in all.
void law(Outcome& o, const Coefficients& c, const judge::Weighed& weighed, base::Records& records) {
    o.weighed = weighed_out(o.question.base.brine, c.first().pickle);
    if (const auto& pump = o.question.pump; pump && pump->brine) {
        Pickle p = *c.pumped;
        p.mass = pump->share * c.meat; // not finite or 0 where no weight is known
        o.needles = weighed_out(*pump->brine, p);
    }
    const auto use = [&](double salt, double nitrite, double mass) {
        o.salt_used += salt * mass;
        o.nitrite_used += nitrite * mass;
    };
    if (c.pumped)
        use(c.pumped->salt, c.pumped->nitrite, o.gain * c.meat);
    for (const StageSetup& s : c.stages()) {
        const Pickle& pickle = s.setup.pickle;
        if (s.stage.kind == Stage::Kind::cover && !s.on && std::isfinite(pickle.mass))
            use(pickle.salt, pickle.nitrite, pickle.mass);
        else if (s.stage.dry())
            use(s.stage.salt, s.stage.nitrite, c.meat);
    }
    if (!o.has_nitrite)
        return;
    const judge::Law all = judge::by_law(weighed, records);
    for (std::size_t k = 0; k < weighed.doses.size(); ++k) {
        const judge::Dose& d = weighed.doses[k];
        if (const double counted =
                judge::counted_nitrite(d.nitrite, d.nitrate, weighed.law, weighed.product);
            counted > 0)
            o.ingoing.doses.push_back({d.method, counted, all.limits[k]});
    }
    o.ingoing.law = weighed.law + ", " + weighed.product +
                    (all.limit && all.limit->ion ? "; " + ppm(all.limit->printed) + " as the ion"
                                                 : std::string());
    const bool immersed = std::ranges::all_of(
        weighed.doses, [](const judge::Dose& d) { return d.method == "immersion"; });
    if (all.limit)
        o.ingoing.limit = all.limit->value;
    else if (weighed.doses.empty())
        if (const auto limit = judge::limit_for(weighed, "immersion", "nitrite", records))
            o.ingoing.limit = limit->value;
    if (!weighed.doses.empty()) {
        o.ingoing.whole_system = all.ingoing;
        if (immersed)
            o.ingoing.note = weighed.amount_known ? "over meat and brine" : "of unlimited brine";
    }
}

/// Why a core is never cured in a brine without an end, with the remedy.
std::string why_never(const Outcome& o, const PieceOutcome& p, const Coefficients& c,
                      const PieceKind& kind) {
    const double horizon = o.question.stages.back().most;
    if (!o.has_nitrite) {
        const double full = p.core.of_equilibrium > 0 ? p.core.salt / p.core.of_equilibrium : 0;
        if (full < p.target)
            return "the brine is too weak: at full balance the meat would hold about " +
                   base::significant(100 * full, 2) + " % salt, below the " + percent(p.target) +
                   " asked of the core; use a stronger brine or more of it";
        return "the core does not reach " + percent(p.target) + " salt within " + days(horizon) +
               "; use needles, cut thinner, or ask for a longer --horizon";
    }
    // Where nitrite is used up in the meat more follows, up to all there is.
    const Setup& s = kind.setup();
    const bool lost = s.tissues.at("lean").nitrite.loss > 0,
               held = !std::isfinite(s.nitrite_bath.water);
    double most = held && lost ? std::numeric_limits<double>::infinity()
                               : s.nitrite_bath.partition * s.nitrite_bath.concentration;
    if (!held) {
        const double brine = s.pickle.mass * s.pickle.nitrite,
                     water = s.pickle.mass * s.pickle.water / s.nitrite_bath.partition;
        double lean = 0, all = water; // water of the pieces, and of all there is [kg]
        for (std::size_t k = 0; k < c.kinds.size(); ++k) {
            const Grid& grid = o.solved->fine->grid(k);
            lean += c.kinds[k].units() * grid.lean_water.sum();
            all += c.kinds[k].units() * grid.water.sum();
        }
        most = brine / (lost ? lean : all);
    }
    const double all = most * s.tissues.at("lean").water_fraction;
    if (all < p.target)
        return std::string("the brine holds too little nitrite: ") +
               (lost ? "all of it would come to " : "shared out evenly it comes to ") + ppm(all) +
               " in the meat, and the colour needs " + ppm(p.target) +
               "; see the strength and the amount of the brine";
    const std::string reached = "the core has " + ppm(p.core.arrived) + " of the " + ppm(p.target) +
                                " it needs after " + days(o.at);
    if (p.thiele >= 2)
        return reached + ", because nitrite is used up on its way in (Thiele modulus " +
               base::significant(p.thiele, 2) +
               "; past about 2 brine alone cannot reach the core): use needles";
    return reached + "; use needles, cut thinner, or ask for a longer --horizon";
}

/// What comes out of a bucket before all is cured.
void take_out(Outcome& o) {
    const PieceOutcome& last = o.slowest();
    for (const PieceOutcome& p : o.pieces) {
        if (p.piece.out || !p.last_good || *p.last_good >= last.cured.value_or(o.at))
            continue;
        std::string text =
            p.name + ": after day " + last_day(*p.last_good) + " " + p.last_good_reason +
            ", before " +
            (last.cured ? "all is cured on day " + first_day(*last.cured) : "all is cured");
        if (!p.cured)
            text += ", and it is not cured by then";
        else if (*p.last_good < *p.cured)
            text += ", and it is cured only on day " + first_day(*p.cured) +
                    ": use a weaker brine or soak it afterwards";
        else
            text += ": take it out between day " + first_day(*p.cured) + " and day " +
                    last_day(*p.last_good) +
                    " (out = 5 d in its file follows the others without it)";
        o.take_out.push_back(text);
    }
}

void derive(Outcome& o, const Setup& s) {
    for (const auto& [kind, tissue] : s.tissues) {
        o.derived.push_back({"diffusivity of salt in " + kind + " at the cooler's temperature",
                             tissue.salt.diffusivity, "m2/s"});
        o.derived.push_back({"water in " + kind, tissue.salt.water, "kg/m3"});
    }
    const transport::Medium& nitrite = s.tissues.at("lean").nitrite;
    o.derived.push_back({"diffusivity of nitrite in lean at the cooler's temperature",
                         nitrite.diffusivity, "m2/s"});
    o.derived.push_back({"loss of nitrite at the cooler's temperature", nitrite.loss, "1/s"});
    if (nitrite.loss > 0)
        o.derived.push_back({"half-life of nitrite at the cooler's temperature",
                             std::numbers::ln2 / nitrite.loss, "s"});
    o.derived.push_back({"target at the core", o.first().target, "kg/kg"});
}

/// What the model leaves out or stretches here.
void notes(Outcome& o, const Coefficients& c, base::Records& records) {
    const auto note = [&](const std::string& text) { o.findings.note(text); };
    bool endless = false;
    for (std::size_t k = 0; k < o.pieces.size(); ++k) {
        const std::string& muscle = o.pieces[k].piece.muscle;
        o.findings.tell("borrowed", materials::lender_note(records, muscle));
        if (k == 0 && o.question.base.law == "us" && o.question.base.product == "cured" &&
            muscle == "pork-belly")
            o.findings.tell("product",
                            "belly that is to be bacon has limits of its own, and asks for "
                            "ascorbate or erythorbate: --product bacon");
        if (k == 0 && o.question.base.rind && o.question.base.piece.dimensions.sealed.empty())
            o.findings.tell("rind",
                            "no face is told to lie under the rind, which keeps brine out: add "
                            "--seal bottom, or the face it is on");
        for (const StageSetup& s : c.kinds[c.of[k]].stages) {
            const bool cover = s.stage.kind == Stage::Kind::cover;
            endless = endless || (cover && !std::isfinite(s.setup.pickle.mass));
            note(materials::ceiling_warning(records, s.setup.tissues.at("lean").salt.diffusivity,
                                            s.warmth));
            std::map<std::string, double> met{{"temperature", s.warmth},
                                              {"pH", materials::ph(records, muscle)},
                                              {"myoglobin", materials::myoglobin(records, muscle)}};
            if (cover)
                met.emplace("brine salt", s.setup.pickle.salt);
            for (const std::string& text : materials::range_warnings(records, met))
                note(text);
        }
    }
    if (endless)
        note(o.pieces.size() > 1
                 ? "no amount of brine was given: it is assumed unlimited, so its strength stays "
                   "constant and the pieces do not affect each other; give --brine, and the weight "
                   "of every piece"
                 : "no amount of brine was given: it is assumed unlimited, so its strength stays "
                   "constant; give --brine and --weight");
    const PieceOutcome& one = o.first();
    const double taste = materials::taste_band(records).low;
    if (o.question.stages.back().open() && o.pieces.size() == 1 && one.cured &&
        one.mean.salt < taste && o.at == *one.cured)
        note(
            std::string("the core has its colour, but the whole is still under-salted: the mean ") +
            (one.salted ? "reaches" : "never reaches") + " the " + percent(taste) +
            " that tastes cured" +
            (one.salted ? " on day " + base::significant(*one.salted / day, 3) : std::string()));
    for (std::size_t k = 0; k < o.pieces.size(); ++k)
        if (const std::string text = ends_left_out(c.kinds[c.of[k]].setup()); !text.empty())
            note((o.pieces.size() > 1 ? o.pieces[k].name + ": " : std::string()) + text);
    if (c.first().follows_salt())
        note("what follows the salt in this answer does not in its chance and ranges, nor where "
             "pieces share a brine" +
             std::string(c.first().whole ? "; the ends are left out, so that it is late" : ""));
    if (o.pieces.size() > 1)
        note("every face not sealed is taken to be wet: where pieces lie on each other write seal "
             "= bottom for the one above and seal = top for the one below; for turning them give "
             "stages with sealed faces");
}

} // namespace

std::string ends_left_out(const Setup& s) {
    const bool sheet = !s.section && s.power == 0, ball = !s.section && s.power == 2;
    if (s.whole || ball || s.shut_ends == 2)
        return "";
    return sheet ? "edges and ends are left out: a narrow or short piece is cured, and too salty, "
                   "sooner; --shape block with --width and --length has them"
                 : "the ends are left out, as neither length nor weight is known: a piece not much "
                   "longer than thick is cured sooner, and too salty sooner, which is the unsafe "
                   "side; give --length or --weight";
}

void advise(Outcome& o, const Coefficients& c, base::Records& records) {
    o.title = title_of(o, c);
    judge::Weighed weighed = weigh(o.question, c, records);
    weighed.above_limit = 0; // tell_time() tells the part of the logs that was used
    law(o, c, weighed, records);
    o.findings = judge::judge(weighed, records);
    tell_time(o, records);
    if (o.question.stages.back().open()) {
        for (std::size_t k = 0; k < o.pieces.size(); ++k)
            if (!o.pieces[k].cured)
                o.pieces[k].never = why_never(o, o.pieces[k], c, c.kinds[c.of[k]]);
    } else {
        tell_schedule(o, records);
    }
    if (o.pieces.size() > 1)
        take_out(o);
    o.hands = o.question.pump ? 1 : 0;
    for (const Stage& s : o.question.stages)
        o.hands += 1 + s.changes;
    derive(o, c.first());
    notes(o, c, records);
    o.findings.add(judge::cautions(o.has_nitrite && !o.findings.has("fatal-dose"), records));
}

} // namespace tidemark::cure
