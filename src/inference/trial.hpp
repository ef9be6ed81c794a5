// SPDX-License-Identifier: MIT
/// How likely what a slice shows is for shops that are thought of.
#pragma once

#include "base/record.hpp"
#include "inference/case_inputs.hpp"
#include "inference/shops.hpp"
#include "inference/slice_model.hpp"

#include <Eigen/Core>

#include <vector>

namespace tidemark::inference {

/// Draws of one kind of batch with what each shows on one day; serves every slice of that kind and
/// day. They come from the records' whole spread, and are weighed anew for each shop that is
/// thought of (importance sampling).
class Trial {
public:
    /// `inputs` as of the case, `drawing` of the same.
    Trial(const SliceModel& model, const Inputs& inputs, const Drawing& drawing,
          const ShopPrior& prior, const base::Records& records, double time, int draws = 4096);

    /// Logarithm of the likelihood [up to a constant] of slices for some shops: shop x slice. Of
    /// the salt measured in them alone, or of all that was seen.
    Eigen::MatrixXd log_likelihood(const std::vector<Slice>& seen, const Shops& shops,
                                   bool salt_alone = false) const;

    /// How often a slice as far off as each of these or further is seen [1], two-sided, for a shop
    /// out of the shares of its column. A small share says that the slice fits badly.
    Eigen::VectorXd surprises(const std::vector<Slice>& seen, const Shops& shops,
                              const Eigen::MatrixXd& shares) const;

private:
    Eigen::MatrixXf weights(const Shops& shops, Eigen::Index from, Eigen::Index rows,
                            bool salt) const;

    std::vector<Slice> shown_;
    Eigen::MatrixXd numbers_; ///< of each draw: nitrite's pace, ratio, loss, need; logarithms
    Eigen::Vector4d middle_, whole_; ///< their means and standard deviations among the draws
    double need_of_piece_ = 0;       ///< standard deviation of the need between pieces [1]
    ShopPrior prior_;
    LookErrors errors_;
};

} // namespace tidemark::inference
