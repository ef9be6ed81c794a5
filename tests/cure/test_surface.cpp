// SPDX-License-Identifier: MIT
/// The salt of the surface is the mean over the lean no deeper than the record's rim, counted here
/// node by node of a rectangle, whose depths are known by hand.
#include "common.hpp"
#include "cure/two_meshes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

namespace test_surface {

using namespace tidemark;

TEST_CASE("the surface's salt is that of the lean no deeper than the rim", "[cure]") {
    // Invented.
    constexpr double width = 0.09, thickness = 0.06, time = 2 * 86400;
    cure::Case c;
    c.piece.shape = "block";
    c.piece.dimensions.thickness = thickness;
    c.piece.dimensions.width = width;
    c.brine.salt = 0.06;
    c.brine.nitrite = 150e-6;
    const cure::Outcome o = cure::run(cure::in_brine(c), test::first_taken());
    const cure::Track& track = *o.solved->fine;
    const cure::Grid& grid = track.grid();
    const double rim = o.solved->c.kinds.front().levels.surface;
    REQUIRE(rim > 2 * grid.mesh->spacing); // there are nodes to count
    const Eigen::VectorXd salt = grid.salt(time);
    double held = 0, water = 0;
    for (Eigen::Index i = 0; i < salt.size(); ++i) {
        const geometry::Point& p = grid.mesh->nodes[static_cast<std::size_t>(i)];
        const double depth = std::min(width / 2 - std::abs(p.x()), thickness / 2 - std::abs(p.y()));
        if (depth <= rim + 1e-9) {
            held += grid.lean_water[i] * salt[i];
            water += grid.lean_water[i];
        }
    }
    const cure::Tissue& lean = o.solved->setup().tissues.at("lean");
    CHECK(track.at(time, 0).surface_salt == Approx(lean.salt_share(held / water)).epsilon(1e-9));
}

} // namespace test_surface
