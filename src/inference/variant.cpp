// SPDX-License-Identifier: MIT
#include "inference/variant.hpp"

#include "base/quantity.hpp"
#include "base/show.hpp"
#include "base/text.hpp"
#include "cure/choose_brines.hpp"
#include "cure/remade.hpp"
#include "cure/say.hpp"
#include "cure/stage_words.hpp"
#include "inference/schedule_chance.hpp"
#include "inference/similar.hpp"
#include "materials/targets.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::inference {
namespace {

using base::rounded;
using base::significant;
using cure::Brine;
using cure::Question;
using cure::Stage;

/// The number that a flag's text will be read as, so that a change is what its command asks.
double read(const std::string& text, base::Dimension dimension) {
    return base::parse(text, dimension, "change");
}

/// All stages of a question as flags; none if one of them cannot be said.
std::optional<std::vector<ChangedFlag>> stage_flags(const Question& q) {
    std::vector<ChangedFlag> flags;
    for (const Stage& s : q.stages) {
        const auto words = cure::stage_words(s);
        if (!words)
            return {};
        flags.push_back({"stage", *words});
    }
    return flags;
}

/// With the stages of its question as flags, and `what` was changed.
std::optional<Variant> staged(Variant v, const std::string& what) {
    const auto flags = stage_flags(v.question);
    if (!flags)
        return {};
    v.what = what;
    v.flags.insert(v.flags.end(), flags->begin(), flags->end());
    return v;
}

/// The next step up or down on a ladder of `rung`, counted from where one stands.
double stepped(double from, double rung, int step) {
    const double rungs = from / rung;
    return rung * (step > 0 ? std::floor(rungs + 1e-6) + step : std::ceil(rungs - 1e-6) + step);
}

std::optional<Variant> with_dose(const Question& q, std::size_t k, int step) {
    constexpr double rung = 2.5e-3; // [kg per kg raw meat]
    const double beside = cure::salt_beside(q.stages[k]), stays = q.stages[k].salt - beside,
                 put = stepped(beside, rung, step), salt = put + stays;
    if (put < rung || salt < least_salt * q.stages[k].salt || salt > most_salt * q.stages[k].salt)
        return {};
    Variant v{"", q, {}, {}};
    v.question.stages[k].salt = salt;
    return staged(v, significant(1e3 * put, 4) + " g/kg of salt in the " +
                         (q.stages[k].kind == Stage::Kind::rub ? "rub" : "bag") +
                         (q.stages[k].premix > 0 ? ", besides the premix" : ""));
}

/// A brine without an end made a schedule: in it until cured and salted, then `after`.
std::optional<Variant> then(const Question& q, const std::optional<Stage>& after,
                            const std::string& what, const base::Records& library) {
    base::Records records = as_set(q.base, library);
    Variant v{"", q, {}, {}, "plan"};
    v.question.base.at.reset();
    Stage& cover = v.question.stages.front();
    const double salt = read(cure::percent(materials::taste_band(records).low),
                             base::Dimension::fraction); // as the line will say it
    cover.until = cure::Until{cure::Until::What::cured, salt};
    if (after)
        v.question.stages.push_back(*after);
    int number = 0;
    for (Stage& s : v.question.stages)
        s.where = "--stage " + std::to_string(++number);
    return staged(v, what);
}

} // namespace

std::optional<Variant> kept_to(const Variant& v, std::size_t stage, double length) {
    Variant kept = v;
    kept.question.stages[stage].duration = length;
    kept.question.stages[stage].until.reset();
    std::erase_if(kept.flags, [](const ChangedFlag& f) { return f.name == "stage"; });
    return staged(kept, v.what);
}

std::optional<Variant> turned(const Question& q) {
    const bool own = q.base.piece.lies() ||
                     std::ranges::any_of(q.others, &cure::Piece::lies, &cure::OtherPiece::piece),
               staged_so =
                   std::ranges::any_of(q.stages, [](const Stage&s) { return !s.sealed.empty(); });
    if ((!own && !staged_so) || q.base.rind) // a rind stays where it is
        return {};
    const std::string what = q.others.empty()
                                 ? "no face shut: hung free, or turned over every day"
                                 : "no face shut: all hung free, or turned over every day";
    Variant v{what, q, {}, {}};
    if (own)
        v.flags = {{"seal", "none"}};
    v.question.base.piece.hang_free();
    for (cure::OtherPiece& other : v.question.others)
        other.piece.hang_free();
    for (Stage& s : v.question.stages)
        s.sealed.clear();
    return staged_so ? staged(v, what) : v;
}

std::optional<Variant> with_salt(const Question& q, const cure::Pickle& now, int step) {
    const std::size_t k = last_dosing(q);
    if (q.stages[k].dry())
        return with_dose(q, k, step);
    if (!in_base_brine(q))
        return {};
    constexpr double quarter = 0.0025;
    const double salt = stepped(now.salt, quarter, step);
    if (salt < quarter)
        return {};
    const auto brine = cure::remade(q.base.brine, now, salt);
    if (!brine)
        return {};
    Variant v{brine->what, q, {}, {brine->salt, 1, brine->water}};
    for (const auto& [name, text] : brine->flags)
        v.flags.push_back({name, text});
    v.question.base.brine = brine->brine;
    if (v.brine.salt < least_salt || v.brine.salt > most_salt)
        return {};
    return v;
}

std::optional<Variant> with_most_nitrite(const Question& q, const cure::Pickle& now,
                                         const cure::Ingoing& ingoing) {
    constexpr double margin = 1.04; // what was weighed may be 3 % more (models/uncertainty.ini)
    if (!ingoing.whole_system || !ingoing.limit || !(now.nitrite > 0) || !in_base_brine(q))
        return {};
    const double factor = *ingoing.limit / margin / *ingoing.whole_system;
    Variant v{"", q, {}, {}};
    Brine& b = v.question.base.brine;
    if (b.water) {
        if (!b.premix)
            return {};
        const double premix = rounded(*b.premix * factor, 1e-3, base::Rounding::down);
        v.brine.nitrite = premix / *b.premix;
        v.what = base::on_scales(premix) + " of premix in place of " + base::on_scales(*b.premix);
        v.flags = {{"premix", base::on_scales(premix)}};
        b.premix = read(v.flags[0].text, base::Dimension::mass);
    } else {
        const double nitrite = rounded(now.nitrite * factor, 5e-6, base::Rounding::down);
        v.brine.nitrite = nitrite / now.nitrite;
        v.what = cure::ppm(nitrite) + " nitrite in the brine";
        v.flags = {{"brine-nitrite", significant(1e6 * nitrite, 4) + " ppm"}};
        b.nitrite = read(v.flags[0].text, base::Dimension::fraction);
    }
    constexpr double least = 1.05; // less is no change
    if (v.brine.nitrite < least || v.brine.nitrite > most_nitrite)
        return {};
    return v;
}

std::optional<Variant> both(const Question& q, const cure::Pickle& now,
                            const cure::Ingoing& ingoing, int step) {
    const auto nitrite = with_most_nitrite(q, now, ingoing);
    if (!nitrite)
        return {};
    auto v = with_salt(nitrite->question, now, step);
    if (!v)
        return {};
    v->what += " and " + nitrite->what;
    v->flags.insert(v->flags.end(), nitrite->flags.begin(), nitrite->flags.end());
    v->brine.nitrite *= nitrite->brine.nitrite;
    return v;
}

std::optional<Variant> with_brine(const Question& q, const cure::Pickle& now, int step) {
    if (!std::isfinite(now.mass) || !in_base_brine(q))
        return {};
    const double factor = step > 0 ? 1 + 0.5 * step : 1 - 0.25 * -step;
    if (factor < least_brine || factor > most_brine)
        return {};
    Variant v{"", q, {}, {}};
    Brine& b = v.question.base.brine;
    v.brine.water = factor;
    if (b.mass || b.volume) {
        auto& all = b.volume ? b.volume : b.mass;
        const double unit = b.volume ? 1e-3 : 1; // [m3 per L], [kg]
        const double amount = rounded(*all * factor / unit, 0.1, base::Rounding::nearest) * unit;
        v.brine.water = amount / *all;
        const std::string text = significant(amount / unit, 4) + (b.volume ? " L" : " kg");
        all = read(text, b.volume ? base::Dimension::volume : base::Dimension::mass);
        v.what = text + " of the same brine";
        v.flags = {{"brine", text}};
        return v;
    }
    const std::pair<const char*, std::optional<double> Brine::*> parts[] = {
        {"water", &Brine::water},
        {"ice", &Brine::ice},
        {"cold-water", &Brine::cold_water},
        {"salt", &Brine::salt_added},
        {"sugar", &Brine::sugar},
        {"premix", &Brine::premix},
        {"erythorbate", &Brine::erythorbate}};
    for (const auto& [flag, part] : parts)
        if (b.*part) {
            v.flags.push_back({flag, base::on_scales(rounded(*(b.*part) * factor, 1e-3,
                                                             base::Rounding::nearest))});
            b.*part = read(v.flags.back().text, base::Dimension::mass);
        }
    v.what = significant(factor, 3) + " times as much of the same brine";
    return v;
}

namespace {

constexpr double usual_share = 0.10; // common practice, no source

/// With `brine` put in by needles, as the flags will say it.
Variant with_needles(Variant v, const Brine& brine) {
    const std::string salt = significant(100 * brine.salt.value_or(0), 3) + " %",
                      nitrite = significant(1e6 * rounded(brine.nitrite.value_or(0), 5e-6,
                                                          base::Rounding::down),
                                            4) +
                                " ppm";
    cure::Pump pump{usual_share, geometry::usual_needles(), brine};
    pump.brine->where = "--pump-salt";
    pump.brine->salt = read(salt, base::Dimension::fraction);
    pump.brine->nitrite = read(nitrite, base::Dimension::fraction);
    v.question.pump = pump;
    v.flags.insert(
        v.flags.end(),
        {{"pump", cure::percent(usual_share)}, {"pump-salt", salt}, {"pump-nitrite", nitrite}});
    return v;
}

} // namespace

std::optional<Variant> pumped(const Question& q, const cure::Pickle& now,
                              const base::Records& library) {
    if (!scales(q) || !q.others.empty())
        return {};
    base::Records records = as_set(q.base, library);
    const auto v =
        then(q, {}, cure::percent(usual_share) + " of it put in by needles first", library);
    return v ? std::optional(
                   with_needles(*v, cure::pumped_beside(q.base, now, usual_share, records)))
             : std::nullopt;
}

std::optional<Variant> pumped_alone(const Question& q, const base::Records& library) {
    if (!scales(q) || !q.others.empty())
        return {};
    base::Records records = as_set(q.base, library);
    const Brine brine = cure::pumped_alone(q.base, usual_share, records);
    Question alone = q;
    alone.stages.front().kind = Stage::Kind::rest;
    const auto v = then(alone, {},
                        "needles in place of the brine: " + cure::percent(usual_share) + " of a " +
                            cure::percent(brine.salt.value_or(0)) + " brine",
                        library);
    return v ? std::optional(with_needles(*v, brine)) : std::nullopt;
}

std::optional<Variant> soaked(const Question& q, double meat, const base::Records& records) {
    if (!scales(q) || !q.others.empty() || !(meat > 0))
        return {};
    Stage soak;
    soak.kind = Stage::Kind::soak;
    soak.duration = 12 * 3600.0;
    soak.water = rounded(2 * meat, 0.5, base::Rounding::up); // [kg], common practice, no source
    return then(q, soak, "12 h in " + base::on_scales(soak.water) + " of fresh water after it",
                records);
}

std::optional<Variant> rested(const Question& q, const base::Records& records) {
    if (!scales(q) || !q.others.empty())
        return {};
    Stage rest;
    rest.kind = Stage::Kind::rest;
    rest.duration = 7 * 86400.0;
    return then(q, rest, "7 days of rest after it", records);
}

std::optional<Variant> thinner(const Question& q, int step) {
    const cure::Piece& piece = q.base.piece;
    const double now = piece.dimensions.thickness;
    if (piece.shape == "outline" || !(now > 0) || step >= 5 || !q.others.empty())
        return {};
    constexpr double mm = 1e-3;
    const double thickness = rounded(now * (1 - step / 6.0), 5 * mm, base::Rounding::nearest);
    if (!(thickness < now) || !(thickness > 0))
        return {};
    Variant v{"a piece cut " + significant(thickness / mm, 3) + " mm thick", q, {}, {}};
    v.flags = {{"thickness", significant(thickness / mm, 4) + " mm"}};
    v.question.base.piece.dimensions.thickness = read(v.flags[0].text, base::Dimension::length);
    if (piece.weight > 0) {
        v.flags.push_back({"weight", base::on_scales(rounded(piece.weight * thickness / now, 1e-2,
                                                             base::Rounding::nearest))});
        v.question.base.piece.weight = read(v.flags[1].text, base::Dimension::mass);
    }
    return v;
}

} // namespace tidemark::inference
