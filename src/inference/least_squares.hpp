// SPDX-License-Identifier: MIT
/// A surface through more runs than it has terms.
#pragma once

#include <Eigen/Core>

namespace tidemark::inference {

/// The coefficients [terms x quantities] with which `terms` [runs x terms] come nearest to `values`
/// [runs x quantities], by Householder's QR with pivots: terms that repeat each other do no harm.
Eigen::MatrixXd least_squares(const Eigen::MatrixXd& terms, const Eigen::MatrixXd& values);

} // namespace tidemark::inference
