// SPDX-License-Identifier: MIT
/// Dry cures whose dose is thinner than the cells, or meets meat that is salted already.
#include "cure/plans.hpp"

#include <catch2/catch.hpp>

#include <cmath>

namespace test_rubs {

using namespace tidemark;
using namespace tidemark::plans;

namespace {

/// 65 x 120 mm of pork loin, 1.5 kg, at 4 C.
Question block(std::vector<Stage> stages) {
    Question p;
    p.base.piece.shape = "block";
    p.base.piece.dimensions.thickness = 0.065;
    p.base.piece.dimensions.width = 0.12;
    p.base.piece.weight = 1.5;
    p.base.piece.shut_ends = 2; // the references are of the section alone
    p.base.temperature = 277.15;
    p.stages = std::move(stages);
    return p;
}

/// A 60 mm sheet after 7 days in 6 % salt and 150 ppm, or pumped, then this.
Question cured_sheet(Stage last) {
    Question p = loin({stage(Kind::cover, 7 * day), std::move(last)});
    p.base.piece.dimensions.thickness = 0.06;
    p.base.brine.mass.reset();
    return p;
}

} // namespace

TEST_CASE("a light rub lies on the faces by their length, whatever the cells", "[verification]") {
    // Reference: the same schedules with 128 cells across, where the film can be followed as it
    // goes in: cured [d], arrived in the core after 10 d [ppm]. Of the 24 of every day allowed is
    // what they state, and 5e-4 of the day besides (it was off by 4 to 5 % and stated 0.5 %).
    struct Known {
        double salt, cured, core;
    };
    for (const Known& k : {Known{0.020, 3.15716, 28.1705}, Known{0.026, 3.04396, 32.5489},
                           Known{0.032, 2.99831, 35.3459}}) {
        CAPTURE(k.salt);
        const auto r = run(block({dry(Kind::rub, 10 * day, k.salt, 156.25e-6)}));
        REQUIRE(r.first().cured);
        REQUIRE(r.first().cured_error);
        CHECK(std::abs(*r.first().cured / day - k.cured) < *r.first().cured_error / day);
        CHECK(*r.first().cured / day == Approx(k.cured).epsilon(5e-4));
        CHECK(1e6 * r.first().stages[0].end.core_arrived == Approx(k.core).epsilon(5e-4));
        CHECK(r.mass_balance_error < 1e-10);
        const double taken = r.first().stages[0].salt_taken + r.first().stages[0].salt_left;
        CHECK(taken == Approx(k.salt * 1.5).epsilon(1e-9));
    }
}

TEST_CASE("a rub draws no nitrite out of meat, and gives it all it has", "[verification]") {
    // The equations are linear: what a dose adds does not depend on what is there.
    const auto without = run(cured_sheet(dry(Kind::rub, 7 * day, 0.02)));
    const double purge_part = [&] { // of the dose that drips, the same of salt and of nitrite
        const auto& s = without.first().stages[1];
        return s.salt_left / (s.salt_left + s.salt_taken);
    }();
    for (const double dose : {1e-6, 20e-6, 100e-6}) {
        CAPTURE(dose);
        const auto with = run(cured_sheet(dry(Kind::rub, 7 * day, 0.02, dose)));
        const auto &a = without.first().stages[1], &b = with.first().stages[1];
        CHECK(b.nitrite_taken - a.nitrite_taken == Approx(dose * (1 - purge_part)).epsilon(1e-6));
        CHECK(b.end.mean_residual > a.end.mean_residual);
        CHECK(b.end.core_residual > a.end.core_residual);
        CHECK(b.end.mean_arrived - a.end.mean_arrived ==
              Approx(dose * (1 - purge_part)).epsilon(1e-6));
        CHECK(with.mass_balance_error < 1e-10);
        CHECK(std::abs(a.nitrite_taken) < 1e-15);
    }
}

TEST_CASE("needles and a rub both give their whole nitrite", "[verification]") {
    Question p = loin({dry(Kind::rub, 7 * day, 0.02, 20e-6)}, "block");
    p.base.piece.dimensions.width = 0.1;
    p.base.cells = 12;
    p.pump = needles(0.1, 0.2, 1000e-6);
    const auto r = run(p);
    const double drip = r.first().stages[0].salt_left / (0.02 * r.first().weight);
    CHECK(r.first().stages[0].nitrite_taken ==
          Approx(20e-6 * (1 - drip) * r.first().weight).epsilon(1e-6));
    CHECK(r.mass_balance_error < 1e-10);
}

TEST_CASE("a dry cure in three rubs drips what it drips in one", "[verification]") {
    // The usual purge is of the whole cure: the same salt in one rub or three leaves the same in
    // the meat, once it is all in.
    const auto one = run(loin({dry(Kind::rub, 20 * day, 0.03)}));
    const auto three = run(loin({dry(Kind::rub, 5 * day, 0.015), dry(Kind::rub, 5 * day, 0.01),
                                 dry(Kind::rub, 10 * day, 0.005)}));
    double left = 0;
    for (const auto& s : three.first().stages)
        left += s.salt_left;
    CHECK(left == Approx(one.first().stages[0].salt_left).epsilon(1e-9));
    CHECK(three.first().stages[2].end.mean_salt ==
          Approx(one.first().stages[0].end.mean_salt).epsilon(1e-9));
}

} // namespace test_rubs
