// SPDX-License-Identifier: MIT
/// The maximum principle: nothing falls below nought or rises above what there was at the start.
#include "geometry/mesh.hpp"
#include "transport/cases.hpp"
#include "transport/spectrum.hpp"
#include "transport/stepper.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace tidemark;
using namespace tidemark::transport_tests;

namespace {

/// Largest positive entry off the diagonal over the largest entry.
double worst_off_diagonal(const Eigen::SparseMatrix<double>& k) {
    double worst = 0, size = 0;
    for (int j = 0; j < k.outerSize(); ++j)
        for (Eigen::SparseMatrix<double>::InnerIterator it(k, j); it; ++it) {
            size = std::max(size, std::abs(it.value()));
            if (it.row() != it.col())
                worst = std::max(worst, it.value());
        }
    return worst / size;
}

} // namespace

// What the maximum principle rests on (Varga; Ciarlet & Raviart 1973, from memory). Roundoff of
// cotangents that cancel, as on a square's diagonal, is let pass: 1e-12 of the largest.

TEST_CASE("between cells of isotropic tissue no conductance is negative", "[transport]") {
    const unsigned seed = GENERATE(range(1u, 61u));
    const Case c = random_case(seed, true);
    CAPTURE(seed, c.what);
    CHECK(worst_off_diagonal(c.assemble().conductance) <= 1e-12);
}

TEST_CASE("nor is any after refining, which is the mesh that answers", "[transport]") {
    // The last three came out of 300 more: a bone's chord that faces an obtuse angle once halved.
    const unsigned seed = 2 * GENERATE(range(1u, 31u), values({10041u, 10214u, 10227u}));
    Case c = random_case(seed, true);
    CAPTURE(seed, c.what);
    c.mesh = geometry::refine(*c.mesh);
    CHECK(worst_off_diagonal(c.assemble().conductance) <= 1e-12);
}

TEST_CASE("concentrations stay between nought and the highest at the start", "[transport]") {
    // Allowed beyond: ten times the solvers' tolerance (1e-7 in the water-weighted norm, which a
    // small cell may exceed), of the highest.
    const unsigned seed = GENERATE(range(201u, 241u));
    const Case c = random_case(seed, true);
    CAPTURE(seed, c.what, c.bath.water, c.bath.film);
    const auto system = c.assemble();
    const transport::Spectrum spectrum(system, c.last / 200, c.last);
    const double top = c.highest(), slack = 1e-6 * top;
    for (double share : {0.005, 0.01, 0.03, 0.1, 0.3, 1.0}) {
        CAPTURE(share);
        const auto u = spectrum.at(share * c.last).free;
        CHECK(u.minCoeff() >= -slack);
        CHECK(u.maxCoeff() <= top + slack);
    }
    if (seed % 5 == 0) {
        const transport::Stepper stepper(system, {}, c.last);
        for (double share : {0.0, 1e-6, 1e-4, 0.001, 0.01, 0.1, 1.0}) { // from the surface jump on
            CAPTURE(share);
            const auto u = stepper.at(share * c.last).free;
            CHECK(u.minCoeff() >= -slack);
            CHECK(u.maxCoeff() <= top + slack);
        }
    }
}
