// SPDX-License-Identifier: MIT
/// Schedules for the tests of plans, all invented.
#pragma once

#include "common.hpp"
#include "cure/outcome.hpp"
#include "cure/setup.hpp"
#include "materials/brine.hpp"

#include <string>
#include <utility>
#include <vector>

namespace tidemark::plans {

using cure::Outcome;
using cure::Question;
using cure::Stage;
using cure::Until;
using test::day;
using test::fixed_records;
using test::hour;
using Kind = Stage::Kind;

inline Outcome run(const Question& plan) {
    return cure::run(plan, fixed_records());
}

inline Stage stage(Kind kind, double seconds) {
    Stage s;
    s.kind = kind;
    s.where = "test";
    s.duration = seconds;
    return s;
}

inline Stage wait(Kind kind, Until until, double most = 120 * day) {
    Stage s;
    s.kind = kind;
    s.where = "test";
    s.until = until;
    s.most = most;
    return s;
}

inline Stage dry(Kind kind, double seconds, double salt, double nitrite = 0) {
    Stage s = stage(kind, seconds);
    s.salt = salt;
    s.nitrite = nitrite;
    return s;
}

inline Stage soak(double seconds, double water, int changes = 0) {
    Stage s = stage(Kind::soak, seconds);
    s.water = water;
    s.changes = changes;
    return s;
}

/// 40 mm of pork loin, 1 kg, in 3 kg of a brine of 6 % salt and 150 ppm nitrite at 4 C.
inline Question loin(std::vector<Stage> stages, const std::string& shape = "sheet") {
    Question p;
    p.base.piece.shape = shape;
    p.base.piece.dimensions.thickness = 0.04;
    p.base.piece.weight = 1;
    p.base.brine.salt = 0.06;
    p.base.brine.nitrite = 150e-6;
    p.base.brine.mass = 3;
    p.stages = std::move(stages);
    return p;
}

inline void set(Question& p, const std::string& key, const std::string& text) {
    p.base.overrides.push_back({key, text, "--set"});
}

inline cure::Pump needles(double share, double salt, double nitrite) {
    cure::Pump pump{share, {.spacing = 0.02, .deposit = 0.008}, cure::Brine{}};
    pump.brine->salt = salt;
    pump.brine->nitrite = nitrite;
    return pump;
}

/// Salt in the raw meat [kg per kg raw, unpumped] at a share of the cured, which has lost so much
/// water [kg per kg raw].
inline double per_raw(double share, double lost = 0) {
    return share / (1 - share) * (1 - lost);
}

/// Water that drips off in the dry stages of a schedule [kg per kg raw]: of each its purge, else
/// its part of the usual 3 %, less the salt that saturates it.
inline double dripped_water(const Question& p) {
    base::Records r = fixed_records();
    double salt = 0, lost = 0;
    for (const Stage& s : p.stages)
        salt += s.purge ? 0 : s.salt;
    for (const Stage& s : p.stages)
        if (s.salt > 0)
            lost += s.purge.value_or(0.03 * s.salt / salt) *
                    (1 - materials::solubility(r, s.temperature.value_or(p.base.temperature)));
    return lost;
}

inline double water_fraction(const Question& p) {
    base::Records r = fixed_records();
    return cure::make_setup(p.base, r).tissues.at("lean").water_fraction;
}

} // namespace tidemark::plans
