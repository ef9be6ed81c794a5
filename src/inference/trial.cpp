// SPDX-License-Identifier: MIT
#include "inference/trial.hpp"

#include "inference/sampling.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::MatrixXf;
using Eigen::VectorXd;

constexpr const char* names[] = {"diffusivity", "nitrite-ratio", "loss", "eye"};
/// Where salt was measured a draw's own ratio must be near the shop's: within this, of the
/// logarithm [1].
constexpr double near_ratio = 0.03;
constexpr Index block = 512; ///< draws weighed at once

double below(double x, double sd) {
    return 0.5 * std::erfc(-x / (sd * std::numbers::sqrt2));
}

/// Chance that no grey would be seen [1].
double unseen(const Slice& seen, const Slice& shown) {
    Slice through;
    through.through = true;
    through.error = seen.error;
    through.slips = seen.slips;
    return std::exp(log_likelihood(through, shown));
}

/// Likelihood of a slice [up to its units]. Where grey is seen, that it is, is news, too.
double likelihood_of(const Slice& seen, const Slice& shown, const LookErrors& errors,
                     bool salt_alone) {
    double log = 0;
    for (const Look look : looks) {
        const auto k = static_cast<std::size_t>(look);
        if (seen.found[k] && shown.found[k] && (!salt_alone || is_salt_of_meat(look)))
            log += errors.log_likelihood(look, *seen.found[k], *shown.found[k], seen.slips);
    }
    if (salt_alone)
        return std::exp(log);
    return std::exp(log + log_likelihood(seen, shown)) *
           (seen.through ? 1 : 1 - unseen(seen, shown));
}

/// How far a reading lies inside of what is shown [m], the mean over readings: rings, or else the
/// core.
double deeper(const Slice& seen, const Slice& shown) {
    double sum = 0, count = 0;
    const auto add = [&](const std::optional<double>& a, const std::optional<double>& b,
                         double sign) {
        if (a && b) {
            sum += sign * (*a - *b);
            ++count;
        }
    };
    for (auto face : {&Slice::top, &Slice::bottom, &Slice::left, &Slice::right}) {
        add(seen.every ? seen.every : seen.*face, shown.*face, 1);
    }
    if (count == 0) {
        add(seen.core_height, shown.core_height, -1);
        add(seen.core_width, shown.core_width, -1);
    }
    return count > 0 ? sum / count : 0;
}

} // namespace

Trial::Trial(const SliceModel& model, const Inputs& inputs, const Drawing& drawing,
             const ShopPrior& prior, const base::Records& records, double time, int draws)
    : numbers_(draws, 4), prior_(prior), errors_(records) {
    // Drawn one by one as wide as shops and pieces together; what goes with what is the shops'.
    Inputs wide = inputs;
    std::vector<std::string> there;
    std::vector<double> variance;
    for (int k = 0; k < 4; ++k) {
        if (inputs.column(names[k]) < 0)
            continue;
        const double piece = k == salt_speed  ? prior.piece_speed
                             : k == loss_rate ? prior.piece_loss
                                              : 0;
        there.push_back(names[k]);
        variance.push_back(prior.covariance(k, k) + piece * piece);
    }
    const auto n = static_cast<Index>(there.size());
    const VectorXd spread = Eigen::Map<const VectorXd>(variance.data(), n);
    wide.joint(there, VectorXd::Zero(n), MatrixXd(spread.asDiagonal()));
    const MatrixXd values = wide.values(uniforms(draws, static_cast<Index>(wide.list().size()), 1));
    const auto log_of = [&](const char* name, Index i) {
        const int column = wide.column(name);
        return column < 0 ? 0.0 : std::log(values(i, column));
    };
    VectorXd own(draws); // of the need, the piece's
    for (Index i = 0; i < draws; ++i) {
        const Draw draw = drawing(values.row(i));
        shown_.push_back(model(draw, time));
        const double ratio = log_of("nitrite-ratio", i), need = std::log(draw.threshold);
        numbers_.row(i) << log_of("diffusivity", i) + ratio, ratio, log_of("loss", i), need;
        own[i] = need - log_of("eye", i);
    }
    const double mean_need = own.mean();
    need_of_piece_ = std::max(1e-3, std::sqrt((own.array() - mean_need).square().mean()));
    const auto sd = [&](int k) { return prior.covariance(k, k); };
    const double ratio = inputs.column("nitrite-ratio") < 0 ? 0 : sd(nitrite_ratio),
                 eye = inputs.column("eye") < 0 ? 0 : sd(cured_eye);
    middle_ << 0, 0, 0, mean_need;
    whole_ << std::sqrt(sd(salt_speed) + prior.piece_speed * prior.piece_speed + ratio),
        std::sqrt(ratio), std::hypot(std::sqrt(sd(loss_rate)), prior.piece_loss),
        std::hypot(std::sqrt(eye), need_of_piece_);
}

/// Density of draws in each shop over that in which they were drawn, up to a factor: draw x shop.
MatrixXf Trial::weights(const Shops& shops, Index from, Index rows, bool salt) const {
    // Squares over variances, as one product: quadratic in the draw, with the shop's coefficients.
    const bool with_ratio = salt && whole_[nitrite_ratio] > 0,
               with_eye = whole_[cured_eye] > 1.01 * need_of_piece_;
    MatrixXd of_draw(rows, 10), of_shop(10, shops.rows());
    const auto x = (numbers_.middleRows(from, rows).rowwise() - middle_.transpose()).eval();
    VectorXd drawn = (x.col(0).array() / whole_[0]).square() +
                     (x.col(2).array() / whole_[2]).square() +
                     (x.col(3).array() / whole_[3]).square();
    if (with_ratio) { // of the ratio, where the pace is what it is
        const double share = std::pow(whole_[1] / whole_[0], 2),
                     left = whole_[1] * whole_[1] * (1 - share);
        drawn.array() += (x.col(1) - share * x.col(0)).array().square() / left;
    }
    of_draw << x.cwiseAbs2(), x, drawn, VectorXd::Ones(rows);
    for (Index m = 0; m < shops.rows(); ++m) {
        const double piece = prior_.piece_speed * std::exp(shops(m, piece_spread));
        const Eigen::Vector4d middle(shops(m, salt_speed) + shops(m, nitrite_ratio),
                                     shops(m, nitrite_ratio), shops(m, loss_rate),
                                     with_eye ? shops(m, cured_eye) : 0);
        Eigen::Vector4d precision(piece, near_ratio, prior_.piece_loss, need_of_piece_);
        precision = precision.cwiseAbs2().cwiseInverse();
        if (!with_ratio)
            precision[1] = 0;
        of_shop.col(m) << -0.5 * precision, middle.cwiseProduct(precision), 0.5,
            -0.5 * middle.cwiseAbs2().dot(precision);
    }
    // In single precision, many at once: the sums over draws are good to a hundredth.
    MatrixXf density = of_draw.cast<float>() * of_shop.cast<float>();
    density = density.array().exp();
    return density;
}

MatrixXd Trial::log_likelihood(const std::vector<Slice>& seen, const Shops& shops,
                               bool salt_alone) const {
    const auto draws = static_cast<Index>(shown_.size()), slices = std::ssize(seen);
    const bool salt =
        std::ranges::any_of(seen, [](const Slice& s) { return salt_measured(s.found); });
    MatrixXf sums = MatrixXf::Zero(shops.rows(), slices + 1); // the last: of all draws
    for (Index from = 0; from < draws; from += block) {
        const Index rows = std::min(block, draws - from);
        MatrixXf each = MatrixXf::Ones(rows, slices + 1);
        for (Index k = 0; k < slices; ++k)
            for (Index i = 0; i < rows; ++i)
                each(i, k) = static_cast<float>(
                    likelihood_of(seen[static_cast<std::size_t>(k)],
                                  shown_[static_cast<std::size_t>(from + i)], errors_, salt_alone));
        sums.noalias() += weights(shops, from, rows, salt).transpose() * each;
    }
    const MatrixXd all = sums.cast<double>().cwiseMax(1e-30);
    return all.leftCols(slices).array().log().colwise() - all.col(slices).array().log();
}

VectorXd Trial::surprises(const std::vector<Slice>& told, const Shops& shops,
                          const MatrixXd& shares) const {
    const auto draws = static_cast<Index>(shown_.size());
    VectorXd less = VectorXd::Zero(shares.cols()), more = less, all = less;
    VectorXd sums = VectorXd::Zero(shops.rows());
    std::vector<MatrixXf> blocks;
    for (Index from = 0; from < draws; from += block) {
        blocks.push_back(weights(shops, from, std::min(block, draws - from), false));
        sums += blocks.back().colwise().sum().transpose().cast<double>();
    }
    const MatrixXf shop =
        (shares.array().colwise() / sums.array().max(1e-30)).matrix().cast<float>();
    for (Index from = 0; from < draws; from += block) {
        const Index rows = std::min(block, draws - from);
        const MatrixXf weight = blocks[static_cast<std::size_t>(from / block)] * shop;
        for (Index k = 0; k < shares.cols(); ++k) {
            Slice seen = told[static_cast<std::size_t>(k)];
            seen.slips = 0; // a slip is what a surprise should bring to light
            for (Index i = 0; i < rows; ++i) {
                const Slice& shown = shown_[static_cast<std::size_t>(from + i)];
                const double w = weight(i, k), through = unseen(seen, shown);
                all[k] += w;
                if (seen.through) {
                    less[k] += w;
                    more[k] += w * through;
                } else {
                    const double under = below(deeper(seen, shown), seen.error);
                    less[k] += w * (1 - through) * under;
                    more[k] += w * (through + (1 - through) * (1 - under));
                }
            }
        }
    }
    return (2 * less.cwiseMin(more).array() / all.array().max(1e-300)).min(1.0);
}

} // namespace tidemark::inference
