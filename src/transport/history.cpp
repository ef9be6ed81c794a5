// SPDX-License-Identifier: MIT
#include "transport/history.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::transport {

Eigen::VectorXd History::arrived(double t, double loss) const {
    const State s = at(t);
    return s.free + loss * s.dose;
}

History::Follower History::follow(const Eigen::VectorXd& weights) const {
    return [this, weights](double t) {
        const State s = at(t);
        return std::pair(weights.dot(s.free), weights.dot(s.dose));
    };
}

double mass_balance_error(const System& system, const History& history, double t) {
    const State s = history.at(t);
    const Eigen::VectorXd water = system.capacity.cwiseProduct(system.level());
    const double now = water.dot(s.free), reacted = water.cwiseProduct(system.loss).dot(s.dose);
    const double before = water.dot(system.initial), influx = history.influx(t);
    const double largest =
        std::max({std::abs(now), std::abs(reacted), std::abs(before), std::abs(influx), 1e-300});
    return std::abs(now + reacted - before - influx) / largest;
}

} // namespace tidemark::transport
