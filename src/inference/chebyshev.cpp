// SPDX-License-Identifier: MIT
#include "inference/chebyshev.hpp"

#include <cmath>
#include <numbers>

namespace tidemark::inference {

using Eigen::VectorXd;

double ChebyshevAxis::at(int k) const {
    const double x = std::cos(std::numbers::pi * (k + 0.5) / nodes);
    return 0.5 * (low + high) + 0.5 * (high - low) * x;
}

VectorXd ChebyshevAxis::weights(double x) const {
    VectorXd w = VectorXd::Ones(nodes);
    for (int k = 0; nodes > 1 && k < nodes; ++k) {
        const double gap = x - at(k);
        if (std::abs(gap) < 1e-14 * (high - low)) {
            return VectorXd::Unit(nodes, k);
        }
        w[k] = (k % 2 ? -1 : 1) * std::sin(std::numbers::pi * (k + 0.5) / nodes) / gap;
    }
    return w / w.sum();
}

} // namespace tidemark::inference
