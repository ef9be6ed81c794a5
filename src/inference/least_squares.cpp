// SPDX-License-Identifier: MIT
#include "inference/least_squares.hpp"

#include <Eigen/QR>

namespace tidemark::inference {

Eigen::MatrixXd least_squares(const Eigen::MatrixXd& terms, const Eigen::MatrixXd& values) {
    return terms.colPivHouseholderQr().solve(values);
}

} // namespace tidemark::inference
