// SPDX-License-Identifier: MIT
/// One part's share of a history of parts in one bath (join.hpp), for histories that have none of
/// their own. Its bath is everybody's: what that lost is no measure of what this part took.
#pragma once

#include "transport/history.hpp"

#include <memory>
#include <utility>

namespace tidemark::transport {

class Share : public History {
public:
    /// The part has `count` unknowns from `first` on, besides the bath, which is the last of all.
    /// Of a finite bath.
    Share(std::shared_ptr<const History> whole, Eigen::Index first, Eigen::Index count)
        : whole_(std::move(whole)), first_(first), count_(count) {}

    double last() const override { return whole_->last(); }
    State at(double t) const override {
        const State all = whole_->at(t);
        return {part(all.free), part(all.dose)};
    }
    double influx(double) const override { return 0; }
    double time_error() const override { return whole_->time_error(); }

private:
    Eigen::VectorXd part(const Eigen::VectorXd& all) const {
        Eigen::VectorXd own(count_ + 1);
        own << all.segment(first_, count_), all[all.size() - 1];
        return own;
    }

    std::shared_ptr<const History> whole_;
    Eigen::Index first_, count_;
};

} // namespace tidemark::transport
