// SPDX-License-Identifier: MIT
/// The chance of a day by hand on a few draws, its best day, and the whole against direct solves.
#include "common.hpp"
#include "inference/chance.hpp"

#include "inference/ranges.hpp"
#include "inference/sampling.hpp"
#include "similar_cases.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

namespace test_chance {

using namespace tidemark;
using namespace tidemark::inference;
using test::day;

namespace {

/// Cured on `c`, in the band from `s` to `t` [days].
Fate fate(double c, double s, double t) {
    return {c * day, s * day, t * day};
}

/// The same draws, each solved as a case of its own: what the surfaces lose shows as draws that
/// change sides.
void compare(const cure::Case& c, int draws, double margin) {
    const cure::Outcome p = cure::run(cure::in_brine(c), built_in());
    const Inputs inputs = case_inputs(c, p.solved->setup(), built_in());
    const Drawing drawing(inputs, c, p.solved->setup(), built_in());
    const Ask ask{draws};
    const std::vector<Fate> said = fates(p, built_in(), inputs, ask);
    const Eigen::MatrixXd values = inputs.values(
        uniforms(ask.draws, static_cast<Eigen::Index>(inputs.list().size()), ask.seed));
    std::vector<Fate> solved;
    for (Eigen::Index i = 0; i < values.rows(); ++i) {
        cure::Case own = drawn_case(p, inputs, values.row(i), drawing(values.row(i)));
        own.cells = 16;
        const cure::Outcome q = cure::run(cure::in_brine(own), built_in());
        solved.push_back({q.first().cured.value_or(never), q.first().salted.value_or(never),
                          q.first().last_good.value_or(never)});
    }
    CAPTURE(c.piece.shape);
    for (const double t : {4., 6., 8., 12., 20., 40.}) {
        CAPTURE(t);
        CHECK(chance_at(said, t * day).right ==
              Approx(chance_at(solved, t * day).right).margin(margin));
    }
}

} // namespace

TEST_CASE("the chance of a day is joint, and what is not right adds up with it to one",
          "[inference]") {
    // Half of the pieces are fast: cured on day 4, in the band from 3 to 6. The others take twice
    // as long. On day 6 both are cured or salted by the marginals of half; together by hand:
    const std::vector<Fate> fates{fate(4, 3, 6), fate(8, 6, 12), fate(4, 5, 6), fate(3, 1, 2)};
    const DayChance d = chance_at(fates, 6 * day);
    CHECK(d.cured == 0.75);
    CHECK(d.in_band == 0.75); // the first three; their last day counts
    CHECK(d.right == 0.5);    // the first and the third
    CHECK(d.grey == 0.25);
    CHECK(d.salty == 0.25);
    CHECK(d.bland == 0);
    const DayChance early = chance_at(fates, 4 * day);
    CHECK(early.right == 0.25);
    CHECK(early.bland == 0.25); // the third is cured and not yet salted
    for (double t = 0.5; t < 15; t += 0.5) {
        const DayChance c = chance_at(fates, t * day);
        CHECK(c.right + c.grey + c.salty + c.bland == Approx(1).epsilon(1e-15));
        CHECK(c.right <= std::min(c.cured, c.in_band));
    }
}

TEST_CASE("the chances of many times are those of each", "[inference]") {
    // By counting: cured and salted from their time on, too salty after its own.
    std::vector<Fate> fates;
    for (const double cured : {1., 3., 5., never})
        for (const double salted : {1., 4., never})
            for (const double too_salty : {1., 2., 4., 6., never})
                fates.push_back({cured * day, salted * day, too_salty * day});
    std::vector<double> times;
    for (double t = 0.5; t < 8; t += 0.5)
        times.push_back(t * day);
    const std::vector<DayChance> all = chances_at(fates, times);
    REQUIRE(all.size() == times.size());
    for (std::size_t k = 0; k < times.size(); ++k) {
        const double t = times[k], n = static_cast<double>(fates.size());
        const auto share = [&](auto holds) {
            return static_cast<double>(std::ranges::count_if(fates, holds)) / n;
        };
        const auto cured = [=](const Fate& f) { return f.cured <= t; };
        const auto salty = [=](const Fate& f) { return f.too_salty < t; };
        const auto in_band = [=](const Fate& f) { return f.salted <= t && !salty(f); };
        CHECK(all[k].time == t);
        CHECK(all[k].cured == share(cured));
        CHECK(all[k].in_band == share(in_band));
        CHECK(all[k].right == share([=](const Fate& f) { return cured(f) && in_band(f); }));
        CHECK(all[k].salty == share([=](const Fate& f) { return cured(f) && salty(f); }));
        CHECK(all[k].grey == 1 - all[k].cured);
        CHECK(chance_at(fates, t).right == all[k].right);
    }
}

TEST_CASE("the best day is the earliest of those as good, the window all that are good enough",
          "[inference]") {
    std::vector<Fate> fates(200, fate(4, 3, 9));
    fates[0].cured = 6 * day; // half a hundredth: not worth waiting for
    const BestDay all = best_day(fates, 20 * day, 0.9);
    REQUIRE(all.best);
    CHECK(all.best->time == 4 * day);
    CHECK(all.best->right == 0.995);
    REQUIRE(all.window);
    CHECK(all.window->first == 4 * day);
    CHECK(all.window->second == 9 * day);
    // Day 4 has 0.895 and day 5, as good to a hundredth, 0.905: the one within the window is told.
    std::vector<Fate> close(200, fate(4, 3, 9));
    for (int i = 0; i < 21; ++i)
        close[i].cured = (i < 2 ? 5 : 30) * day;
    const BestDay just = best_day(close, 20 * day, 0.9);
    REQUIRE(just.window);
    CHECK(just.window->first == 5 * day);
    CHECK(just.best->time == 5 * day);
    const BestDay never_sure = best_day(close, 20 * day, 0.95); // no window: the earliest as good
    CHECK_FALSE(never_sure.window);
    CHECK(never_sure.best->time == 4 * day);
    for (int i = 0; i < 60; ++i)
        fates[i].too_salty = 3 * day;
    const BestDay some = best_day(fates, 20 * day, 0.9);
    CHECK_FALSE(some.sure());
    CHECK(some.likely());
    CHECK(some.best->right == 0.7);
    CHECK(best_day(fates, 20 * day, 0.7).sure());
    CHECK(some.error == Approx(std::sqrt(0.7 * 0.3 / 200)).epsilon(1e-12));
    CHECK_FALSE(best_day({fate(9, 1, 2)}, 20 * day, 0.9).best); // never right
    CHECK_FALSE(best_day(fates, 3 * day, 0.9).best);            // not within the time looked at
}

TEST_CASE("the chance said is that of direct solves", "[inference]") {
    // 120 draws, so one is 0.8 in 100; asked for: within 2 in 100.
    cure::Case block = invented("block", 0.06, 1.5);
    block.piece.dimensions.width = 0.1;
    compare(invented("sheet", 0.05), 120, 0.026);
    compare(invented("round", 0.06, 1.2), 120, 0.026);
    compare(block, 40, 0.026);
}

TEST_CASE("three ordinary cuts by two thousand direct solves each", "[.audit]") {
    // Invented, of the usual sizes; minutes.
    cure::Case loin = invented("loin", 0.08, 3);
    loin.piece.dimensions.fat_cap = 0.006;
    loin.piece.dimensions.bones = 2;
    cure::Case round = invented("round", 0.065, 1.2), block = invented("block", 0.07, 2);
    round.piece.muscle = "beef-round";
    block.piece.dimensions.width = 0.11;
    for (const cure::Case& c : {loin, round, block})
        compare(c, 2000, 0.02);
}

TEST_CASE("no day past what cold alone keeps safe is the best where an earlier is as sure",
          "[inference]") {
    // graham1997: toxin after 21 days at 4 C where only cold held it back, after 35 at 3 C.
    cure::Case c;
    c.piece.dimensions.thickness = 0.04;
    c.brine.salt = 0.0475;
    c.brine.nitrite = 300e-6;
    c.piece.weight = 1;
    c.brine.mass = 1;
    c.temperature = 273.15 + 4;
    const cure::Outcome p = cure::run(cure::in_brine(c), built_in());
    const BestDay best = ranges(p, built_in(), {1024}).best;
    REQUIRE(best.sure());
    CHECK(best.best->time <= 21 * day);
    CHECK(best.window->second <= 21 * day);
    CHECK(chance_at(fates(p, built_in(), case_inputs(c, p.solved->setup(), built_in()), {1024}),
                    40 * day)
              .right > best.best->right - 0.02); // later would do as well
    c.temperature = 273.15 + 2;                  // where it grows no more
    const cure::Outcome cold = cure::run(cure::in_brine(c), built_in());
    CHECK(ranges(cold, built_in(), {1024}).best.window->second > 40 * day);
}

} // namespace test_chance
