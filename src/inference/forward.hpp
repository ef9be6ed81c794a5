// SPDX-License-Identifier: MIT
/// The days of one draw: a prediction's events read off response surfaces that serve all draws.
/// Part of ranges.hpp, apart for the tests, which hold it against direct solves.
#pragma once

#include "cure/outcome.hpp"
#include "inference/case_inputs.hpp"
#include "inference/surface.hpp"

#include <map>
#include <vector>

namespace tidemark::inference {

/// What happens in one draw [s]; infinite: not within the horizon.
struct Days {
    double pull = 0, lasting = 0, salted = 0, last_good = 0;
};

class Forward {
public:
    /// Prepares surfaces for these draws; no other may be asked for. Keeps a reference to the
    /// prediction.
    Forward(const cure::Outcome& prediction, base::Records records, const std::vector<Draw>& draws);

    Days operator()(const Draw& draw) const;
    double pull(const Draw& draw) const; ///< [s] that day alone
    /// Between when the mean salt is in the band [s].
    std::pair<double, double> salt(const Draw& draw) const;

    /// Relative error of the surface of the pull day in one draw [1]: found by solving it on the
    /// same cells.
    double error(const Draw& draw) const;

private:
    struct Event {
        Level level;
        double target;        ///< [kg per kg water] in the central case
        double Draw::*factor; ///< on the target; may be null
        double Draw::*pace;   ///< by fat and fibres
    };
    double target(const Event& event, const Draw& draw) const;
    Eigen::VectorXd curve(Level level, const Draw& draw) const;
    /// `curve`: of the event's level.
    double time(const Event& event, const Eigen::VectorXd& curve, const Draw& draw) const;

    const cure::Outcome& prediction_;
    double horizon_;
    Similarity coarse_, fine_;
    std::vector<Event> events_; ///< pull, salted, too salty, and with nitrite: lasting, too much
    std::map<Level, Surface> surfaces_;
};

} // namespace tidemark::inference
