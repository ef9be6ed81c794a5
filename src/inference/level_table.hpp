// SPDX-License-Identifier: MIT
/// Levels at some spots for all cases similar to a solved one: solved at Chebyshev nodes of the
/// three groups of similar.hpp, tabulated over the logarithm of time. Values relative to what the
/// brine would bring.
#pragma once

#include "inference/surface.hpp"

#include <Eigen/Core>

#include <array>
#include <functional>
#include <vector>

namespace tidemark::inference {

class LevelTable {
public:
    /// Axes of the logarithms of Similar: loss, bath, film; with one node nothing varies.
    using Axes = std::array<ChebyshevAxis, 3>;
    /// The levels to keep, of a solve at a time [s] [1].
    using Reader = std::function<Eigen::VectorXd(const Similarity::Solve&, double)>;
    LevelTable() = default;
    /// Solves a case for each node, over the whole span of `similarity`, for nitrite or for salt.
    LevelTable(const Similarity& similarity, bool nitrite, const Axes& axes, const Reader& read);

    /// Where a draw stands in the table. Beyond an axis it stands at its end.
    struct Place {
        Eigen::VectorXd weights; ///< of the nodes [1]
        double clock = 1;        ///< time of the table over the draw's own [1]
    };
    Place place(const Similar& similar, double clock) const;

    /// logged() of the levels at a draw's own time [s]; before the first and after the last time of
    /// the table as at these.
    Eigen::VectorXd at(const Place& place, double time) const;
    double at(const Place& place, double time, Eigen::Index level) const;
    double first(const Place& place) const; ///< log of the earliest own time [log of s]

    /// log(level + floor): the floor is far below any target, so that nothing come yet is flat.
    static double logged(double level);
    static double level(double logged);

private:
    std::pair<std::size_t, double> moment(double time) const; ///< step and share of the next
    Axes axes_;
    double first_ = 0, step_ = 0;        ///< of log time
    std::vector<Eigen::MatrixXd> times_; ///< node of the axes x level
};

} // namespace tidemark::inference
