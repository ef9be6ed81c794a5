// SPDX-License-Identifier: MIT
/// One solute through several stages on the same nodes: a new bath, other wet faces or another
/// temperature begin a link of the chain. What passes from link to link is the water of each node
/// with what is dissolved in it and what has reacted there; baths stay behind. Needs the same water
/// at every node in every stage.
#pragma once

#include "transport/history.hpp"

#include <memory>
#include <utility>
#include <vector>

namespace tidemark::transport {

/// Water of each node over all regions [kg water]; wall nodes keep theirs when a bath stands for
/// them.
Eigen::VectorXd node_water(const System& system);

/// Starts `system` from `nodal` [kg per kg water], values at the nodes, with the bath at
/// `concentration` [kg per kg bath water]. Wall nodes share what they hold with the bath they
/// touch: mass is kept, and a held bath takes them to its own value.
void start_from(System& system, const Eigen::VectorXd& nodal, double concentration);

/// free + loss x dose at the first `nodes` nodes, those of the core's plane, at t [s].
Eigen::VectorXd on_front(const History& history, const System& system, Eigen::Index nodes, double t,
                         double loss);

class Chain {
public:
    struct Link {
        double from = 0; ///< [s]; its end is the next link's
        System system;
        std::shared_ptr<const History> history;
        double loss = 0;         ///< of all tissue in this stage [1/s]
        Eigen::VectorXd reacted; ///< at the nodes before this stage [kg per kg water]
        double jump = 0;     ///< what wall nodes took from a held bath, or were given, at once [kg]
        bool shared = false; ///< the bath is others' too: what it lost does not tell what went here
        History::Follower mean, bath; ///< of the mean to follow, of the bath; on its own clock
    };

    /// `initial` [kg per kg water] at the nodes, `mean` the weights of the mean to follow [1]. The
    /// first `front` nodes are the plane of the core, 0: all; what is told at the nodes is told of
    /// these.
    Chain(Eigen::VectorXd initial, Eigen::VectorXd mean, Eigen::Index front = 0);

    /// Begins a stage at `from` [s], which ends the one before; stages not begun by then never
    /// were. `system` must have been started from before(from). `given` [kg] is what the tissue got
    /// at that very moment by other ways than a bath; `shared` as in Link.
    void begin(double from, System system, std::shared_ptr<const History> history, double loss,
               double given = 0, bool shared = false);

    const Eigen::VectorXd& initial() const { return initial_; }
    /// Free solute at all nodes that a stage beginning at t starts from [kg per kg water].
    Eigen::VectorXd before(double t) const;
    bool empty() const { return links_.empty(); }
    const std::vector<Link>& links() const { return links_; }
    const Link& last() const { return links_.back(); }

    /// At the nodes at t [s], where stages meet that of the one ending, without any the initial:
    /// free, and free and reacted together [kg per kg water].
    Eigen::VectorXd free(double t) const;
    Eigen::VectorXd arrived(double t) const;
    Eigen::VectorXd free_everywhere(double t) const; ///< the same at all nodes
    /// Weighted means of {free, arrived}.
    std::pair<double, double> mean(double t) const;
    /// Of the bath of the stage at t, as its own concentration [kg per kg bath water].
    double bath(double t) const;

    /// What the tissue took from the bath of link k up to t [kg], negative in a soak; from the
    /// link's beginning, for t within it.
    double taken(std::size_t k, double t) const;
    /// The same over all links between two times [kg].
    double taken_between(double from, double to) const;
    /// |held and reacted in the tissue - at the start - taken from the baths| over the largest [1].
    double mass_balance_error(double t) const;
    double time_error() const; ///< of all stages together, relative [1]

private:
    std::size_t link_at(double t) const;
    double held(const Link& link, double t) const; ///< in the tissue, and reacted there [kg]
    Eigen::VectorXd on_front(const Link& link, double t, double loss) const;
    Eigen::VectorXd initial_, mean_;
    Eigen::Index front_ = 0;
    std::vector<Link> links_;
};

} // namespace tidemark::transport
