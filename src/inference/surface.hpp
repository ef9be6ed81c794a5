// SPDX-License-Identifier: MIT
/// A response surface over cases that are similar to one solved case: same shape, same tissues,
/// other size, speed, loss and bath. A few solves at Chebyshev nodes of the three groups of numbers
/// of similar.hpp serve every draw. Not for a cooler with a log.
#pragma once

#include "cure/two_meshes.hpp"
#include "inference/chebyshev.hpp"
#include "inference/similar.hpp"

#include <Eigen/Core>

#include <array>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <vector>

namespace tidemark::inference {

/// What is followed.
enum class Level { nitrite_core, nitrite_mean, salt_core, salt_mean };

/// Solves similar cases on the cells of a solved one. Keeps references to what it is given.
class Similarity {
public:
    /// On these cells, accurate from `first` to `last` [s] of the solved case's clock.
    Similarity(const cure::Setup& setup, const cure::Grid& grid, double first, double last);
    /// The same in the span for which `grid` has been solved, which costs less. Throws
    /// base::RunError if it was solved along a cooler's log.
    Similarity(const cure::Setup& setup, const cure::Grid& grid);

    /// A level of a similar case over time: nitrite arrived, or salt, in the water of the core or
    /// on the mean over the lean, relative to partition x concentration of the brine [1]. Time [s]
    /// is that of the solved case at the same Fourier number.
    std::function<double(double)> level(Level level, const Similar& similar) const;

    /// One similar case, solved with a brine that would bring the meat's water to 1.
    struct Solve {
        transport::System system;
        std::shared_ptr<const transport::History> history;
        Eigen::Index front = 0; ///< nodes of the core's section
        double loss = 0;        ///< [1/s] of all tissue
        int lean = 0;           ///< its region
        /// Nitrite free and reacted, or salt, at the nodes of the core's section.
        Eigen::VectorXd nodal(double t) const;
        /// {free, dose} on the mean over the lean; of the brine. Who never asks pays nothing.
        std::pair<double, double> mean(double t) const;
        std::pair<double, double> bath(double t) const;

    private:
        struct Followed {
            std::once_flag begun;
            transport::History::Follower at;
        };
        mutable Followed mean_, bath_;
    };
    std::shared_ptr<const Solve> solve(bool nitrite, const Similar& similar) const;
    /// Least value of the lean, of values at the nodes.
    double lowest(const Eigen::VectorXd& nodal) const { return (*lowest_)(nodal).value; }

    double first() const { return first_; } ///< [s] accurate from here
    double last() const { return last_; }   ///< [s]

private:
    /// Core and mean are followed on the same nodes; several ask at a time.
    mutable std::mutex asking_;
    mutable std::map<std::array<double, 4>, std::shared_ptr<const Solve>> known_;
    mutable std::optional<transport::System> sections_[2]; ///< of salt and of nitrite

    const cure::Setup& setup_;
    const cure::Grid& grid_;
    double first_ = 0, last_ = 0;
    int lean_ = 0;
    std::shared_ptr<const geometry::LowestPoint> lowest_;
    std::shared_ptr<const transport::History> donor_; ///< whose space the others use
};

/// The least and the greatest factors of the cases to be served.
struct Box {
    Similar low, high;
    void widen(const Similar& similar);
};

/// When a level is first reached, for all cases in a box.
class Surface {
public:
    /// Serves targets from `low` to `high` [1], both above 0. A score of solves on the cells of
    /// `coarse`; what cells half as large, `fine`, make of it is found at five loss numbers and
    /// extrapolated.
    Surface(const Similarity& coarse, const Similarity& fine, Level level, const Box& box,
            double low, double high);

    /// The level of one case over time, as time() reads it: for several targets.
    Eigen::VectorXd curve(const Similar& similar) const;
    /// First time [s] on the solved case's clock that the level reaches the target; none if not by
    /// Similarity::last().
    std::optional<double> time(const Eigen::VectorXd& curve, double target) const;

    /// Relative error of time() in one case, by solving it on both meshes [1]; 0 where time() has
    /// none.
    double error(const Similar& similar, double target) const;

private:
    double log_level(const Eigen::VectorXd& curve, double log_time) const;

    void find_times(const Box& box, double low, double high);
    void refine(const Similarity& fine);
    double logged(double level) const;

    const Similarity& coarse_;
    const Similarity& fine_;
    Level level_;
    double floor_ = 0;
    std::array<ChebyshevAxis, 3> axes_; ///< logarithms, as clock_
    ChebyshevAxis clock_;
    std::vector<Similar> nodes_;
    Eigen::MatrixXd table_; ///< node of the axes x Chebyshev coefficient in the log of time
};

} // namespace tidemark::inference
