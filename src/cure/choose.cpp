// SPDX-License-Identifier: MIT
#include "cure/choose.hpp"

#include "cure/choose_brines.hpp"
#include "cure/make_brine.hpp"
#include "cure/remade.hpp"
#include "cure/thickest.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/show.hpp"
#include "base/side_by_side.hpp"
#include "base/text.hpp"
#include "cure/say.hpp"
#include "judge/judge.hpp"
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

Question plan_of(const ChooseQuestion& q, const std::string& name) {
    Question p;
    p.name = name;
    p.base = q.base;
    return p;
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

/// A method as it is to be run, and as it is told.
struct Recipe {
    Question plan;
    std::string made, schedule;
};

std::string brine_made(const Pickle& p) {
    return "brine of " + percent(p.salt) + " salt" +
           (p.nitrite > 0 ? ", " + ppm(p.nitrite) + " nitrite" : "") +
           (std::isfinite(p.mass) ? ", " + base::show_mass(p.mass) : "");
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
    if (!cure.met && r.stages.back().end.mean_salt < taste.low)
        return "under-salted: mean " + percent(r.stages.back().end.mean_salt) + " of at least " +
               percent(taste.low);
    if (!m.ready || *m.ready > q.base.horizon)
        return "it takes longer than the " + days(q.base.horizon) + " looked at: " +
               (m.ready ? "ready only after " + days(*m.ready)
                        : "the salt is not as even as asked by day " +
                              base::significant(r.stages.back().to / 86400, 3));
    return "";
}

Method run_method(const ChooseQuestion& q, Recipe recipe, const base::Records& records,
                  const materials::Band& taste) {
    Method m;
    m.name = recipe.plan.name;
    m.made = std::move(recipe.made);
    m.schedule = std::move(recipe.schedule);
    m.result = run(recipe.plan, records);
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

} // namespace

const std::vector<std::string>& method_names() {
    static const std::vector<std::string> names{
        "brine",     "brine on all faces", "weaker brine", "stronger brine",
        "needles",   "needles and brine",  "rub",          "bag",
        "cut in two"};
    return names;
}

namespace {

/// Whether a method is made of what the cook has weighed, or means to: a danger of any other is the
/// reason why it is not proposed.
bool the_cooks(const ChooseQuestion& q, const std::string& name) {
    return (q.own_brine && name.starts_with("brine")) || (q.pump.brine && name == "needles");
}

/// Each finding once, headed by the methods it holds for unless it holds for all, or for `way`.
judge::Findings gathered(const Choice& c, bool of_all, const std::optional<std::size_t>& way) {
    judge::Findings all = c.findings;
    for (std::size_t k = 0; k < c.methods.size(); ++k)
        for (const judge::Finding& f : c.methods[k].result.findings.all()) {
            std::vector<std::string> names;
            for (const Method& other : c.methods)
                if (std::ranges::count(other.result.findings.texts(f.severity), f.text) > 0)
                    names.push_back(other.name);
            if (!of_all && !way && f.severity == judge::Severity::warning && f.code == "long-cure")
                continue; // of days that nobody is told to keep
            const bool for_all = names.size() == c.methods.size();
            if (of_all || for_all || k == way ||
                (f.severity == judge::Severity::danger && the_cooks(c.question, c.methods[k].name)))
                all.add(f.severity, f.code,
                        (for_all || k == way ? std::string()
                                             : boost::algorithm::join(names, ", ") + ": ") +
                            f.text,
                        f.aside);
        }
    return all;
}

} // namespace

judge::Findings all_findings(const Choice& choice) {
    return gathered(choice, true, {});
}

judge::Findings findings_of(const Choice& choice, const std::optional<std::size_t>& way) {
    return gathered(choice, false, way);
}

namespace {

/// The brine with `factor` times its salt on the nearest quarter of a percent.
void add_remade(std::vector<Recipe>& list, const ChooseQuestion& q, const Pickle& now,
                const materials::Band& taste, const std::string& name, double factor,
                base::Records& records) try {
    constexpr double quarter = 0.0025;
    const double salt = base::rounded(factor * now.salt, quarter, base::Rounding::nearest);
    const auto other = remade(q.base.brine, now, salt);
    if (!other || salt == now.salt || !(salt > 0))
        return;
    Question plan = plan_of(q, name);
    plan.base.brine = other->brine;
    plan.stages = stages(q, stage(Kind::cover, What::cured, taste.low));
    const Pickle pickle = make_pickle(other->brine, q.base.temperature, records);
    std::string words;
    for (const auto& [flag, text] : other->flags)
        words += "--" + flag + " \"" + text + "\" ";
    list.push_back({plan, brine_made(pickle),
                    (q.own_brine ? words : brine_flags(pickle)) + flags("brine", taste, q.even)});
} catch (const base::InputError&) { // more salt than dissolves, or so little that it freezes
}

std::vector<Recipe> in_brines(const ChooseQuestion& q, const Pickle& pickle,
                              const materials::Band& taste, base::Records& records) {
    std::vector<Recipe> list;
    Question immersion = plan_of(q, "brine");
    immersion.stages = stages(q, stage(Kind::cover, What::cured, taste.low));
    const std::string own =
        (q.own_brine ? "" : brine_flags(pickle)) + flags("brine", taste, q.even);
    list.push_back({immersion, brine_made(pickle), own});
    if (!q.base.rind && q.base.piece.lies()) { // a rind stays where it is
        Question open = immersion;
        open.name = "brine on all faces";
        open.base.piece.hang_free();
        list.push_back({open, brine_made(pickle) + ", hung free or turned over every day",
                        "--seal none " + own});
    }
    add_remade(list, q, pickle, taste, "weaker brine", 0.75, records);
    add_remade(list, q, pickle, taste, "stronger brine", 4.0 / 3, records);
    return list;
}

std::vector<Recipe> with_needles(const ChooseQuestion& q, const Pickle& pickle,
                                 const materials::Band& taste, base::Records& records) {
    Question needles = plan_of(q, "needles");
    needles.pump = q.pump;
    if (!needles.pump->brine)
        needles.pump->brine =
            pump_brine(q, q.pump.share, most_in_needles(q.base, records), records);
    needles.stages = stages(q, stage(Kind::rest, What::cured, taste.low));
    Question covered = plan_of(q, "needles and brine");
    covered.pump = q.pump;
    covered.stages = stages(q, stage(Kind::cover, What::cured, taste.low));
    if (!covered.pump->brine) // the brine itself, with as much of its nitrite as the law leaves
        covered.pump->brine = pumped_beside(q.base, pickle, q.pump.share, records);
    const auto pumped = [&](const Question& p) {
        return "pumped to " + percent(q.pump.share) + " with " + strength(*p.pump->brine);
    };
    return {{needles, pumped(needles),
             pump_flags(q, *needles.pump->brine) + flags("rest", taste, q.even)},
            {covered, pumped(covered) + ", then in that brine",
             pump_flags(q, *covered.pump->brine) + (q.own_brine ? "" : brine_flags(pickle)) +
                 flags("brine", taste, q.even)}};
}

Recipe dry(const ChooseQuestion& q, Kind kind, const Setup& piece, const materials::Band& taste,
           base::Records& records) {
    const bool rub = kind == Kind::rub;
    Question plan = plan_of(q, rub ? "rub" : "bag");
    Stage s = stage(kind, What::cured, taste.low);
    const Balance meat{1, piece.tissues.at("lean").water_fraction,
                       materials::partition(records, "salt")};
    s.salt = salted_share(piece) *
             dry_salt(q.salt, rub ? Way::rub : Way::bag, meat, q.base.temperature, records);
    // As it lies on the scales: salt, and the premix that brings the nitrite.
    const Brine& b = q.base.brine;
    const double strength = b.premix_strength, brings = 1 - strength - b.premix_nitrate;
    s.premix = base::rounded(carried(q, aim(q, "dry", records), s.salt) / strength, 1e-5,
                             base::Rounding::down);
    const double beside = base::rounded(s.salt - brings * s.premix, 1e-4, base::Rounding::nearest);
    s.salt = beside + brings * s.premix;
    s.nitrite = strength * s.premix;
    s.nitrate = b.premix_nitrate * s.premix;
    plan.stages = stages(q, s);
    const std::string salt = base::significant(1000 * beside, 3) + " g/kg",
                      premix = base::significant(1000 * s.premix, 3) + " g/kg";
    return {plan,
            salt + " of salt" + (s.premix > 0 ? ", " + premix + " of premix" : "") +
                (rub ? ", drip drained" : ", drip kept"),
            flags(plan.name + ", salt " + salt + (s.premix > 0 ? ", premix " + premix : ""), taste,
                  q.even)};
}

} // namespace

Choice choose(const ChooseQuestion& asked, const base::Records& library, const Progress& progress) {
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
    const Pickle pickle = make_pickle(q.base.brine, q.base.temperature, records);
    std::vector<Recipe> recipes = in_brines(q, pickle, taste, records);
    for (Recipe& r : with_needles(q, pickle, taste, records))
        recipes.push_back(std::move(r));
    for (const Kind kind : {Kind::rub, Kind::bag})
        recipes.push_back(dry(q, kind, piece, taste, records));
    if (progress)
        progress(0.1, "ways");
    c.methods.resize(recipes.size());
    base::side_by_side(recipes.size(), [&](std::size_t k) {
        c.methods[k] = run_method(q, std::move(recipes[k]), library, taste);
    });
    if (q.limits)
        find_thickest(c, library, piece);
    if (progress)
        progress(1, "done");
    return c;
}

std::optional<Method> cut_in_two(const Choice& c, const base::Records& library) try {
    const ChooseQuestion& q = c.question;
    const Piece& whole = q.base.piece;
    const bool halves = whole.shape == "sheet" || whole.shape == "block" || whole.shape == "loin";
    const std::string name = "cut in two";
    if (!halves || whole.dimensions.bones > 0 || std::ranges::count(q.without, name) > 0)
        return {};
    base::Records records = library;
    const Setup piece = make_piece(q.base, records);
    const materials::Band taste = materials::taste_band(records);
    const Pickle pickle = make_pickle(q.base.brine, q.base.temperature, records);
    Question plan = plan_of(q, name);
    plan.stages = stages(q, stage(Kind::cover, What::cured, taste.low));
    Piece& half = plan.base.piece;
    std::string words;
    const auto give = [&](const char* flag, double& value, const std::string& text,
                          base::Dimension dimension) { // as its line will be read
        value = base::parse(text, dimension, "choose");
        words += std::string("--") + flag + " \"" + text + "\" ";
    };
    const auto mm = [](double length) { return base::significant(length / 1e-3, 4) + " mm"; };
    const std::string thick = mm(whole.dimensions.thickness / 2);
    give("thickness", half.dimensions.thickness, thick, base::Dimension::length);
    if (whole.shape == "loin" && whole.dimensions.width == 0) // not that of a thinner loin
        give("width", half.dimensions.width, mm(piece.section->width), base::Dimension::length);
    if (whole.weight > 0)
        give("weight", half.weight, base::on_scales(whole.weight / 2), base::Dimension::mass);
    half.pieces *= 2;
    words += "--pieces " + std::to_string(half.pieces) + ' ';
    return run_method(
        q,
        {plan, "a piece cut " + thick + " thick, two for each; " + brine_made(pickle),
         words + (q.own_brine ? "" : brine_flags(pickle)) + flags("brine", taste, q.even)},
        library, taste);
} catch (const base::InputError&) { // a half that cannot be drawn, or weighs nothing
    return {};
} catch (const base::RunError&) {
    return {};
}

} // namespace tidemark::cure
