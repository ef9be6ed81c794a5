// SPDX-License-Identifier: MIT
/// How the day of the core goes with what fat lets through and with the fibre ratio, without
/// solving the piece again: by a line from top to bottom through lean and fat cap, its sides and
/// ends as those of a box; without loss. Near, for numbers that are spread by a factor of two;
/// tests hold it against solved cases. A drawn outline's fat is left out.
#pragma once

#include "cure/case.hpp"
#include "cure/setup.hpp"

#include <Eigen/Core>

namespace tidemark::inference {

class Pace {
public:
    /// `level` of the brine's that the core must reach, in (0, 1) [1].
    Pace(const cure::Case& question, const cure::Setup& setup, double level);

    /// Pace over that of the case [1] where fat's diffusivity, its water and the ratio of
    /// diffusivities along and across the fibres are so many times as large [1].
    double operator()(double fat, double water, double fibres) const;

    static bool has_fat(const cure::Case& question, const cure::Setup& setup);
    static bool has_fibres(const cure::Case& question, const cure::Setup& setup);

private:
    double rate(double fibres) const; ///< of the slowest mode of the box [1/m2]

    bool bottom_wet_ = true, top_wet_ = true, angled_ = false;
    /// One over the square of the wet lengths [1/m2]; 0: none.
    double upright_ = 0, level_ = 0, ends_ = 0;
    double ratio_ = 1, angle_ = 0;
    Eigen::VectorXd of_fat_; ///< logarithm of the pace, evenly over that of fat's diffusivity
    double of_water_ = 0;    ///< power of fat's water
};

} // namespace tidemark::inference
