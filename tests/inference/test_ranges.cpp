// SPDX-License-Identifier: MIT
/// Ranges of whole predictions: quantiles with draws that never get there, shares, and limits in
/// which the answer is known.
#include "inference/ranges.hpp"

#include "similar_cases.hpp"

#include <catch2/catch.hpp>

#include <cmath>

namespace test_ranges {

using namespace tidemark;
using namespace tidemark::inference;

namespace {

Ranges ranges_of(const cure::Case& c, int draws = 1024) {
    return ranges(cure::run(cure::in_brine(c), built_in()), built_in(), {draws});
}

} // namespace

TEST_CASE("a quantile is a value that was there, and infinity is the latest of all",
          "[inference]") {
    CHECK(quantile({3, 1, 2, 4}, 0.5) == 2);
    CHECK(quantile({3, 1, never, 4}, 0.75) == 4);
    CHECK(quantile({3, 1, never, 4}, 0.76) == never);
    CHECK(quantile({7}, 0.05) == 7);
}

TEST_CASE("without loss in much brine, log pull time spreads as log diffusivity does",
          "[inference]") {
    // Pull time is a2/D g(target): with everything else certain the 5 and 95 % days are the
    // middle's by 1.5^-1.644854 and 1.5^1.644854, and all of the spread comes from the diffusivity.
    cure::Case c = invented("round", 0.06);
    c.overrides = {{"loss", "none", "--loss"}};
    const cure::Outcome p = cure::run(cure::in_brine(c), built_in());
    Inputs only;
    only.add({"diffusivity", "diffusivity", factor_spread("gsd 1.5", 1)});
    const Ranges r = ranges(p, built_in(), only, {4096});
    const double factor = std::pow(1.5, 1.644854);
    REQUIRE(p.first().cured);
    // 4096 even points put a quantile within 1e-3; the surface and the cells within 1e-3.
    CHECK(r.pull.half / *p.first().cured == Approx(1).epsilon(2e-3));
    CHECK(r.pull.late / *p.first().cured == Approx(factor).epsilon(4e-3));
    CHECK(r.pull.early / *p.first().cured == Approx(1 / factor).epsilon(4e-3));
    REQUIRE(r.shares.size() == 1);
    CHECK(r.shares[0].first == Approx(1).margin(0.02));
    CHECK(r.shares[0].total == Approx(1).margin(0.02));
}

TEST_CASE("ranges hold together: early before late, chances and shares within bounds",
          "[inference]") {
    cure::Case spoons = invented("round", 0.065, 1.2);
    spoons.brine = {};
    spoons.brine.water = 2;
    spoons.brine.salt_added = 0.12;
    spoons.brine.premix = 0.01;
    spoons.brine.spread.premix = 1.3;
    cure::Case block = invented("block", 0.07, 2);
    block.piece.dimensions.width = 0.12;
    cure::Case salt = invented("ball", 0.08);
    salt.brine.nitrite.reset();
    for (const cure::Case& c : {invented("sheet", 0.06), spoons, block, salt}) {
        const Ranges r = ranges_of(c);
        CAPTURE(c.piece.shape);
        for (const DayRange& day : {r.pull, r.salted, r.last_good}) {
            CHECK(day.early <= day.half);
            CHECK(day.half <= day.late);
            CHECK((day.late == never) == (day.share_never > 0.05));
        }
        // The ball is too salty as a whole before its core has any.
        REQUIRE(r.best.best.has_value() == (c.piece.shape != "ball"));
        for (const DayChance& d : r.best.by_day) {
            CHECK(d.right <= std::min(d.cured, d.in_band));
            CHECK(d.cured <= 1 - r.pull.share_never);
        }
        CHECK(r.error < 0.01); // asked for: below 1 %
        double sum = 0;
        for (const SpreadShare& share : r.shares) {
            CHECK(share.total > -0.02);
            CHECK(share.first < share.total + 0.05);
            CHECK_FALSE(share.name.empty());
            sum += share.first;
        }
        CHECK(sum < 1.05);
        CHECK(r.shares.front().group == "diffusivity");
    }
    // The strong end of the premix, 1.3^1.645, is what the law's number is to be held against.
    const cure::Outcome p = cure::run(cure::in_brine(spoons), built_in());
    const Ranges r = ranges(p, built_in(), {1024});
    REQUIRE(r.ingoing_high);
    CHECK(*r.ingoing_high / *p.ingoing.whole_system ==
          Approx(std::pow(1.3, 1.644854)).epsilon(0.01));
    CHECK(r.brine_salt_low < p.first().stages.front().bath_start.salt);
}

TEST_CASE("draws that are never cured are counted, and are right on no day", "[inference]") {
    const Ranges r = ranges_of(invented("sheet", 0.14));
    CHECK(r.pull.share_never > 0.05);
    CHECK(r.pull.late == never);
    REQUIRE(r.best.best);
    CHECK(r.best.best->right <= 1 - r.pull.share_never);
}

TEST_CASE("knowing the thickness and the speed better narrows the days", "[inference]") {
    const cure::Case c = invented("sheet", 0.05);
    const cure::Outcome p = cure::run(cure::in_brine(c), built_in());
    Inputs inputs = case_inputs(c, p.solved->setup(), built_in());
    const Ranges before = ranges(p, built_in(), inputs, {1024});
    Eigen::Matrix2d covariance;
    covariance << 0.0025, 0, 0, 0.04;
    inputs.joint({"diffusivity", "loss"}, Eigen::Vector2d(0.1, 0), covariance);
    const Ranges after = ranges(p, built_in(), inputs, {1024});
    CHECK(after.pull.late / after.pull.early < 0.7 * before.pull.late / before.pull.early);
    CHECK(after.pull.half < before.pull.half); // the meat was found to be faster
}

TEST_CASE("the same question has the same ranges", "[inference]") {
    const cure::Case c = invented("round", 0.05);
    CHECK(ranges_of(c, 256).pull.late == ranges_of(c, 256).pull.late);
}

TEST_CASE("the law moves no day of a range", "[inference]") {
    // It is a yes or no on what was weighed.
    cure::Case us = invented("sheet", 0.03);
    us.brine.salt = 0.08;
    cure::Case eu = us, codex = us;
    eu.law = "eu";
    codex.law = "codex";
    const Ranges a = ranges(cure::run(cure::in_brine(us), built_in()), built_in(), {256}),
                 b = ranges(cure::run(cure::in_brine(eu), built_in()), built_in(), {256}),
                 c = ranges(cure::run(cure::in_brine(codex), built_in()), built_in(), {256});
    CHECK(a.last_good.half < never);
    CHECK(b.last_good.half == a.last_good.half);
    CHECK(c.last_good.half == a.last_good.half);
    CHECK(b.pull.half == Approx(a.pull.half).epsilon(1e-6)); // to the solves' tolerance
}

TEST_CASE("a brine measured out near a limit is warned of by its pessimistic end", "[inference]") {
    // Weighed to a factor of 1.02 (uncertainty.weighed): nineteen in twenty within 1.02^1.645, so
    // 195 ppm may be 201.4, above the 200 of the US, and 123 ppm may be 119.1, below its 120
    // (fsis1995); 190 and 126 may not.
    const auto found = [](double ppm) {
        cure::Case c = invented("sheet", 0.04);
        c.piece.weight = 2;
        c.brine = {};
        c.brine.salt = 0.05;
        c.brine.mass = 2;
        c.brine.nitrite = 2 * ppm * 1e-6;
        return ranges_of(c, 1024).findings;
    };
    CHECK(found(195).has("measured-high"));
    CHECK_FALSE(found(190).has("measured-high"));
    CHECK(found(123).has("measured-low"));
    CHECK_FALSE(found(126).has("measured-low"));
}

} // namespace test_ranges
