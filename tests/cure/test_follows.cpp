// SPDX-License-Identifier: MIT
/// Physics that can be turned on and off: a diffusivity that follows the salt, ascorbate that must
/// come before it acts, nitrite lost in the brine, weight lost in a dry cure. Invented cases.
#include "cure/plans.hpp"

#include <catch2/catch.hpp>

#include <cmath>

namespace test_follows {

using namespace tidemark;
using namespace tidemark::plans;

namespace {

cure::Case round(bool ascorbate) {
    cure::Case c;
    c.piece.muscle = "beef-round";
    c.piece.shape = "round";
    c.piece.dimensions.thickness = 0.065;
    c.piece.weight = 1.2;
    c.piece.shut_ends = 2;
    c.brine.mass = 2.5;
    c.brine.salt = 0.045;
    c.brine.nitrite = 250e-6;
    c.brine.ascorbate = ascorbate;
    return c;
}

double cured(cure::Case c, const std::vector<std::pair<std::string, std::string>>& numbers) {
    for (const auto& [key, text] : numbers)
        c.overrides.push_back({key, text, "--set"});
    const cure::Outcome p = cure::run(cure::in_brine(c), fixed_records());
    CHECK(p.mass_balance_error < 1e-7);
    return *p.first().cured / day;
}

} // namespace

TEST_CASE("a diffusivity that rises with the salt cures sooner, one that falls later", "[cure]") {
    const double plain = cured(round(false), {}),
                 rising = cured(round(false), {{"diffusion.salt-slope", "1"}}),
                 falling = cured(round(false), {{"diffusion.salt-slope", "-1.5"}});
    CHECK(rising < plain);
    CHECK(falling > plain);
    // No more than the slope itself allows for at the wall: 0.95 x 0.047 kg salt per kg water.
    const double wall = 0.95 * 0.045 / (1 - 0.045);
    CHECK(rising > plain / (1 + wall));
    CHECK(falling < plain / (1 - 1.5 * wall));
}

TEST_CASE("ascorbate that must come first lets nitrite in between without and with it", "[cure]") {
    const std::pair<std::string, std::string> still{"kinetics.brine-loss-ascorbate", "0 1/d"},
        waits{"kinetics.ascorbate-spread", "1"};
    const double without = cured(round(false), {}), at_once = cured(round(true), {still}),
                 spreads = cured(round(true), {still, waits});
    CHECK(spreads > without);
    CHECK(spreads < at_once);
    CHECK(cured(round(false), {waits}) == Approx(without).epsilon(1e-9)); // nothing to wait for
}

TEST_CASE("nitrite lost in the brine keeps the core waiting; told so of the brine", "[cure]") {
    cure::Case c = round(true);
    c.at = 5 * day;
    const cure::Outcome on = cure::run(cure::in_brine(c), fixed_records());
    c.overrides.push_back({"kinetics.brine-loss-ascorbate", "0 1/d", "--brine-loss"});
    const cure::Outcome off = cure::run(cure::in_brine(c), fixed_records());
    CHECK(*on.first().cured > 1.1 * *off.first().cured);
    CHECK(on.first().core.salt == Approx(off.first().core.salt).epsilon(1e-9));
    // 0.204 1/d at 1 C, by 38 kJ/mol at 4 C: over 5 days; what the meat takes is less of the weaker
    // brine, so a little more is left than the factor tells.
    const double rate = 0.204 * std::exp(38e3 / 8.314463 * (1 / 274.15 - 1 / 277.15));
    const double left =
        on.first().stages.back().bath_end.nitrite / off.first().stages.back().bath_end.nitrite;
    CHECK(left > std::exp(-5 * rate));
    CHECK(left < 1.3 * std::exp(-5 * rate));
}

TEST_CASE("a brine that is taken up again has lost what it lost", "[cure]") {
    // The same 6 days in one brine or in two stages of it; held brine and a share of it.
    for (const bool held : {true, false}) {
        const auto told = [&](std::vector<Stage> stages) {
            Question p = loin(std::move(stages));
            p.base.brine.ascorbate = true;
            if (held)
                p.base.brine.mass.reset();
            return run(p).first().core;
        };
        const auto one = told({stage(Kind::cover, 6 * day)}),
                   two = told({stage(Kind::cover, 2 * day), stage(Kind::cover, 4 * day)});
        CAPTURE(held);
        CHECK(two.arrived == Approx(one.arrived).epsilon(2e-4)); // of the time integration
        CHECK(two.residual == Approx(one.residual).epsilon(2e-4));
    }
}

TEST_CASE("salt of a dry cure is told per kilogram of the meat as it then lies", "[cure]") {
    // All of 30 g/kg taken up but for the drip: 3 % of the raw weight, saturated at 26.3 % or so.
    // Cured weight over raw: 1 + salt - what drips off as water.
    Stage rub = dry(Kind::rub, 2 * day, 0.03);
    rub.purge = 0.03;
    const auto mean = [](const Stage& stage_of_rub) {
        const Outcome r = run(loin({stage_of_rub, stage(Kind::rest, 60 * day)}));
        return r.first().stages.back().end.mean_salt;
    };
    const double dripped = mean(rub);
    rub.purge = 0.0;
    const double whole = mean(rub);
    CHECK(whole == Approx(0.03 / 1.03).epsilon(2e-3));
    const double saturated = 0.263; // [kg per kg], two digits suffice
    const double taken = 0.03 - 0.03 * saturated;
    CHECK(dripped == Approx(taken / (1 + taken - 0.03 * (1 - saturated))).epsilon(5e-3));
}

} // namespace test_follows
