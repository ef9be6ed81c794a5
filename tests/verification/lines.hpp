// SPDX-License-Identifier: MIT
/// Solving a line on two grids the way the tool does, for the checks of the one-dimensional shapes.
#pragma once

#include "geometry/mesh.hpp"
#include "transport/spectrum.hpp"

#include <vector>

namespace tidemark::verification {

/// The meat of the checks: half-thickness or radius [m], diffusivity [m2/s], water [kg/m3].
/// Invented round numbers of the right size.
constexpr double half = 0.025, D = 2.5e-10, omega = 780;
constexpr double unit_time = half * half / D; ///< [s] that makes T = 1

/// Answer of the line with n intervals, extrapolated with the one of 2 n as the tool does: second
/// order leaves fine + (fine - coarse) / 3.
template <class Solve> Eigen::ArrayXd extrapolated(Solve solve, int n) {
    const Eigen::ArrayXd coarse = solve(n), fine = solve(2 * n);
    return fine + (fine - coarse) / 3;
}

/// Mean and centre of one tissue at each T, one after the other.
inline Eigen::ArrayXd mean_and_centre(const transport::Medium& medium, const transport::Bath& bath,
                                      int power, int n, const std::vector<double>& times) {
    const auto line = geometry::line({{"lean", half}}, n, power, false, true);
    const auto system = transport::assemble(line, {medium}, bath);
    const transport::Spectrum history(system, times.front() * unit_time, times.back() * unit_time);
    Eigen::ArrayXd out(2 * times.size());
    for (std::size_t i = 0; i < times.size(); ++i) {
        const auto u = history.at(times[i] * unit_time).free;
        out[2 * i] = system.mean(u, 0);
        out[2 * i + 1] = u[system.unknown[0]];
    }
    return out;
}

} // namespace tidemark::verification
