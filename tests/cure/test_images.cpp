// SPDX-License-Identifier: MIT
/// A piece that is its own image is solved as a quarter, and as a whole where a later stage shuts
/// faces on one side: the same schedule up to there comes to the same day.
#include "cure/plans.hpp"

#include <catch2/catch.hpp>

using namespace tidemark;
using namespace tidemark::plans;

TEST_CASE("a quarter comes to the day of the whole, through rubs, a soak and a rest", "[cure]") {
    // Invented; the second rub meets meat that holds nitrite, and adds to it without drawing any.
    Question quarter;
    quarter.base.piece.shape = "block";
    quarter.base.piece.dimensions.thickness = 0.06;
    quarter.base.piece.dimensions.width = 0.08;
    quarter.base.piece.weight = 1.5;
    quarter.base.brine.salt = 0.06;
    quarter.base.brine.nitrite = 200e-6;
    quarter.stages = {dry(Kind::rub, 2 * day, 0.012, 80e-6), soak(2 * hour, 2, 0),
                      stage(Kind::rest, 1 * day), dry(Kind::rub, 30 * day, 0.015, 150e-6)};
    Question whole = quarter;
    Stage after = stage(Kind::cover, 1 * hour);
    after.sealed = {"top", "left"};
    whole.stages.push_back(after);
    const auto a = run(quarter), b = run(whole);
    CHECK(a.cells < 1.1 * b.cells); // of nodes there are as many
    REQUIRE(a.first().cured);
    CHECK(*a.first().cured > 3.2 * day); // in the second rub
    CHECK(*b.first().cured == Approx(*a.first().cured).epsilon(1e-3));
    CHECK(b.first().stages[3].end.mean_salt ==
          Approx(a.first().stages[3].end.mean_salt).epsilon(1e-4));
    CHECK(a.mass_balance_error < 1e-10);
}
