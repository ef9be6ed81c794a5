// SPDX-License-Identifier: MIT
#include "cure/choose_brines.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "cure/coefficients.hpp"
#include "cure/ingoing.hpp"
#include "cure/make_brine.hpp"
#include "cure/weigh.hpp"
#include "judge/judge.hpp"
#include "materials/brine.hpp"
#include "materials/limits.hpp"
#include "materials/solutes.hpp"
#include "materials/targets.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::cure {

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

double with_nitrate(const ChooseQuestion& q, double nitrite) {
    return nitrite * q.base.brine.premix_nitrate / q.base.brine.premix_strength;
}

double carried(const ChooseQuestion& q, double nitrite, double salt) {
    const Brine& b = q.base.brine;
    return std::min(nitrite, salt * b.premix_strength / (1 - b.premix_strength - b.premix_nitrate));
}

namespace {

/// As a line to type tells it; nitrite is cut off, so that the line keeps to the law, too.
double three_digits(double value, base::Rounding rounding) {
    if (!(value > 0))
        return value;
    return base::rounded(value, std::pow(10, std::floor(std::log10(value)) - 2), rounding);
}

} // namespace

double usual_salt(const Case& question, const base::Records& library) {
    base::Records records = library;
    make_piece(question, records); // and with it the case's own numbers
    const materials::Band taste = materials::taste_band(records);
    constexpr double share = 3.0 / 7; // 2.1 of 1.8 to 2.5 %
    return taste.low + share * (taste.high - taste.low);
}

Brine balancing(const ChooseQuestion& q, base::Records& records, const Setup& piece) {
    const double meat = piece.weight > 0 ? piece.weight * q.base.piece.pieces : 0;
    if (!(meat > 0))
        throw base::InputError("--weight", "", "is needed to make up the brine",
                               "add --weight \"2.5 kg\", or give the brine with --brine-salt");
    const Tissue& lean = piece.tissues.at("lean");
    const Balance balance{meat, lean.water_fraction, materials::partition(records, "salt")};
    const auto salt_with = [&](double water) { return salt_for_balance(q.salt, water, balance); };
    double water = meat; // of the brine, unless an amount was asked for
    const Brine& asked = q.base.brine;
    const double none = salt_with(0), each = salt_with(1) - none; // of salt, on one of water
    const auto water_of = [&](double mass) { return (mass - none) / (1 + each); };
    if (asked.mass) {
        water = water_of(*asked.mass);
    } else if (asked.volume) {
        double density = 1000; // [kg/m3], found in a few steps
        for (int step = 0; step < 5; ++step) {
            water = water_of(*asked.volume * density);
            density = materials::brine_density(
                records, salt_with(water) / (*asked.volume * density), q.base.temperature);
        }
    }
    const double salt = salt_with(water);
    if (!(water > 0))
        throw base::InputError("--brine", "", "is less than the salt alone weighs",
                               "give more brine, or leave it out");
    Brine b = q.base.brine; // its premix
    b.mass = three_digits(water + salt, base::Rounding::nearest);
    b.volume.reset();
    b.salt = three_digits(salt / (water + salt), base::Rounding::nearest);
    b.nitrite = three_digits(
        carried(q, nitrite_for_whole(aim(q, "immersion", records), meat, *b.mass) / *b.mass,
                *b.salt),
        base::Rounding::down);
    b.nitrate = with_nitrate(q, *b.nitrite);
    return b;
}

double pumped_share(const Setup& piece) {
    return lean_mass(piece) / piece.unit_mass;
}

double salted_share(const Setup& piece) {
    double lean = lean_mass(piece);
    if (const double fat = fat_mass(piece); fat > 0)
        lean +=
            fat * piece.tissues.at("fat").water_fraction / piece.tissues.at("lean").water_fraction;
    return lean / piece.unit_mass;
}

double most_in_needles(const Case& q, base::Records& records) {
    return 0.95 * materials::solubility(records, q.temperature);
}

Brine pump_brine(const ChooseQuestion& q, double share, double most, base::Records& records) {
    Brine b;
    b.premix_strength = q.base.brine.premix_strength;
    b.premix_nitrate = q.base.brine.premix_nitrate;
    b.salt = std::min(needle_salt(q.salt, share / pumped_share(make_piece(q.base, records))), most);
    b.nitrite =
        three_digits(carried(q, aim(q, "pumped", records) / share, *b.salt), base::Rounding::down);
    b.nitrate = with_nitrate(q, *b.nitrite);
    return b;
}

Brine pumped_alone(const Case& question, double share, base::Records& records) {
    ChooseQuestion q;
    q.base = question;
    q.salt = usual_salt(question, records);
    return pump_brine(q, share, most_in_needles(question, records), records);
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

} // namespace tidemark::cure
