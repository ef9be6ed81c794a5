// SPDX-License-Identifier: MIT
/// Weighs a prior by what was published: draws, each with the prior and the likelihood of all
/// figures given it over the density it was drawn from (importance sampling). Half of the draws are
/// the prior's, half those of a normal distribution half as wide again as what the first half
/// found. Right for any smooth prediction as long as enough draws count, which `effective` tells.
#pragma once

#include <Eigen/Core>

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::posterior {

/// Independent normal numbers.
struct Prior {
    std::vector<std::string> names;
    Eigen::VectorXd mean, sd;
};

/// Figures of one source. All logarithms, or what else is normally spread.
struct Source {
    std::string name;
    std::vector<std::string> figures;
    Eigen::VectorXd value;      ///< as published
    Eigen::MatrixXd covariance; ///< of published about predicted
    std::vector<bool> at_most;  ///< the value is an upper bound of what was seen
    /// Middles of the figures for given shared numbers.
    std::function<Eigen::VectorXd(const Eigen::VectorXd&)> predict;
};

struct Weighed {
    Eigen::VectorXd mean, weights; ///< weights of the draws, which sum to 1
    Eigen::MatrixXd covariance;
    double effective = 0; ///< size of a sample of equal weights that is worth as much [draws]
};

class Weigher {
public:
    Weigher(Prior prior, std::vector<Source> sources, int draws = 1 << 14);

    const std::vector<Source>& sources() const { return sources_; }
    const Prior& prior() const { return prior_; }
    const Eigen::MatrixXd& draws() const { return draws_; }
    /// Predicted middles of the figures of source `s`, a row for each draw.
    const Eigen::MatrixXd& predicted(std::size_t s) const { return predicted_[s]; }

    /// All sources, but the one left out.
    Weighed weigh(std::optional<std::size_t> without = {}) const;
    /// What a source's figure would be if it were looked at again: the share of the predictive
    /// distribution below `value` [1].
    double below(const Weighed& weighed, std::size_t s, Eigen::Index figure, double value) const;
    /// The value with a share `q` of the predictive distribution below it.
    double quantile(const Weighed& weighed, std::size_t s, Eigen::Index figure, double q) const;

private:
    /// Puts draws where standard normals `z` fall in a normal distribution.
    void draw(const Eigen::MatrixXd& z, const Eigen::VectorXd& mean, const Eigen::MatrixXd& root);
    Eigen::VectorXd log_likelihood(std::size_t s, const Eigen::VectorXd& value) const;
    Weighed of(const Eigen::VectorXd& log_weights) const;

    Prior prior_;
    std::vector<Source> sources_;
    Eigen::MatrixXd draws_;
    Eigen::VectorXd log_prior_; ///< over the density of the draws
    std::vector<Eigen::MatrixXd> predicted_;
    Eigen::MatrixXd logs_; ///< log likelihood, draw x source
};

} // namespace tidemark::posterior
