// SPDX-License-Identifier: MIT
/// The semi-discrete system handed to a general ODE library: SUNDIALS CVODE (Hindmarsh et al., ACM
/// TOMS 31 (2005) 363, from memory), BDF, Newton with GMRES preconditioned by a sparse
/// factorisation of the very matrix, so that nothing of the time integration under test is used.
/// Dense output by the library.
#pragma once

#include "transport/system.hpp"

#include <functional>
#include <vector>

namespace tidemark::verification {

/// Forcing of every unknown at t [kg/s]; the bath's entry is ignored when the bath is held.
using Forcing = std::function<Eigen::VectorXd(double t)>;

/// Factors of all conductances and of all losses at t [1].
struct Factors {
    double diffusion = 1, loss = 1;
};

/// u and its time integral (weighted by the loss factor) at each of `times` [s], stacked; starts
/// from system.initial. `relative` is the tolerance asked of the library, with an absolute one of a
/// tenth of it (concentrations are of order 1).
std::vector<Eigen::VectorXd> integrate(const transport::System& system,
                                       const std::vector<double>& times, double relative,
                                       const Forcing& forcing = {},
                                       const std::function<Factors(double)>& factors = {});

} // namespace tidemark::verification
