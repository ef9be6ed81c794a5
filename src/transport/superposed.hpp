// SPDX-License-Identifier: MIT
/// Two solved stages of one solute on the same nodes, added up: what the shut tissue holds, and
/// what a bath gives to tissue that holds none. The equations are linear, so their sum is the
/// answer for a source that gives and never takes. Not for two baths that both take part.
#pragma once

#include "transport/history.hpp"

#include <memory>
#include <vector>

namespace tidemark::transport {

class Superposed : public History {
public:
    /// To unknown i of `held`, all of which are tissue, `source` adds its own unknown `places[i]`.
    /// Only the source has an influx.
    Superposed(std::shared_ptr<const History> held, std::shared_ptr<const History> source,
               std::vector<int> places);

    double last() const override;
    State at(double t) const override;
    Eigen::VectorXd front(double t, double loss) const override;
    Follower follow(const Eigen::VectorXd& weights) const override;
    double influx(double t) const override { return source_->influx(t); }
    double time_error() const override { return held_->time_error() + source_->time_error(); }

private:
    std::shared_ptr<const History> held_, source_;
    std::vector<int> places_;
};

} // namespace tidemark::transport
