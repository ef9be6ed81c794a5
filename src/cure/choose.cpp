// SPDX-License-Identifier: MIT
#include "cure/choose.hpp"

#include "cure/make_brine.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/coefficients.hpp"
#include "cure/ingoing.hpp"
#include "cure/say.hpp"
#include "cure/weigh.hpp"
#include "judge/judge.hpp"
#include "materials/brine.hpp"
#include "materials/limits.hpp"
#include "materials/solutes.hpp"
#include "materials/targets.hpp"

#include <boost/algorithm/string/join.hpp>

#include <algorithm>
#include <cmath>

namespace tidemark::cure {

namespace {

using Kind = Stage::Kind;
using What = Until::What;

std::string days(double seconds) {
    return base::significant(seconds / 86400, 2) + " days";
}

Stage stage(Kind kind, What until, double value = 0) {
    Stage s;
    s.kind = kind;
    s.until = Until{until, value};
    s.where = "choose";
    return s;
}

/// The nitrite aimed at by one method [kg per kg], never above its limit unless the cook asked.
double aim(const ChooseQuestion& q, const std::string& method, base::Records& records) {
    if (q.nitrite)
        return *q.nitrite;
    judge::Weighed w;
    w.law = q.base.law;
    w.product = q.base.product;
    w.rind = q.base.rind;
    const auto limit = judge::limit_for(w, method, "nitrite", records);
    return limit ? std::min(limit->value, ChooseQuestion::usual_nitrite)
                 : ChooseQuestion::usual_nitrite;
}

/// The nitrate that the cook's premix brings along with so much nitrite.
double with_nitrate(const ChooseQuestion& q, double nitrite) {
    return nitrite * q.base.brine.premix_nitrate / q.base.brine.premix_strength;
}

/// Of `nitrite`, what the cook's premix can bring without more salt than `salt` [same unit].
double carried(const ChooseQuestion& q, double nitrite, double salt) {
    const Brine& b = q.base.brine;
    return std::min(nitrite, salt * b.premix_strength / (1 - b.premix_strength - b.premix_nitrate));
}

/// A brine of the meat's own weight that would balance at the aim.
Brine balancing(const ChooseQuestion& q, base::Records& records, const Setup& piece) {
    const double meat = piece.weight > 0 ? piece.weight * q.base.piece.pieces : 0;
    if (!(meat > 0))
        throw base::InputError("--weight", "", "is needed to make up the brine",
                               "add --weight \"2.5 kg\", or give the brine with --brine-salt");
    const Tissue& lean = piece.tissues.at("lean");
    const double water = meat; // of the brine
    const double salt = salt_for_balance(
        q.salt, water, {meat, lean.water_fraction, materials::partition(records, "salt")});
    Brine b = q.base.brine; // its premix
    b.mass = water + salt;
    b.volume.reset();
    b.salt = salt / *b.mass;
    b.nitrite = carried(q, nitrite_for_whole(aim(q, "immersion", records), meat, *b.mass) / *b.mass,
                        *b.salt);
    b.nitrate = with_nitrate(q, *b.nitrite);
    return b;
}

Question plan_of(const ChooseQuestion& q, const std::string& name) {
    Question p;
    p.name = name;
    p.base = q.base;
    return p;
}

/// The aim as salt and nitrite of a brine pumped to `share`.
Brine pump_brine(const ChooseQuestion& q, double share, double most, base::Records& records) {
    Brine b;
    b.premix_strength = q.base.brine.premix_strength;
    b.premix_nitrate = q.base.brine.premix_nitrate;
    b.salt = std::min(needle_salt(q.salt, share), most);
    b.nitrite = carried(q, aim(q, "pumped", records) / share, *b.salt);
    b.nitrate = with_nitrate(q, *b.nitrite);
    return b;
}

/// The stages of a method as flags of `plan`.
std::string flags(const std::string& first, const materials::Band& taste,
                  const std::optional<double>& even) {
    return "--stage \"" + first + ", until cured and mean " + percent(taste.low) + '"' +
           (even ? " --stage \"rest, until even " + percent(*even) + '"' : "");
}

/// The cure, and the rest if one was asked for.
std::vector<Stage> stages(const ChooseQuestion& q, const Stage& cure) {
    std::vector<Stage> list{cure};
    if (q.even)
        list.push_back(stage(Kind::rest, What::even, *q.even));
    return list;
}

/// A brine that was made up, as flags.
std::string brine_flags(const Pickle& p) {
    return "--brine-salt \"" + percent(p.salt) + "\" --brine-nitrite \"" + ppm(p.nitrite) +
           "\" --brine \"" + base::significant(p.mass, 3) + " kg\" ";
}

std::string pump_flags(const ChooseQuestion& q, const Brine& b) {
    return "--pump \"" + percent(q.pump.share) + "\" --pump-salt \"" + percent(b.salt.value_or(0)) +
           "\" --pump-nitrite \"" + ppm(b.nitrite.value_or(0)) + "\" ";
}

std::string strength(const Brine& b) {
    std::string text = percent(b.salt.value_or(0)) + " salt";
    if (b.nitrite.value_or(0) > 0)
        text += ", " + ppm(*b.nitrite) + " nitrite";
    return text;
}

std::string why_not(const ChooseQuestion& q, const Method& m, const materials::Band& taste) {
    if (std::ranges::find(q.without, m.name) != q.without.end())
        return "you asked to do without";
    const Outcome& o = m.result;
    const PieceOutcome& r = o.first();
    const StageResult& cure = r.stages.front();
    if (const auto dangers = o.findings.dangers(); !dangers.empty())
        return dangers.front();
    if (!r.cured)
        return o.has_nitrite
                   ? "the core is not cured in " + days(cure.to - cure.from) +
                         (r.thiele >= 2 ? ": nitrite is used up on its way in" : "") + " (" +
                         ppm(r.stages.back().end.core_arrived) + " of " + ppm(r.target) + ")"
                   : "the core does not get its salt in " + days(cure.to - cure.from);
    if (r.stages.back().end.mean_salt < taste.low * (1 - 1e-6))
        return "under-salted: mean " + percent(r.stages.back().end.mean_salt);
    if (!m.ready || *m.ready > q.base.horizon)
        return "it takes longer than the " + days(q.base.horizon) + " looked at: " +
               (m.ready ? "ready only after " + days(*m.ready)
                        : "the salt is not as even as asked by day " +
                              base::significant(r.stages.back().to / 86400, 3));
    return "";
}

Method run_method(const ChooseQuestion& q, Question plan, std::string made,
                  const base::Records& records, const materials::Band& taste) {
    Method m;
    m.name = plan.name;
    m.made = std::move(made);
    m.result = run(plan, records);
    const PieceOutcome& r = m.result.first();
    const auto surely = [](const StageResult& s) { return s.met && !s.barely; };
    if (surely(r.stages.front()))
        m.pull = r.stages.front().to;
    m.latest = r.last_good;
    if (std::ranges::all_of(r.stages, surely))
        m.ready = r.stages.back().to;
    m.ruled_out = why_not(q, m, taste);
    return m;
}

/// Whether a piece `scale` times as thick, all else in proportion, has a day to pull it on; none
/// where no such piece can be drawn. `reason` is told if it has not, and else left alone.
std::optional<bool> cures(const ChooseQuestion& q, double scale, const base::Records& records,
                          std::string& reason) try {
    Case c = q.base;
    geometry::Dimensions& d = c.piece.dimensions;
    for (double geometry::Dimensions::*m :
         {&geometry::Dimensions::thickness, &geometry::Dimensions::width,
          &geometry::Dimensions::fat_cap, &geometry::Dimensions::bone_diameter,
          &geometry::Dimensions::bone_depth})
        d.*m *= scale;
    const bool ends = c.piece.shape != "sheet";
    c.piece.length *= ends ? scale : 0;
    c.cells = std::min(c.cells, 16.0);
    if (c.piece.weight > 0) { // the same share of brine, whatever the size
        c.piece.weight *= scale * scale * (ends ? scale : 1);
        if (c.brine.mass)
            *c.brine.mass *= c.piece.weight / q.base.piece.weight;
        if (c.brine.volume)
            *c.brine.volume *= c.piece.weight / q.base.piece.weight;
        for (auto* part : {&c.brine.water, &c.brine.ice, &c.brine.cold_water, &c.brine.salt_added,
                           &c.brine.sugar, &c.brine.premix, &c.brine.erythorbate})
            if (*part)
                **part *= c.piece.weight / q.base.piece.weight;
    }
    const Outcome o = run(in_brine(c), records);
    const PieceOutcome& p = o.first();
    const std::string late = p.last_good && p.salted && *p.last_good < *p.salted
                                 ? "the whole tastes cured only after " + p.last_good_reason
                                 : "";
    if (!p.cured)
        reason = "the core is not cured in " + days(c.horizon) +
                 (p.thiele >= 2 ? ", since nitrite is used up on its way in" : "");
    else if (p.last_good && *p.last_good < *p.cured)
        reason = "the core is cured only after " + p.last_good_reason;
    else if (!p.salted)
        reason = "the whole never tastes cured";
    else if (!late.empty())
        reason = late;
    return p.cured && p.salted && !(p.last_good && *p.last_good < std::max(*p.cured, *p.salted));
} catch (const base::InputError&) { // of the shape, for the piece itself has been drawn
    return std::nullopt;
} catch (const base::RunError&) { // of its cells
    return std::nullopt;
}

void thickness_limit(Choice& c, const base::Records& records, const Setup& piece) {
    const transport::Medium& m = piece.tissues.at("lean").nitrite;
    if (m.loss > 0)
        c.thiele_thickness = 4 * std::sqrt(m.diffusivity / m.loss);
    if (c.question.base.piece.shape == "outline")
        return; // a drawn section is not scaled
    // From the piece itself, to where the answer turns or the shape goes no further.
    constexpr double farthest = 4, close = 1.02; // ratios
    std::string reason;                          // of the last that did not cure
    const auto at = [&](double scale) { return cures(c.question, scale, records, reason); };
    const std::optional<bool> here = at(1);
    if (!here)
        return;
    double same = 1, other = *here ? farthest : 1 / farthest;
    std::optional<bool> there = at(other);
    if (there == here)
        same = other;
    while (std::max(same / other, other / same) > close) {
        const double middle = std::sqrt(same * other);
        const std::optional<bool> found = at(middle);
        (found == here ? same : other) = middle;
        if (found != here)
            there = found;
    }
    const double thickness = 2 * piece.half_thickness;
    if (there && there != here)
        c.thickest = (*here ? same : other) * thickness;
    else
        c.tried = Choice::Tried{same * thickness, *here, there.has_value()};
    if (c.thickest || !*here)
        c.thickest_reason = reason;
}

} // namespace

const std::vector<std::string>& method_names() {
    static const std::vector<std::string> names{"brine", "needles", "needles and brine", "rub",
                                                "bag"};
    return names;
}

Brine pumped_beside(const Case& q, const Pickle& cover, double share, base::Records& records) {
    const Question alone = in_brine(q);
    const judge::Weighed w = weigh(alone, coefficients(alone, records), records);
    const auto limit = judge::limit_for(w, "pumped", "nitrite", records),
               covered = judge::limit_for(w, "immersion", "nitrite", records);
    Brine b;
    b.premix_strength = q.brine.premix_strength;
    b.premix_nitrate = q.brine.premix_nitrate;
    b.salt = cover.salt;
    b.nitrite = cover.nitrite;
    if (limit && covered && !w.doses.empty()) {
        constexpr double margin = 0.95; // what is weighed may be a little more
        const double room =
            margin * std::min(limit->value, covered->value) - w.doses.front().nitrite;
        b.nitrite = std::clamp(room / share, 0.0, cover.nitrite);
    }
    b.nitrate = *b.nitrite * b.premix_nitrate / b.premix_strength;
    return b;
}

judge::Findings all_findings(const Choice& c) {
    judge::Findings all = c.findings;
    for (const Method& m : c.methods)
        for (const judge::Finding& f : m.result.findings.all()) {
            std::vector<std::string> names;
            for (const Method& other : c.methods)
                if (std::ranges::count(other.result.findings.texts(f.severity), f.text) > 0)
                    names.push_back(other.name);
            all.add(f.severity, f.code,
                    (names.size() == c.methods.size()
                         ? std::string()
                         : boost::algorithm::join(names, ", ") + ": ") +
                        f.text);
        }
    return all;
}

Choice choose(const ChooseQuestion& asked, const base::Records& library, const Progress& progress) {
    const auto report = [&](double done, const std::string& step) {
        if (progress)
            progress(done, step);
    };
    Choice c;
    c.question = asked;
    ChooseQuestion& q = c.question;
    base::Records records = library;
    const Setup piece = make_piece(q.base, records);
    if (q.base.piece.weight == 0) // by its length, or as a ball
        q.base.piece.weight = piece.weight;
    if (!q.own_brine)
        q.base.brine = balancing(q, records, piece);
    const materials::Band taste = materials::taste_band(records);

    report(0, "brine");
    Question immersion = plan_of(q, "brine");
    immersion.stages = stages(q, stage(Kind::cover, What::cured, taste.low));
    const Pickle pickle = make_pickle(q.base.brine, q.base.temperature, records);
    c.methods.push_back(
        run_method(q, immersion,
                   "brine of " + percent(pickle.salt) + " salt" +
                       (pickle.nitrite > 0 ? ", " + ppm(pickle.nitrite) + " nitrite" : "") +
                       (std::isfinite(pickle.mass) ? ", " + base::show_mass(pickle.mass) : ""),
                   library, taste));
    c.methods.back().schedule = flags("brine", taste, q.even);
    if (!q.own_brine)
        c.methods.back().schedule = brine_flags(pickle) + c.methods.back().schedule;
    report(0.3, "needles");
    Question needles = plan_of(q, "needles");
    needles.pump = q.pump;
    if (!needles.pump->brine)
        needles.pump->brine = pump_brine(
            q, q.pump.share, 0.95 * materials::solubility(records, q.base.temperature), records);
    needles.stages = stages(q, stage(Kind::rest, What::cured, taste.low));
    c.methods.push_back(
        run_method(q, needles,
                   "pumped to " + percent(q.pump.share) + " with " + strength(*needles.pump->brine),
                   library, taste));
    c.methods.back().schedule = pump_flags(q, *needles.pump->brine) + flags("rest", taste, q.even);
    Question covered = plan_of(q, "needles and brine");
    covered.pump = q.pump;
    covered.stages = stages(q, stage(Kind::cover, What::cured, taste.low));
    if (!covered.pump->brine) // the brine itself, with as much of its nitrite as the law leaves
        covered.pump->brine = pumped_beside(q.base, pickle, q.pump.share, records);
    c.methods.push_back(run_method(q, covered,
                                   "pumped to " + percent(q.pump.share) + " with " +
                                       strength(*covered.pump->brine) + ", then in that brine",
                                   library, taste));
    c.methods.back().schedule = pump_flags(q, *covered.pump->brine) +
                                (q.own_brine ? "" : brine_flags(pickle)) +
                                flags("brine", taste, q.even);
    report(0.6, "dry");
    for (const Kind kind : {Kind::rub, Kind::bag}) {
        Question dry = plan_of(q, kind == Kind::rub ? "rub" : "bag");
        Stage s = stage(kind, What::cured, taste.low);
        const Balance meat{1, piece.tissues.at("lean").water_fraction,
                           materials::partition(records, "salt")};
        s.salt = dry_salt(q.salt, kind == Kind::rub ? Way::rub : Way::bag, meat, q.base.temperature,
                          records);
        s.nitrite = carried(q, aim(q, "dry", records), s.salt);
        s.nitrate = with_nitrate(q, s.nitrite);
        dry.stages = stages(q, s);
        c.methods.push_back(
            run_method(q, dry,
                       base::significant(1000 * s.salt, 3) + " g/kg salt" +
                           (s.nitrite > 0 ? ", " + ppm(s.nitrite) + " nitrite" : "") +
                           (kind == Kind::rub ? ", drip drained" : ", drip kept"),
                       library, taste));
        c.methods.back().schedule =
            flags(std::string(kind == Kind::rub ? "rub" : "bag") + ", salt " +
                      base::significant(1000 * s.salt, 3) + " g/kg" +
                      (s.nitrite > 0 ? ", nitrite " + ppm(s.nitrite) : ""),
                  taste, q.even);
    }
    report(0.8, "limits");
    if (q.limits)
        thickness_limit(c, library, piece);
    report(1, "done");
    return c;
}

} // namespace tidemark::cure
