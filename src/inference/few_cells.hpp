// SPDX-License-Identifier: MIT
/// A piece on few cells, for how its days go with a number that is changed: what comes to core and
/// mean of a solute that is not lost, and from it what comes of one that is. Part of pace.hpp.
#pragma once

#include "cure/grid.hpp"
#include "cure/setup.hpp"

#include <Eigen/Core>

#include <array>
#include <memory>

namespace tidemark::inference {

/// What is followed: the core, and the mean over the lean.
enum Followed { of_core, of_mean };

/// What has come by a row of times to core and mean, and what is left of the brine, over what the
/// brine was [1], of a solute that is not lost.
struct Came {
    std::array<Eigen::VectorXd, 2> at;
    Eigen::VectorXd bath;
    double balance = 1; ///< that all come to
};

/// Numbers of a piece, as factors [1]: of fat its diffusivity and its water, and the ratio of
/// diffusivities along and across the fibres in the section.
struct Altered {
    double fat = 1, water = 1, fibres = 1;
};

/// The section on few cells, and on their halves.
class Few {
public:
    Few(const cure::Setup& setup, double most_cells);

    /// At these times [s].
    Came solve(const Eigen::VectorXd& t, const Altered& change, bool halved) const;

private:
    cure::Setup setup_;
    std::unique_ptr<cure::Grid> grids_[2];
};

/// The same piece with its ends, `rate` [1/s] over the square of the way to them: what is missing
/// is the product of both ways.
Came with_ends(const Came& section, const Eigen::VectorXd& t, double rate);

/// What arrives at the core, free and reacted, of a solute lost at the rates `loss` in the meat and
/// `in_bath` in its brine [1/s]; `t` at equal steps of the logarithm. Without loss all would be as
/// it `came`; were the brine to lose as the meat, all would fade alike; so what the brine keeps of
/// that is as much brine added later (Danckwerts' transformation, with a brine that the meat
/// thins).
Eigen::VectorXd arrived(const Eigen::VectorXd& t, const Came& came, double loss, double in_bath);

} // namespace tidemark::inference
