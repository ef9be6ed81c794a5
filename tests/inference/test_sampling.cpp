// SPDX-License-Identifier: MIT
/// Points that fill the box evenly, and the normal score.
#include "inference/sampling.hpp"

#include <catch2/catch.hpp>

#include <set>

namespace test_sampling {

using namespace tidemark::inference;

TEST_CASE("every 64th of the line holds one of 64 points, in each column, shifted or not",
          "[inference]") {
    // A digital net in base 2: what sets it apart from dice, and what a digital shift must keep.
    // Without a shift the corner is left out, so the first whole net of 64 begins at the 64th.
    for (const std::uint64_t seed : {0, 1, 12345}) {
        const Eigen::MatrixXd u = uniforms(128, 20, seed);
        CHECK(u.minCoeff() > 0);
        CHECK(u.maxCoeff() < 1);
        const Eigen::Index first = seed == 0 ? 63 : 0;
        for (Eigen::Index j = 0; j < u.cols(); ++j) {
            std::set<int> strips;
            for (Eigen::Index i = first; i < first + 64; ++i) {
                strips.insert(static_cast<int>(64 * u(i, j)));
            }
            CAPTURE(seed, j);
            CHECK(strips.size() == 64);
        }
    }
}

TEST_CASE("the points are the same on every run, others for another seed", "[inference]") {
    CHECK(uniforms(8, 3, 5) == uniforms(8, 3, 5));
    CHECK(uniforms(8, 3, 5) != uniforms(8, 3, 6));
    CHECK(uniforms(16, 3, 5).topRows(8) == uniforms(8, 3, 5));
}

TEST_CASE("the normal score has its well-known quantiles", "[inference]") {
    // 97.5 % at 1.959964, 95 % at 1.644854: any table of the normal distribution, from memory.
    CHECK(normal_score(0.5) == Approx(0).margin(1e-15));
    CHECK(normal_score(0.975) == Approx(1.959964).margin(5e-7));
    CHECK(normal_score(0.05) == Approx(-1.644854).margin(5e-7));
}

} // namespace test_sampling
