// SPDX-License-Identifier: MIT
/// What slices teach about one shop's meat: how its speed of diffusion and its loss of nitrite
/// stand to the numbers of the records. A multiplier on each is shared by all batches of the shop;
/// around it every piece varies by itself, as do thickness, cooler, brine and the colour's
/// threshold. One muscle at a time. Not for batches with a diffusivity or loss of their own.
#pragma once

#include "base/record.hpp"
#include "inference/case_inputs.hpp"
#include "inference/slice_model.hpp"

#include <Eigen/Core>

#include <array>
#include <memory>
#include <string>
#include <vector>

namespace tidemark::inference {

/// The two multipliers, in this order wherever there are pairs.
enum Multiplier { speed_of_diffusion, speed_of_loss };

/// Standard deviations of the logarithms of the multipliers [1]: of a shop, with what all meat
/// shares, and of pieces within one: uncertainty.piece-speed and uncertainty.piece-loss.
struct Split {
    Eigen::Vector2d shop, piece;
};
/// Throws base::RunError if diffusivity or loss is not spread lognormally among the inputs.
Split split(const Inputs& inputs, const base::Records& records);

/// Draws of one kind of batch with what each shows on one day; serves every slice of that kind and
/// day. They come from the records' whole spread, and are weighed anew for each shop that is
/// thought of (importance sampling on a grid of shops).
class Trial {
public:
    Trial(const SliceModel& model, const Inputs& inputs, const Drawing& drawing, const Split& split,
          double time, int draws = 4096);

    /// Likelihood of a slice [up to a factor] for the shops of the grid, speed x loss.
    Eigen::MatrixXd likelihood(const Slice& seen) const;

    /// How often a slice as far off as this or further is seen [1], two-sided, for a shop out of
    /// these shares. A small share says that the slice fits badly.
    double surprise(const Slice& seen, const Eigen::MatrixXd& shares) const;

private:
    std::vector<Slice> shown_;
    std::array<Eigen::MatrixXd, 2> weights_; ///< draw x node of the grid
    Eigen::MatrixXd sums_;                   ///< of the weights of all draws, speed x loss
};

/// A batch that was sliced.
struct Seen {
    std::shared_ptr<const Trial> trial;
    Slice slice;
};

struct Learnt {
    int batches = 0;
    Split prior;
    Eigen::Vector2d log_mean;          ///< of the shop's multipliers [1]
    Eigen::Matrix2d log_covariance;    ///< of the same [1]
    std::array<bool, 2> told{};        ///< whether the slices say anything of it
    std::array<std::string, 2> reason; ///< if not, why, and what would
    bool bound = false; ///< every slice was pink through: the cure is only so fast or faster
    std::vector<double> surprises;         ///< of each batch, given the others [1]
    std::vector<std::string> conflicts;    ///< batches that do not fit the others
    std::array<Eigen::VectorXd, 2> shares; ///< of the grid, for quantile()

    /// The multiplier below which a share `q` in (0, 1) of the posterior lies [1].
    double quantile(Multiplier which, double q) const;
};

/// The posterior of a shop. `seen` may be empty: then it is the prior. Equal slices of one trial
/// are worked out once.
Learnt learn(const Split& split, const std::vector<Seen>& seen);

/// The inputs of the next batch in this shop: its multipliers, and the piece's own part on top.
Inputs learnt_inputs(Inputs inputs, const Learnt& learnt);

} // namespace tidemark::inference
