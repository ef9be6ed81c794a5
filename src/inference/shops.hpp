// SPDX-License-Identifier: MIT
/// Shops that are thought of, with how likely each is: a cloud of points with shares, drawn towards
/// what was seen in a few rounds (importance sampling, each round's points spread as the last
/// round's shares say). Serves any likelihood.
#pragma once

#include "base/record.hpp"
#include "inference/inputs.hpp"

#include <Eigen/Core>

#include <functional>

namespace tidemark::inference {

/// What the pieces of a shop have in common, as logarithms of factors on the records' numbers [1],
/// in this order wherever there are rows of them.
enum Common { salt_speed, nitrite_ratio, loss_rate, cured_eye, piece_spread };
constexpr int commons = 5;
using ShopNumbers = Eigen::Matrix<double, commons, 1>;
using Shops = Eigen::Matrix<double, Eigen::Dynamic, commons>; ///< a shop each row

/// What is thought before any slice: every logarithm normal about 0.
struct ShopPrior {
    Eigen::Matrix<double, commons, commons> covariance; ///< of what a shop's pieces share
    /// Standard deviations of the logarithms of speed and loss between its pieces [1]; the first in
    /// the middle, for how far its own pieces differ is of the shop, too: piece_spread.
    double piece_speed = 0, piece_loss = 0;
};

/// The inputs' spread less that between pieces: uncertainty.piece-speed, with how far a shop's own
/// may differ from it, and uncertainty.piece-loss. Throws base::RunError if diffusivity or loss is
/// not spread lognormally among the inputs.
ShopPrior shop_prior(const Inputs& inputs, const base::Records& records);

struct Cloud {
    Shops shops;
    Eigen::VectorXd shares; ///< of each, adding up to 1
    Eigen::VectorXd start;  ///< logarithm of prior over what the points are spread by

    ShopNumbers mean() const;
    Eigen::Matrix<double, commons, commons> covariance() const;
};

/// The shares of a cloud's shops where each has this logarithm of the likelihood.
Eigen::VectorXd shares_of(const Eigen::VectorXd& start, const Eigen::VectorXd& log_likelihood);

/// `log_likelihood` tells that of each of some shops. Deterministic.
Cloud weighed(const ShopPrior& prior, int shops,
              const std::function<Eigen::VectorXd(const Shops&)>& log_likelihood);

} // namespace tidemark::inference
