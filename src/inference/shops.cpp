// SPDX-License-Identifier: MIT
#include "inference/shops.hpp"

#include "base/error.hpp"
#include "inference/sampling.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;
using Square = Eigen::Matrix<double, commons, commons>;

constexpr double most_of_piece = 0.9;     ///< of the spread; the shop keeps some [1]
constexpr double as_good_as_known = 1e-3; ///< standard deviation of what does not vary [1]
constexpr int rounds = 4;
constexpr double enough = 0.1;   ///< of the points must count before a round is believed [1]
constexpr double far_out = 0.25; ///< of the points that stay spread as the prior [1]
constexpr double inflated = 1.2; ///< the others' spread over that of the shares [1]

/// A normal distribution to draw from and to ask of.
struct Normal {
    ShopNumbers mean;
    Eigen::LLT<Square> root;

    Normal(const ShopNumbers& middle, const Square& covariance) : mean(middle), root(covariance) {}
    double log_density(const ShopNumbers& x) const { // up to what all normals have
        const ShopNumbers z = root.matrixL().solve(x - mean);
        return -0.5 * z.squaredNorm() - Square(root.matrixL()).diagonal().array().log().sum();
    }
    ShopNumbers at(const ShopNumbers& scores) const { return mean + root.matrixL() * scores; }
};

/// How many even points the shares are worth.
double worth(const VectorXd& shares) {
    return 1 / shares.squaredNorm();
}

} // namespace

ShopPrior shop_prior(const Inputs& inputs, const base::Records& records) {
    const std::vector<std::string> names{"diffusivity", "nitrite-ratio", "loss", "eye"};
    for (const char* name : {"diffusivity", "loss"}) {
        const int column = inputs.column(name);
        if (column < 0 || inputs.list()[column].spread.kind != Distribution::Kind::lognormal) {
            throw base::RunError(std::string("nothing can be learnt of ") + name +
                                 ": it has no lognormal spread");
        }
    }
    ShopPrior p;
    p.covariance.setZero();
    p.covariance.topLeftCorner(4, 4) = inputs.log_covariance(names);
    const base::Record &speed = *records.find("uncertainty.piece-speed"),
                       &loss = *records.find("uncertainty.piece-loss");
    const auto less = [&](Common which, double piece) {
        double& whole = p.covariance(which, which);
        const double own = std::min(piece, most_of_piece * std::sqrt(whole));
        whole -= own * own;
        return own;
    };
    p.piece_speed = less(salt_speed, std::log(speed.si()));
    p.piece_loss = less(loss_rate, std::log(loss.si()));
    p.covariance(piece_spread, piece_spread) =
        std::pow(std::log(records.find("uncertainty.piece-speed-between-shops")->si()), 2);
    for (int k = 0; k < commons; ++k) {
        p.covariance(k, k) = std::max(p.covariance(k, k), as_good_as_known * as_good_as_known);
    }
    return p;
}

ShopNumbers Cloud::mean() const {
    return shops.transpose() * shares;
}

Square Cloud::covariance() const {
    const Shops centred = shops.rowwise() - mean().transpose();
    return centred.transpose() * shares.asDiagonal() * centred;
}

VectorXd shares_of(const VectorXd& start, const VectorXd& log_likelihood) {
    const VectorXd log = start + log_likelihood;
    const VectorXd p = (log.array() - log.maxCoeff()).exp();
    return p / p.sum();
}

Cloud weighed(const ShopPrior& prior, int count,
              const std::function<VectorXd(const Shops&)>& log_likelihood) {
    const Normal before(ShopNumbers::Zero(), prior.covariance);
    Cloud cloud;
    cloud.shops.resize(count, commons);
    cloud.start.resize(count);
    const auto scores = [&](std::uint64_t seed) {
        return Shops(uniforms(count, commons, seed).unaryExpr(&normal_score));
    };
    Shops z = scores(11);
    for (Index m = 0; m < count; ++m) {
        cloud.shops.row(m) = before.at(z.row(m).transpose()).transpose();
    }
    cloud.start.setZero();
    bool last = false;
    for (int round = 1;; ++round) {
        const VectorXd log = log_likelihood(cloud.shops);
        cloud.shares = shares_of(cloud.start, log);
        if (last || log.maxCoeff() - log.minCoeff() < 1e-12) {
            return cloud;
        }
        // Where few points would count, the likelihood is believed in part only: to find the next
        // points, and in the end, where thousands of slices leave nothing to tell apart.
        Cloud part = cloud;
        double believed = 1;
        for (; worth(part.shares) < enough * count && believed > 1e-5; believed *= 0.7) {
            part.shares = shares_of(cloud.start, 0.7 * believed * log);
        }
        if (round == rounds) {
            return part;
        }
        last = believed == 1;
        Square covariance = inflated * inflated * part.covariance();
        covariance.diagonal().array() += 1e-4 * prior.covariance.diagonal().array();
        const Normal now(part.mean(), covariance);
        z = scores(11 + static_cast<std::uint64_t>(round));
        for (Index m = 0; m < count; ++m) {
            // The first quarter of a shuffled sequence is as even as the whole.
            const bool out = static_cast<double>(m) < far_out * count;
            const ShopNumbers x = (out ? before : now).at(z.row(m).transpose());
            const double a = before.log_density(x), b = now.log_density(x), top = std::max(a, b);
            cloud.shops.row(m) = x.transpose();
            cloud.start[m] =
                a - top - std::log(far_out * std::exp(a - top) + (1 - far_out) * std::exp(b - top));
        }
    }
}

} // namespace tidemark::inference
