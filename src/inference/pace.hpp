// SPDX-License-Identifier: MIT
/// How the days of a piece go with what fat lets through, with its water and with the fibre ratio:
/// the piece itself, solved a dozen times on few cells with these numbers changed. Ratios of days
/// need no more; tests hold them against direct solves. Not for a cooler with a log.
#pragma once

#include "cure/case.hpp"
#include "cure/setup.hpp"
#include "inference/few_cells.hpp"

#include <Eigen/Core>

#include <vector>

namespace tidemark::inference {

class Pace {
public:
    /// Levels that are asked for in the middle, over what the brine would bring [1].
    struct Span {
        double low = 0.4, high = 0.4;
    };

    Pace() = default; ///< nothing varies
    Pace(const cure::Case& question, const cure::Setup& setup, const Span& core, const Span& mean);

    /// Where fat's diffusivity, its water and the ratio of diffusivities along and across the
    /// fibres are so many times as large [1]: how much of each change that was solved.
    Eigen::VectorXd weights(double fat, double water, double fibres) const;
    /// Pace over that of the case [1] with such weights(): the day on which `level` [1] is reached
    /// by the core, in nitrite arrived or in salt where there is none, or by the mean salt of the
    /// lean, comes so much sooner. `loss`: factor on the loss number (similar.hpp).
    double operator()(Followed of, double level, double loss, const Eigen::VectorXd& weights) const;

    static bool has_fat(const cure::Case& question, const cure::Setup& setup);
    static bool has_fibres(const cure::Case& question, const cure::Setup& setup);

private:
    /// Logarithms of the pace: evenly over logarithms of levels, by what was changed.
    struct Table {
        double low = 0, step = 0;
        Eigen::MatrixXd logs;
        double operator()(double level, const Eigen::VectorXd& weights) const;
    };
    bool fat_ = false, fibres_ = false;
    Table mean_;
    std::vector<Table> core_; ///< by loss
};

} // namespace tidemark::inference
