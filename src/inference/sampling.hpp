// SPDX-License-Identifier: MIT
/// Quasi-random points: they fill a box more evenly than dice, and are the same on every run.
/// Not for estimates whose error is to be judged by chance without a shift.
#pragma once

#include <Eigen/Core>

#include <cstdint>

namespace tidemark::inference {

/// `n` points of a Sobol sequence as rows of standard uniforms [1], all inside (0, 1). With a
/// `seed` other than 0 every column is shifted digitally (its bits flipped by a random word), which
/// keeps the evenness; with 0 the sequence's first point, the corner, is left out. `n` >= 0 and 1
/// to 1000 columns.
Eigen::MatrixXd uniforms(Eigen::Index n, Eigen::Index columns, std::uint64_t seed = 0);

/// The standard normal score of a uniform in (0, 1) [1].
double normal_score(double uniform);

} // namespace tidemark::inference
