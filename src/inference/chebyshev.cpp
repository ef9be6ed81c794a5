// SPDX-License-Identifier: MIT
#include "inference/chebyshev.hpp"

#include <cmath>
#include <numbers>

namespace tidemark::inference {

using Eigen::VectorXd;

ChebyshevAxis::ChebyshevAxis(double from, double to, int count) : low(from), high(to) {
    for (int k = 0; k < count; ++k) {
        const double angle = std::numbers::pi * (k + 0.5) / count;
        cosine_.push_back(std::cos(angle));
        sine_.push_back((k % 2 ? -1 : 1) * std::sin(angle));
    }
}

double ChebyshevAxis::at(int k) const {
    return 0.5 * (low + high) + 0.5 * (high - low) * cosine_[static_cast<std::size_t>(k)];
}

VectorXd ChebyshevAxis::weights(double x) const {
    VectorXd w = VectorXd::Ones(nodes());
    for (int k = 0; nodes() > 1 && k < nodes(); ++k) {
        const double gap = x - at(k);
        if (std::abs(gap) < 1e-14 * (high - low)) {
            return VectorXd::Unit(nodes(), k);
        }
        w[k] = sine_[static_cast<std::size_t>(k)] / gap;
    }
    w /= w.sum();
    return w;
}

} // namespace tidemark::inference
