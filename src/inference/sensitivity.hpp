// SPDX-License-Identifier: MIT
/// Where a spread comes from: Sobol indices of groups of inputs, by picking one group's columns
/// from a second sample and freezing the rest. Inputs of different groups must be independent;
/// those that are not belong in one group. Knows no model: points go out, values come back.
#pragma once

#include <Eigen/Core>

#include <cstdint>
#include <vector>

namespace tidemark::inference {

/// The sample to evaluate, as uniforms in (0, 1) [1]: `n` rows of A, `n` of B, then for each group
/// `n` of A with that group's columns taken from B. `group[j]` is the group of column j, counted
/// from 0 without gaps. `n` best is a power of two.
Eigen::MatrixXd pick_freeze(Eigen::Index n, const std::vector<int>& group, std::uint64_t seed = 1);

/// Share of the variance that goes with one group [1]: by itself, and with all it takes part in.
struct Index {
    double first = 0, total = 0;
};

/// The indices from the model's values at the rows of pick_freeze(n, ...). First order after
/// Saltelli and others 2010, total after Jansen 1999 (both formulas from memory, tested against a
/// function with known indices). All zero if the values do not vary.
std::vector<Index> sobol_indices(const Eigen::VectorXd& values, Eigen::Index n);

} // namespace tidemark::inference
