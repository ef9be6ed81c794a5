// SPDX-License-Identifier: MIT
#include "transport/history.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::transport {

Eigen::VectorXd History::arrived(double t, double loss) const {
    const State s = at(t);
    return s.free + loss * s.dose;
}

double mass_balance_error(const System& system, const History& history, double t) {
    const State s = history.at(t);
    const double now = system.capacity.dot(s.free);
    const double reacted = system.capacity.cwiseProduct(system.loss).dot(s.dose);
    const double before = system.capacity.dot(system.initial), influx = history.influx(t);
    const double largest =
        std::max({std::abs(now), std::abs(reacted), std::abs(before), std::abs(influx), 1e-300});
    return std::abs(now + reacted - before - influx) / largest;
}

} // namespace tidemark::transport
