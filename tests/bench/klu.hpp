// SPDX-License-Identifier: MIT
/// The same cells by a general ODE library as it comes: SUNDIALS CVODE (Hindmarsh et al., ACM TOMS
/// 31 (2005) 363, from memory), BDF, Newton with the exact sparse Jacobian factored by KLU (Davis
/// and Palamadai Natarajan, ACM TOMS 37 (2010) 36, from memory).
#pragma once

#include "transport/system.hpp"

#include <vector>

namespace tidemark::bench {

/// Free solute, and where `reacts` its time integral behind it, at each of `times` [s], ascending;
/// `relative` is the tolerance asked of the library, with an absolute one of a tenth of it times
/// the largest initial value.
std::vector<Eigen::VectorXd> by_klu(const transport::System& system,
                                    const std::vector<double>& times, double relative, bool reacts);

} // namespace tidemark::bench
