// SPDX-License-Identifier: MIT
#include "posterior/weigh.hpp"

#include "inference/sampling.hpp"

#include <Eigen/Cholesky>

#include <cmath>
#include <numbers>
#include <utility>

namespace tidemark::posterior {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

namespace {

constexpr double wider = 1.5; ///< the second half than what the first found
constexpr double tiny = 1e-6; ///< of the prior's variance, where nothing is left of it

double normal_below(double x) {
    return 0.5 * std::erfc(-x / std::numbers::sqrt2);
}

} // namespace

Weigher::Weigher(Prior prior, std::vector<Source> sources, int draws)
    : prior_(std::move(prior)), sources_(std::move(sources)) {
    const Index half = draws / 2, count = prior_.mean.size();
    const MatrixXd z = inference::uniforms(half, count, 7).unaryExpr([](double u) {
        return inference::normal_score(u);
    });
    const MatrixXd spread = prior_.sd.asDiagonal();
    draw(z, prior_.mean, spread);
    log_prior_ = VectorXd::Zero(half);
    const Weighed first = weigh();
    const MatrixXd wide = wider * wider * first.covariance + tiny * spread * spread;
    const Eigen::LLT<MatrixXd> factor(wide);
    const MatrixXd root = factor.matrixL();
    draw(z, first.mean, root);
    // Every draw as one of both halves together.
    const auto log_density = [&](const VectorXd& mean, const MatrixXd& lower) -> VectorXd {
        const MatrixXd off = (draws_.rowwise() - mean.transpose()).transpose();
        return -0.5 * lower.triangularView<Eigen::Lower>()
                          .solve(off)
                          .colwise()
                          .squaredNorm()
                          .transpose() -
               VectorXd::Constant(draws_.rows(), lower.diagonal().array().log().sum());
    };
    const VectorXd own = log_density(prior_.mean, spread), other = log_density(first.mean, root);
    const VectorXd larger = own.cwiseMax(other);
    log_prior_ = own.array() - larger.array() -
                 ((own - larger).array().exp() + (other - larger).array().exp()).log();
}

void Weigher::draw(const MatrixXd& z, const VectorXd& mean, const MatrixXd& root) {
    const Index before = draws_.rows();
    draws_.conservativeResize(before + z.rows(), z.cols());
    draws_.bottomRows(z.rows()) = (z * root.transpose()).rowwise() + mean.transpose();
    predicted_.resize(sources_.size());
    logs_.resize(draws_.rows(), static_cast<Index>(sources_.size()));
    for (std::size_t s = 0; s < sources_.size(); ++s) {
        MatrixXd& all = predicted_[s];
        all.conservativeResize(draws_.rows(), sources_[s].value.size());
        for (Index i = before; i < draws_.rows(); ++i) {
            all.row(i) = sources_[s].predict(draws_.row(i).transpose()).transpose();
        }
        logs_.col(static_cast<Index>(s)) = log_likelihood(s, sources_[s].value);
    }
}

VectorXd Weigher::log_likelihood(std::size_t s, const VectorXd& value) const {
    const Source& source = sources_[s];
    MatrixXd miss = value.transpose().replicate(draws_.rows(), 1) - predicted_[s];
    VectorXd log = VectorXd::Zero(draws_.rows());
    for (Index k = 0; k < value.size(); ++k) {
        if (source.at_most[static_cast<std::size_t>(k)]) { // stands apart from the others
            const double sd = std::sqrt(source.covariance(k, k));
            log += miss.col(k).unaryExpr([&](double m) { return std::log(normal_below(m / sd)); });
            miss.col(k).setZero();
        }
    }
    const Eigen::LLT<MatrixXd> factor(source.covariance);
    const MatrixXd z = factor.matrixL().solve(miss.transpose());
    return log - 0.5 * z.colwise().squaredNorm().transpose();
}

Weighed Weigher::of(const VectorXd& log) const {
    Weighed w;
    w.weights = (log.array() - log.maxCoeff()).exp();
    w.weights /= w.weights.sum();
    w.effective = 1 / w.weights.squaredNorm();
    w.mean = draws_.transpose() * w.weights;
    const MatrixXd off = draws_.rowwise() - w.mean.transpose();
    w.covariance = off.transpose() * w.weights.asDiagonal() * off;
    return w;
}

Weighed Weigher::weigh(std::optional<std::size_t> without) const {
    VectorXd log = log_prior_ + logs_.rowwise().sum();
    if (without) {
        log -= logs_.col(static_cast<Index>(*without));
    }
    return of(log);
}

double Weigher::below(const Weighed& w, std::size_t s, Index k, double value) const {
    const double sd = std::sqrt(sources_[s].covariance(k, k));
    return w.weights.dot(predicted_[s].col(k).unaryExpr(
        [&](double middle) { return normal_below((value - middle) / sd); }));
}

double Weigher::quantile(const Weighed& w, std::size_t s, Index k, double q) const {
    const double sd = std::sqrt(sources_[s].covariance(k, k));
    double low = predicted_[s].col(k).minCoeff() - 5 * sd,
           high = predicted_[s].col(k).maxCoeff() + 5 * sd;
    for (int step = 0; step < 30; ++step) {
        const double middle = 0.5 * (low + high);
        (below(w, s, k, middle) < q ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

} // namespace tidemark::posterior
