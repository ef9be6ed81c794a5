// SPDX-License-Identifier: MIT
#include "inference/sampling.hpp"

#include <boost/math/special_functions/erf.hpp>
#include <boost/random/sobol.hpp>

#include <cmath>
#include <numbers>
#include <random>
#include <vector>

namespace tidemark::inference {

Eigen::MatrixXd uniforms(Eigen::Index n, Eigen::Index columns, std::uint64_t seed) {
    boost::random::sobol engine(static_cast<std::size_t>(columns));
    std::vector<std::uint64_t> shift(columns, 0);
    if (seed != 0) {
        std::mt19937_64 random(seed);
        for (std::uint64_t& word : shift) {
            word = random();
        }
    }
    Eigen::MatrixXd points(n, columns);
    for (Eigen::Index i = 0; i < n; ++i) {
        for (Eigen::Index j = 0; j < columns; ++j) {
            // The engine leaves the corner out; shifted it is a point like any other.
            const std::uint64_t word = i == 0 && seed != 0 ? 0 : engine();
            // 52 bits and a half: the middle of a cell, never 0 or 1.
            points(i, j) = std::ldexp(static_cast<double>((word ^ shift[j]) >> 12) + 0.5, -52);
        }
    }
    return points;
}

double normal_score(double uniform) {
    using namespace boost::math::policies;
    return -std::numbers::sqrt2 *
           boost::math::erfc_inv(2 * uniform, policy<promote_double<false>>());
}

} // namespace tidemark::inference
