// SPDX-License-Identifier: MIT
/// A prediction and a picture filled in by hand; the numbers are invented and mean nothing.
#pragma once

#include "common.hpp"
#include "cure/picture.hpp"
#include "inference/answer.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace tidemark::output {

using test::day;

inline cure::Outcome sample_prediction() {
    cure::Outcome p;
    p.question = cure::in_brine({});
    p.pieces.resize(1);
    p.first().stages.resize(1);
    p.first().stages.front().stage = p.question.stages.front();
    p.question.base.piece.muscle = "pork-loin";
    p.question.base.piece.shape = "block";
    p.question.base.piece.dimensions.thickness = 0.0625;
    p.title = "Invented block of pork loin";
    p.has_nitrite = true;
    p.first().target = 6e-6;
    p.first().stable_target = 25e-6;
    p.first().cured = 9.34 * day;
    p.first().lasting = 11.02 * day;
    p.first().last_good = 14.28 * day;
    p.first().last_good_reason = "the mean salt passes 2.5 %";
    p.at = *p.first().cured;
    p.first().core = {0.001, -0.002, 0.0305, 0.0125, 0.0166, 6e-6, 4e-6, 0.5};
    p.first().mean.salt = 0.02;
    p.first().mean.arrived = 80e-6;
    p.first().stages.front().bath_start = {0.06, 150e-6, 6.0};
    p.first().stages.back().bath_end = {0.048, 98e-6, 5.9};
    p.ingoing = {121e-6, 200e-6, "us, cured", "over meat and brine", {}};
    p.first().thiele = 1.25;
    p.mass_balance_error = 3e-13;
    p.first().cured_error = 0.02 * day;
    base::Record record;
    record.key = "muscle.pork-loin.diffusivity";
    record.value = 2.2e-10;
    record.unit = "m2/s";
    record.spread = "gsd 1.5";
    record.source = "tidemark";
    record.mark = 'J';
    p.parameters = {record};
    p.findings.warn("invented", "an invented warning");
    p.findings.caution("an invented caution");
    return p;
}

inline inference::Ranges sample_ranges() {
    inference::Ranges r;
    r.draws = 100;
    r.pull = {6.31 * day, 9.44 * day, 12.02 * day, 0.01};
    r.lasting = {7.98 * day, 11.47 * day, inference::never, 0.26};
    r.salted = {3 * day, 5 * day, 9 * day, 0};
    r.last_good = {10.08 * day, 14.28 * day, inference::never, 0.06};
    r.best.best = inference::DayChance{12 * day, 0.96, 0.95, 0.93, 0.04, 0.02, 0.01};
    r.best.window = {11 * day, 13 * day};
    r.best.error = 0.025;
    r.best.by_day = {{8 * day, 0.5, 0.9, 0.45, 0.5, 0, 0.05}, *r.best.best};
    r.shares = {{"speed", "invented speed", "cut an invented slice", "", 0.55, 0.62},
                {"partition", "invented partition", "", "", 0.08, 0.09},
                {"small", "too small to show", "", "", 0.01, 0.01}};
    r.error = 0.002;
    r.brine_salt_low = 0.05;
    r.ingoing_high = 140e-6;
    r.findings.warn("invented-of-range", "an invented warning of the range");
    return r;
}

/// The two put together, as a command has them.
inline inference::Answer sample_answer(const cure::Outcome& outcome,
                                       const std::optional<inference::Ranges>& ranges = {},
                                       const inference::Changes& changes = {}) {
    inference::Answer a;
    a.outcome = outcome;
    a.ranges = ranges;
    a.changes = changes;
    if (ranges)
        a.outcome.findings.supersede(ranges->findings);
    return a;
}

/// 12 x 8 cells of 5 mm: fat in the top two rows, a bone of 2 x 2 cells, lean that grows poorer in
/// nitrite inwards (80, 10, 4 and 1 ppm in rings).
inline cure::Picture sample_picture() {
    cure::Picture p;
    p.nx = 12;
    p.ny = 8;
    p.step = 5e-3;
    p.x0 = -27.5e-3;
    p.y0 = -17.5e-3;
    p.time = 9.34 * day;
    p.core = {2.5e-3, -2.5e-3};
    p.section.outline = {{-0.03, -0.02}, {0.03, -0.02}, {0.03, 0.02}, {-0.03, 0.02}};
    p.section.regions = {
        {"fat cap", "fat", {{-0.03, 0.01}, {0.03, 0.01}, {0.03, 0.02}, {-0.03, 0.02}}},
        {"rib", "bone", {{-0.02, -0.01}, {-0.01, -0.01}, {-0.01, 0}, {-0.02, 0}}}};
    p.section.thickness = 0.04;
    p.section.width = 0.06;
    constexpr double rings[] = {80e-6, 10e-6, 4e-6, 1e-6, 1e-6, 1e-6};
    for (int j = 0; j < p.ny; ++j) {
        for (int i = 0; i < p.nx; ++i) {
            const bool fat = j >= 6, bone = i >= 2 && i < 4 && j >= 2 && j < 4;
            p.kind.push_back(fat ? 'f' : bone ? 'b' : 'l');
            const double ring = rings[std::min({i, p.nx - 1 - i, j, 7 - j})];
            p.arrived.push_back(bone ? std::numeric_limits<double>::quiet_NaN() : ring);
            p.salt.push_back(bone ? std::numeric_limits<double>::quiet_NaN() : 0.02);
        }
    }
    const auto box = [](double a, double b) {
        return std::vector<geometry::Point>{{-a, -b}, {a, -b}, {a, b}, {-a, b}, {-a, -b}};
    };
    p.uncured = {{{-0.02, -0.01}, {0.02, -0.01}, {0.02, 0.01}, {-0.02, 0.01}}};
    p.unlasting = {{{-0.025, -0.015}, {0.025, -0.015}, {0.025, 0.015}, {-0.025, 0.015}}};
    p.fronts = {{2 * day, {box(0.025, 0.015)}}, {9.34 * day, {box(0.02, 0.01)}}};
    return p;
}

} // namespace tidemark::output
