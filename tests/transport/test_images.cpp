// SPDX-License-Identifier: MIT
/// Nodes that are images share an unknown: half the work, or a quarter, and the same fields.
#include "geometry/shapes.hpp"
#include "transport/spectrum.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace tidemark;
using transport::Bath;
using transport::Medium;

TEST_CASE("images share their unknowns and nothing else changes", "[transport]") {
    const bool ribs = GENERATE(true, false);
    const double film = GENERATE(std::numeric_limits<double>::infinity(), 2e-8);
    CAPTURE(ribs, film);
    const geometry::Section section =
        ribs ? geometry::loin({.thickness = 0.06, .width = 0.1, .fat_cap = 0.006, .bones = 2},
                              "test")
             : geometry::block({.thickness = 0.06, .width = 0.1}, "test");
    const geometry::Mesh mesh = geometry::triangulate(section, 0.06 / 16);
    geometry::Mesh apart = mesh;
    apart.twin.clear();
    std::vector<Medium> media; // invented
    for (const std::string& kind : mesh.kinds)
        media.push_back(kind == "fat" ? Medium{.water = 100, .diffusivity = 2e-11, .loss = 1e-6}
                                      : Medium{.water = 780, .diffusivity = 2e-10, .loss = 1e-6});
    Bath bath;
    bath.water = 4; // [kg] of a metre that holds about as much
    bath.concentration = 0.05;
    bath.film = film;
    const transport::System one = transport::assemble(mesh, media, bath),
                            all = transport::assemble(apart, media, bath);
    CHECK(static_cast<double>(one.capacity.size()) <
          (ribs ? 0.6 : 0.35) * static_cast<double>(all.capacity.size()));
    CHECK(one.capacity.sum() == Approx(all.capacity.sum()).epsilon(1e-13));
    constexpr double day = 86400, tolerance = 1e-9;
    const transport::Spectrum few(one, day / 10, 10 * day, tolerance),
        many(all, day / 10, 10 * day, tolerance);
    for (const double t : {0.3 * day, 3 * day, 10 * day}) {
        const Eigen::VectorXd a = few.at(t).free(one.unknown), b = many.at(t).free(all.unknown);
        CHECK((a - b).cwiseAbs().maxCoeff() < 1e-7 * b.maxCoeff());
    }
}
