// SPDX-License-Identifier: MIT
/// What a solve returns: the state at any time of a stage, and how well mass was kept.
#pragma once

#include "transport/system.hpp"

#include <Eigen/Core>

#include <functional>
#include <utility>

namespace tidemark::transport {

/// The state of every unknown at one time.
struct State {
    Eigen::VectorXd free; ///< u [kg per kg water]
    Eigen::VectorXd
        dose; ///< integral of u over time [s]; times a region's loss: what reacted there
};

/// A solved stage, continuous in time from 0 to last() [s].
class History {
public:
    virtual ~History() = default;

    /// Latest time covered [s].
    virtual double last() const = 0;
    /// The state at t [s], 0 <= t <= last().
    virtual State at(double t) const = 0;
    /// free + loss x dose at t: what has arrived in cells of that loss [1/s].
    virtual Eigen::VectorXd arrived(double t, double loss) const;
    /// The same of the plane of the core (along.hpp): its unknowns first, the bath last. All of
    /// them where there is one plane.
    virtual Eigen::VectorXd front(double t, double loss) const { return arrived(t, loss); }
    /// front() will be asked for hundreds of times, here and of what takes this as its donor: what
    /// makes these cheaper is worked out once. Not for several threads at a time.
    virtual void front_often() const {}
    /// {w.free, w.dose} for fixed weights on the unknowns, at little cost; for as long as the
    /// history is there.
    using Follower = std::function<std::pair<double, double>(double t)>;
    virtual Follower follow(const Eigen::VectorXd& weights) const;
    /// Solute that a held bath has given up to t [kg]; 0 for a finite bath.
    virtual double influx(double t) const = 0;
    /// Estimated error of the time integration, relative to the state [1].
    virtual double time_error() const = 0;
};

/// |in cells + reacted + in the bath - at the start - influx| at t over the largest of these [1].
double mass_balance_error(const System& system, const History& history, double t);

} // namespace tidemark::transport
