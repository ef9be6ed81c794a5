// SPDX-License-Identifier: MIT
/// Schedules: what must hold whatever the stages are, and what can be worked out by hand.
#include "plans.hpp"

#include "base/error.hpp"
#include "materials/brine.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numeric>
#include <random>
#include <vector>

namespace test_plan {

using namespace tidemark;
using namespace tidemark::plans;

namespace {

/// A schedule of `seed`: one to five stages of any kind.
Question random_plan(unsigned seed) {
    std::mt19937 random(seed);
    const auto among = [&](double a, double b) {
        return std::uniform_real_distribution(a, b)(random);
    };
    const auto flip = [&] { return std::bernoulli_distribution(0.5)(random); };
    const bool section = seed % 4 == 3;
    Question p = loin({}, section ? "block" : flip() ? "sheet" : "round");
    p.base.piece.dimensions.thickness = among(0.03, 0.08);
    if (section)
        p.base.piece.dimensions.width = 1.4 * p.base.piece.dimensions.thickness;
    p.base.piece.pieces = flip() ? 2 : 1;
    p.base.cells = 12;
    if (flip())
        set(p, "loss", "none");
    if (flip())
        p.base.brine.mass.reset(); // held
    if (seed % 3 == 0)
        p.pump = needles(among(0.05, 0.15), among(0.05, 0.2), 500e-6);
    const int count = 1 + static_cast<int>(among(0, 5));
    for (int k = 0; k < count; ++k) {
        const int kind = static_cast<int>(among(0, 5));
        Stage s = stage(static_cast<Kind>(kind), among(0.5, 6) * day);
        if (s.kind == Kind::cover)
            s.fresh = flip();
        if (s.kind == Kind::rub || s.kind == Kind::bag) {
            s.salt = among(0.003, 0.05);
            s.nitrite = flip() ? 120e-6 : 0;
            if (flip())
                s.purge = among(0, 0.05);
        }
        if (s.kind == Kind::soak) {
            s.duration = among(1, 8) * hour;
            s.water = flip() ? among(1, 8) : 0;
            s.changes = static_cast<int>(among(0, 4));
        }
        if (section && s.kind != Kind::rest && flip())
            s.sealed = {flip() ? "top" : "left"};
        if (flip())
            s.temperature = 273.15 + among(0, 8);
        p.stages.push_back(s);
    }
    return p;
}

} // namespace

TEST_CASE("whatever the stages, salt and nitrite are accounted for", "[cure]") {
    std::vector<unsigned> seeds(40);
    std::iota(seeds.begin(), seeds.end(), 1);
    seeds.push_back(153); // needs all the vectors there may be, and the constant besides
    for (const unsigned seed : seeds) {
        const Question p = random_plan(seed);
        const Outcome r = run(p);
        CAPTURE(seed, p.stages.size());
        CHECK(r.mass_balance_error < 1e-10);
        // What the piece holds at the end is what it took, on the same fine cells but for the
        // extrapolation of the mean: the coarse cells' share is in salt_error.
        double taken = 0;
        for (const auto& s : r.first().stages) {
            taken += s.salt_taken;
            CHECK(s.salt_left > -1e-12);
            if (s.stage.kind == Kind::rub || s.stage.kind == Kind::bag)
                CHECK(s.salt_taken + s.salt_left == Approx(s.stage.salt * p.base.piece.weight));
            if (s.stage.kind == Kind::soak)
                CHECK(s.salt_taken + s.salt_left == Approx(0).margin(1e-12));
            if (s.stage.kind == Kind::rest)
                CHECK(std::abs(s.salt_taken) < 1e-12);
            if (s.stage.kind == Kind::cover && p.base.brine.mass) // two pieces share what there is
                CHECK(s.bath_start.mass * s.bath_start.salt / p.base.piece.pieces ==
                      Approx(s.salt_taken + s.salt_left));
        }
        if (!p.pump)
            CHECK(per_raw(r.first().stages.back().end.mean_salt, dripped_water(p)) ==
                  Approx(taken).margin(4 * r.first().salt_error + 1e-9));
    }
}

TEST_CASE("one stage of brine is what day says", "[cure]") {
    for (const std::string shape : {"sheet", "round", "loin"}) {
        Question p = loin({stage(Kind::cover, 8 * day)}, shape);
        p.base.piece.dimensions.thickness = 0.05;
        const Outcome r = run(p);
        cure::Case c = p.base;
        const auto day_of = cure::run(cure::in_brine(c), fixed_records());
        c.at = 8 * day;
        const auto at = cure::run(cure::in_brine(c), fixed_records());
        CAPTURE(shape);
        REQUIRE(r.first().cured);
        REQUIRE(day_of.first().cured);
        CHECK(std::abs(*r.first().cured - *day_of.first().cured) <=
              *r.first().cured_error + *day_of.first().cured_error);
        REQUIRE(r.first().lasting.has_value() ==
                (day_of.first().lasting && *day_of.first().lasting <= 8 * day));
        CHECK(r.first().last_good.value() ==
              Approx(day_of.first().last_good.value()).epsilon(1e-3));
        const auto& end = r.first().stages[0].end;
        CHECK(end.mean_salt == Approx(at.first().mean.salt).epsilon(1e-4));
        CHECK(end.core_arrived == Approx(at.first().core.arrived).epsilon(1e-3));
        CHECK(end.mean_arrived == Approx(at.first().mean.arrived).epsilon(1e-4));
        CHECK(r.first().stages[0].bath_end.salt ==
              Approx(at.first().stages.back().bath_end.salt).epsilon(1e-4));
        CHECK(r.first().stages[0].bath_start.salt == Approx(0.06).epsilon(1e-9));
        CHECK(r.first().stages[0].bath_start.nitrite == Approx(150e-6).epsilon(1e-9));
    }
}

TEST_CASE("the same brine for five days and five more is ten days", "[cure]") {
    const bool held = GENERATE(true, false);
    Question one = loin({stage(Kind::cover, 10 * day)}),
             two = loin({stage(Kind::cover, 5 * day), stage(Kind::cover, 5 * day)});
    if (held)
        one.base.brine.mass = two.base.brine.mass = std::nullopt;
    const Outcome a = run(one), b = run(two);
    const auto &x = a.first().stages.back().end, &y = b.first().stages.back().end;
    CAPTURE(held);
    // Each is accurate to 1e-7 in time; the switch in the middle starts from a smooth state.
    CHECK(y.mean_salt == Approx(x.mean_salt).epsilon(2e-6));
    CHECK(y.core_salt == Approx(x.core_salt).epsilon(1e-5));
    CHECK(y.core_arrived == Approx(x.core_arrived).epsilon(1e-5));
    CHECK(y.mean_residual == Approx(x.mean_residual).epsilon(1e-5));
    CHECK(b.first().stages[1].bath_end.salt ==
          Approx(a.first().stages[0].bath_end.salt).epsilon(1e-6));
    CHECK(b.first().stages[1].bath_start.salt ==
          Approx(b.first().stages[0].bath_end.salt).epsilon(1e-9));
    CHECK(b.first().cured.value() == Approx(a.first().cured.value()).epsilon(1e-5));
    CHECK(b.salt_used == Approx(a.salt_used).epsilon(1e-12));
    // Made anew it is not the same.
    two.stages[1].fresh = true;
    const Outcome anew = run(two);
    if (!held) {
        CHECK(anew.first().stages.back().end.mean_salt > 1.005 * x.mean_salt);
        CHECK(anew.salt_used == Approx(2 * a.salt_used).epsilon(1e-9));
    }
}

TEST_CASE("a piece left to rest comes to its mean everywhere", "[cure]") {
    const double load = 0.025;
    Stage rub = dry(Kind::rub, 2 * day, load, 150e-6);
    rub.purge = 0.03;
    Question p = loin({rub, stage(Kind::rest, 400 * day)});
    set(p, "loss", "none");
    const Outcome r = run(p);
    // What drips is 3 % of saturated brine, drained.
    base::Records rec = fixed_records();
    const double dripped = 0.03 * materials::solubility(rec, 277.15);
    const auto& end = r.first().stages.back().end;
    const double share = (load - dripped) / (1 + load - dripped - dripped_water(p));
    CHECK(end.mean_salt == Approx(share).epsilon(1e-9));
    CHECK(end.least_salt == Approx(share).epsilon(1e-6));
    CHECK(end.most_salt == Approx(share).epsilon(1e-6));
    CHECK(end.core_arrived == Approx(150e-6 * (load - dripped) / load).epsilon(1e-6));
    CHECK(r.first().stages[0].salt_left == Approx(dripped).epsilon(1e-6));
}

TEST_CASE("a bag at balance holds one concentration, times the partition", "[cure]") {
    const double load = GENERATE(0.02, 0.004); // the second is less than the drip would saturate
    Stage bag = dry(Kind::bag, 500 * day, load, 0);
    bag.purge = 0.04;
    Question p = loin({bag});
    set(p, "solute.salt.partition", "0.9");
    p.base.brine.nitrite.reset();
    const Outcome r = run(p);
    base::Records rec = fixed_records();
    const double drip = 0.04 * (1 - materials::solubility(rec, 277.15)); // its water
    const double in_bag = load / (0.9 * water_fraction(p) + drip);       // per kg of its water
    const double held = 0.9 * water_fraction(p) * in_bag;
    CAPTURE(load);
    CHECK(r.first().stages[0].end.least_salt == Approx(held / (1 + held - drip)).epsilon(1e-6));
    CHECK(r.first().stages[0].end.mean_salt == Approx(held / (1 + held - drip)).epsilon(1e-6));
    CHECK(r.first().stages[0].salt_left == Approx(in_bag * drip).epsilon(1e-6));
}

TEST_CASE("what needles bring is their share of the brine, over the cured weight", "[cure]") {
    const double share = 0.1, salt = 0.2, nitrite = 1500e-6;
    const std::string shape = GENERATE("sheet", "loin");
    Question p = loin({stage(Kind::rest, 3 * day)}, shape);
    p.base.brine.mass.reset();
    p.pump = needles(share, salt, nitrite);
    const Outcome r = run(p);
    CAPTURE(shape);
    // To four digits: 0.1 x 20 % / 1.1 = 1.818 %, and 0.1 x 1500 ppm = 150 ppm of the raw meat.
    CHECK(100 * r.first().start.mean_salt == Approx(1.818).margin(0.0005));
    CHECK(1e6 * r.first().start.mean_arrived == Approx(150.0).margin(0.05));
    CHECK(100 * r.first().stages[0].end.mean_salt == Approx(1.818).margin(0.0005));
    CHECK(r.gain == Approx(share));
    REQUIRE(r.ingoing.doses.size() == 1);
    CHECK(r.ingoing.doses[0].method == "pumped");
    CHECK(r.ingoing.doses[0].nitrite == Approx(share * nitrite).epsilon(1e-12));
    CHECK(*r.ingoing.whole_system == Approx(share * nitrite).epsilon(1e-12));
    CHECK(r.salt_used == Approx(share * salt * p.base.piece.weight).epsilon(1e-9));
    CHECK(r.nitrite_used == Approx(share * nitrite * p.base.piece.weight).epsilon(1e-9));
}

TEST_CASE("what needles brought is told as it was before the first stage", "[cure]") {
    Question p = loin({stage(Kind::soak, 2 * hour)});
    p.pump = needles(0.1, 0.2, 1500e-6);
    const Outcome r = run(p);
    CHECK(100 * r.first().start.mean_salt == Approx(1.818).margin(0.0005));
    CHECK(1e6 * r.first().start.mean_arrived == Approx(150.0).margin(0.05));
    CHECK(r.first().stages[0].end.mean_salt < 0.98 * r.first().start.mean_salt);
}

TEST_CASE("a schedule that cannot be is refused where it stands", "[cure]") {
    const auto refused = [](Question p) {
        try {
            run(p);
        } catch (const base::InputError& e) {
            return std::string(e.what());
        }
        return std::string("ran");
    };
    CHECK(refused(loin({})) == "--stage: no stage is given; add --stage \"brine, 7 d\"");
    Question p = loin({soak(hour, 3)});
    p.base.piece.weight = 0;
    p.base.brine.mass.reset();
    CHECK(
        refused(p) ==
        "test: 3 kg (6 lb 10 oz): cannot be shared out without knowing how much meat is in it; add "
        "--weight \"2.5 kg\" (of one piece)");
    CHECK(refused(loin({dry(Kind::rub, day, 0)})) ==
          "test: has no salt in it; add the load, such as salt 30 g/kg");
    Stage left = stage(Kind::cover, day);
    left.sealed = {"left"};
    CHECK(refused(loin({left})) == "test: left: is not a face of this shape, which is solved along "
                                   "one line; a sheet has top and bottom");
}

} // namespace test_plan
