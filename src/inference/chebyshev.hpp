// SPDX-License-Identifier: MIT
/// Interpolation at Chebyshev nodes (first kind) of an interval, in barycentric form.
#pragma once

#include <Eigen/Core>

#include <vector>

namespace tidemark::inference {

/// An interval and its nodes; with one node everything is a constant.
struct ChebyshevAxis {
    double low = 0, high = 0;

    ChebyshevAxis(double from = 0, double to = 0, int count = 1);
    int nodes() const { return static_cast<int>(cosine_.size()); }
    double at(int k) const; ///< node k, falling from near `high` to near `low`
    /// Weights of the nodes' values at x [1]; they sum to 1. Outside the interval they extrapolate.
    Eigen::VectorXd weights(double x) const;

private:
    std::vector<double> cosine_, sine_; ///< of the nodes; sines with the sign of their weight
};

} // namespace tidemark::inference
