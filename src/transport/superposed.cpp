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

} // namespace tidemark::transport
