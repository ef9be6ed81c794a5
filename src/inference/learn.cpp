// SPDX-License-Identifier: MIT
#include "inference/learn.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "inference/sampling.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr const char* names[] = {"diffusivity", "loss"};
constexpr int nodes = 49;
constexpr double most_of_piece = 0.9; ///< of the spread; the shop keeps some [1]
constexpr double reach = 4.5;         ///< of the grid, in prior standard deviations either way
constexpr double says_nothing = 0.9;  ///< posterior over prior standard deviation [1]
constexpr double least = 1e-200;      ///< a likelihood that cannot be told apart from none
constexpr double no_share = 1e-30; ///< of a shop; smaller ones would make products a hundred times
                                   ///< slower (subnormal numbers) and change nothing [1]
constexpr double conflict = 0.01;  ///< surprise that is spoken of, over all batches [1]

/// The grid of one multiplier, in prior standard deviations.
VectorXd grid() {
    return VectorXd::LinSpaced(nodes, -reach, reach);
}

VectorXd prior() {
    return (-0.5 * grid().array().square()).exp();
}

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

/// Likelihood of a slice [1/m for each reading]. Where grey is seen, that it is, is news, too.
double likelihood_of(const Slice& seen, const Slice& shown) {
    return std::exp(log_likelihood(seen, shown)) * (seen.through ? 1 : 1 - unseen(seen, shown));
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

Split split(const Inputs& inputs, const base::Records& records) {
    Split s;
    for (int k = 0; k < 2; ++k) {
        const int column = inputs.column(names[k]);
        if (column < 0 || inputs.list()[column].spread.kind != Distribution::Kind::lognormal) {
            throw base::RunError(std::string("nothing can be learnt of ") + names[k] +
                                 ": it has no lognormal spread");
        }
        const double total = std::log(inputs.list()[column].spread.b);
        const double piece = std::log(
            records.find(k == 0 ? "uncertainty.piece-speed" : "uncertainty.piece-loss")->si());
        s.piece[k] = std::min(piece, most_of_piece * total);
        s.shop[k] = std::sqrt(total * total - s.piece[k] * s.piece[k]);
    }
    return s;
}

Trial::Trial(const SliceModel& model, const Inputs& inputs, const Drawing& drawing,
             const Split& split, double time, int draws) {
    const MatrixXd values =
        inputs.values(uniforms(draws, static_cast<Index>(inputs.list().size()), 1));
    for (Index i = 0; i < draws; ++i) {
        shown_.push_back(model(drawing(values.row(i)), time));
    }
    for (int k = 0; k < 2; ++k) {
        // Density of a draw in the shop of a node over that of the records' whole spread.
        const VectorXd x = values.col(inputs.column(names[k])).array().log();
        const double shop = split.shop[k], piece = split.piece[k], whole = std::hypot(shop, piece);
        weights_[k].resize(draws, nodes);
        for (int n = 0; n < nodes; ++n) {
            weights_[k].col(n) = (0.5 * (x.array() / whole).square() -
                                  0.5 * ((x.array() - shop * grid()[n]) / piece).square())
                                     .exp();
        }
    }
    sums_ = weights_[0].transpose() * weights_[1];
}

MatrixXd Trial::likelihood(const Slice& seen) const {
    VectorXd each(static_cast<Index>(shown_.size()));
    for (std::size_t i = 0; i < shown_.size(); ++i) {
        const double one = likelihood_of(seen, shown_[i]);
        each[static_cast<Index>(i)] = one < least ? 0 : one;
    }
    return (weights_[0].transpose() * each.asDiagonal() * weights_[1]).array() / sums_.array();
}

double Trial::surprise(const Slice& told, const MatrixXd& shares) const {
    Slice seen = told;
    seen.slips = 0; // a slip is what a surprise should bring to light
    const MatrixXd shop = shares.array() / sums_.array();
    const VectorXd weight = (weights_[0] * shop).cwiseProduct(weights_[1]).rowwise().sum();
    double less = 0, more = 0, all = 0;
    for (std::size_t i = 0; i < shown_.size(); ++i) {
        const double w = weight[static_cast<Index>(i)], through = unseen(seen, shown_[i]);
        all += w;
        if (seen.through) {
            less += w;
            more += w * through;
        } else {
            const double gap = deeper(seen, shown_[i]);
            const double under = below(gap, seen.error);
            less += w * (1 - through) * under;
            more += w * (through + (1 - through) * (1 - under));
        }
    }
    return std::min(1.0, 2 * std::min(less, more) / all);
}

namespace {

/// Equal slices of one trial.
struct Equal {
    const Seen* first;
    std::vector<std::size_t> places; ///< among all
    double count() const { return static_cast<double>(places.size()); }
};

std::vector<Equal> equal_among(const std::vector<Seen>& seen) {
    std::vector<Equal> groups;
    for (std::size_t i = 0; i < seen.size(); ++i) {
        const auto same = std::ranges::find_if(groups, [&](const Equal& g) {
            return g.first->trial == seen[i].trial && g.first->slice == seen[i].slice;
        });
        if (same == groups.end()) {
            groups.push_back({&seen[i], {i}});
        } else {
            same->places.push_back(i);
        }
    }
    return groups;
}

void explain(Learnt& l, const std::vector<Seen>& seen) {
    for (const int k : {speed_of_diffusion, speed_of_loss}) {
        l.told[k] = std::sqrt(l.log_covariance(k, k)) <= says_nothing * l.prior.shop[k];
    }
    l.bound =
        !seen.empty() && std::ranges::all_of(seen, [](const Seen& s) { return s.slice.through; });
    if (seen.empty()) {
        l.reason.fill("no batch has been sliced yet");
        return;
    }
    if (!l.told[speed_of_diffusion]) {
        l.reason[speed_of_diffusion] = "the slices so far say nothing about the speed of "
                                       "diffusion: one with both pink and grey, "
                                       "cut some days before the pull day, would";
    }
    if (!l.told[speed_of_loss]) {
        l.reason[speed_of_loss] =
            "the slices so far say nothing about the loss of nitrite: a slice of a "
            "thick piece left long would";
    }
}

} // namespace

Learnt learn(const Split& split, const std::vector<Seen>& seen) {
    Learnt l;
    l.batches = static_cast<int>(seen.size());
    l.prior = split;
    const MatrixXd start = (prior() * prior().transpose()).array().log();
    const std::vector<Equal> groups = equal_among(seen);
    std::vector<MatrixXd> logs;
    MatrixXd sum = start;
    for (const Equal& group : groups) {
        logs.push_back(group.first->trial->likelihood(group.first->slice).array().max(least).log());
        sum += group.count() * logs.back();
    }
    const auto shares = [](const MatrixXd& log) -> MatrixXd {
        const MatrixXd p = (log.array() - log.maxCoeff()).exp();
        return (p.array() < no_share).select(0, p) / p.sum();
    };
    const MatrixXd p = shares(sum);
    l.shares = {p.rowwise().sum(), p.colwise().sum().transpose()};
    const VectorXd z = grid();
    const Eigen::Vector2d mean{l.shares[0].dot(z), l.shares[1].dot(z)};
    const VectorXd a = z.array() - mean[0], b = z.array() - mean[1];
    const double mixed = a.dot(p * b);
    Eigen::Matrix2d covariance;
    covariance << l.shares[0].dot(a.cwiseAbs2()), mixed, mixed, l.shares[1].dot(b.cwiseAbs2());
    l.log_mean = mean.cwiseProduct(split.shop);
    l.log_covariance = split.shop.asDiagonal() * covariance * split.shop.asDiagonal();
    l.surprises.resize(seen.size());
    for (std::size_t g = 0; g < groups.size(); ++g) {
        const Seen& one = *groups[g].first;
        const double surprise = one.trial->surprise(one.slice, shares(sum - logs[g]));
        for (const std::size_t i : groups[g].places) {
            l.surprises[i] = surprise;
        }
    }
    for (std::size_t i = 0; i < seen.size(); ++i) {
        if (const double surprise = l.surprises[i];
            surprise * static_cast<double>(seen.size()) < conflict) {
            l.conflicts.push_back("batch " + std::to_string(i + 1) + " does not fit " +
                                  (seen.size() > 1 ? "the others" : "what is known of such meat") +
                                  ": a slice as far off is seen once in " +
                                  base::significant(1 / std::max(surprise, 1e-6), 1) +
                                  "; look for a slip in what was told");
        }
    }
    explain(l, seen);
    return l;
}

double Learnt::quantile(Multiplier which, double q) const {
    // A node's share is spread evenly over its cell.
    const VectorXd z = grid();
    const double cell = z[1] - z[0];
    double before = 0;
    for (int n = 0; n < nodes; ++n) {
        const double share = shares[which][n];
        if (before + share >= q || n == nodes - 1) {
            const double part = share > 0 ? (q - before) / share : 0.5;
            return std::exp(prior.shop[which] * (z[n] + cell * (std::clamp(part, 0.0, 1.0) - 0.5)));
        }
        before += share;
    }
    return 1;
}

Inputs learnt_inputs(Inputs inputs, const Learnt& l) {
    Eigen::Matrix2d covariance = l.log_covariance;
    covariance.diagonal() += l.prior.piece.cwiseAbs2();
    inputs.joint({names[0], names[1]}, l.log_mean, covariance);
    return inputs;
}

} // namespace tidemark::inference
