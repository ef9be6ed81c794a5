// SPDX-License-Identifier: MIT
#include "transport/superposed.hpp"

#include <algorithm>
#include <utility>

namespace tidemark::transport {

Superposed::Superposed(std::shared_ptr<const History> held, std::shared_ptr<const History> source,
                       std::vector<int> places)
    : held_(std::move(held)), source_(std::move(source)), places_(std::move(places)) {}

double Superposed::last() const {
    return std::min(held_->last(), source_->last());
}

State Superposed::at(double t) const {
    State sum = held_->at(t);
    const State more = source_->at(t);
    const auto nodes = static_cast<Eigen::Index>(places_.size());
    sum.free.head(nodes) += more.free(places_);
    sum.dose.head(nodes) += more.dose(places_);
    return sum;
}

Eigen::VectorXd Superposed::front(double t, double loss) const {
    Eigen::VectorXd sum = held_->front(t, loss);
    const Eigen::VectorXd more = source_->front(t, loss);
    const int bath = static_cast<int>(more.size()) - 1;
    for (Eigen::Index i = 0; i + 1 < sum.size(); ++i)
        sum[i] += more[std::min(places_[static_cast<std::size_t>(i)], bath)];
    return sum;
}

History::Follower Superposed::follow(const Eigen::VectorXd& weights) const {
    Eigen::VectorXd more = Eigen::VectorXd::Zero(source_->at(0).free.size());
    for (std::size_t i = 0; i < places_.size(); ++i)
        more[places_[i]] += weights[static_cast<Eigen::Index>(i)];
    return [a = held_->follow(weights), b = source_->follow(more)](double t) {
        const auto [free, dose] = a(t);
        const auto [free_more, dose_more] = b(t);
        return std::pair(free + free_more, dose + dose_more);
    };
}

} // namespace tidemark::transport
