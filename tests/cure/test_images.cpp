// SPDX-License-Identifier: MIT
/// A piece that is its own image is solved as a quarter, and as a whole where a later stage shuts
/// faces on one side: the same schedule up to there comes to the same day.
#include "common.hpp"
#include "cure/grid.hpp"
#include "cure/plans.hpp"

#include <catch2/catch.hpp>

namespace test_images {

using namespace tidemark;
using namespace tidemark::plans;

TEST_CASE("a quarter comes to the day of the whole, through rubs, a soak and a rest", "[cure]") {
    // Invented.
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

TEST_CASE("a film that gives and never takes meets images as it meets the whole", "[cure]") {
    // Invented: meat that holds more nitrite than the film, which is all the same not drawn out.
    cure::Case c;
    c.piece.shape = "block";
    c.piece.dimensions.thickness = 0.06;
    c.piece.dimensions.width = 0.08;
    c.brine.salt = 0.06;
    c.brine.nitrite = 100e-6;
    base::Records records = test::first_taken();
    const cure::Setup setup = cure::make_setup(c, records);
    const geometry::Mesh mesh = geometry::triangulate(*setup.section, 0.06 / 16);
    geometry::Mesh apart = mesh;
    apart.twin.clear();
    cure::Grid one(setup, mesh), all(setup, apart);
    for (cure::Grid* grid : {&one, &all}) {
        const Eigen::VectorXd held = Eigen::VectorXd::Constant(grid->nodes(), 1e-4);
        grid->fill(100 * held, 2 * held);
        cure::Grid::Contact film{setup.nitrite_bath, {}, false, day / 10, 8 * day};
        film.gives = true;
        grid->begin(true, 0, setup, film);
    }
    for (const double t : {0.5 * day, 3 * day, 8 * day}) {
        const Eigen::VectorXd a = one.arrived(t), b = all.arrived(t);
        CHECK((a - b).cwiseAbs().maxCoeff() < 1e-6 * b.maxCoeff()); // what a stage is solved to
        CHECK(one.mean_arrived(t) == Approx(all.mean_arrived(t)).epsilon(1e-6));
        CHECK(a.minCoeff() > 1.9e-4); // nothing is drawn out but what has gone over to the faces
    }
    CHECK(one.nitrite_chain.mass_balance_error(8 * day) < 1e-10);
}

} // namespace test_images
