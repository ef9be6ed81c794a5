// SPDX-License-Identifier: MIT
/// Interpolation at Chebyshev nodes (first kind) of an interval, in barycentric form.
#pragma once

#include <Eigen/Core>

namespace tidemark::inference {

/// An interval and its nodes; with one node everything is a constant.
struct ChebyshevAxis {
    double low = 0, high = 0;
    int nodes = 1;

    double at(int k) const; ///< node k, falling from near `high` to near `low`
    /// Weights of the nodes' values at x [1]; they sum to 1. Outside the interval they extrapolate.
    Eigen::VectorXd weights(double x) const;
};

} // namespace tidemark::inference
