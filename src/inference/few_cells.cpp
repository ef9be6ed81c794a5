// SPDX-License-Identifier: MIT
#include "inference/few_cells.hpp"

#include "transport/chain.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr double cells = 12, by_bones = 4; ///< across the thickness; bones bring more by themselves
constexpr double tolerance = 1e-3;         ///< of the solves
constexpr double done = 0.97;              ///< of the balance: no more is asked for [1]

Came solved(const cure::Grid& grid, const cure::Setup& s, const VectorXd& t) {
    transport::Bath bath = s.salt_bath;
    bath.concentration = 1 / bath.partition;
    const transport::Whole whole = grid.assemble(s, false, {bath, {}});
    const auto history = transport::solve(whole, t[0], t[t.size() - 1], tolerance);
    const transport::System& all = whole.system;
    const auto mean = history->follow(all.mean_weights(grid.lean)),
               left = history->follow(VectorXd::Unit(all.capacity.size(), all.bath()));
    const VectorXd none = VectorXd::Ones(t.size());
    Came came{{none, none}, none, all.held ? 1 : all.bath_capacity / all.capacity.sum()};
    for (Index k = 0; k < t.size(); ++k) {
        if (k > 0 && std::min(came.at[0][k - 1], came.at[1][k - 1]) > done * came.balance) {
            for (VectorXd* course : {&came.at[0], &came.at[1], &came.bath})
                course->tail(t.size() - k).setConstant((*course)[k - 1]);
            break;
        }
        const VectorXd nodal = transport::on_front(*history, all, grid.nodes(), t[k], 0);
        came.at[of_core][k] = grid.lowest(nodal).value;
        came.at[of_mean][k] = mean(t[k]).first;
        if (!all.held)
            came.bath[k] = left(t[k]).first;
    }
    return came;
}

/// What is missing yet in the middle of a slab and on its mean, by its Fourier number [1].
std::array<double, 2> missing(double fourier) {
    if (fourier <= 1e-4)
        return {1, 1 - 2 * std::sqrt(fourier / std::numbers::pi)};
    std::array<double, 2> sum{0, 0};
    for (int n = 0; n < 60; ++n) {
        const double x = (n + 0.5) * std::numbers::pi, left = std::exp(-x * x * fourier);
        sum[of_core] += (n % 2 ? -2 : 2) / x * left;
        sum[of_mean] += 2 / (x * x) * left;
        if (left < 1e-12)
            break;
    }
    return sum;
}

/// Integral from 0 to each of a row of times, by trapezia; `first` at 0.
VectorXd integral(const VectorXd& t, const VectorXd& f, double first) {
    VectorXd sums(t.size());
    double sum = 0, before = first, at = 0;
    for (Index k = 0; k < t.size(); ++k) {
        sum += 0.5 * (t[k] - at) * (before + f[k]);
        sums[k] = sum;
        before = f[k];
        at = t[k];
    }
    return sums;
}

/// Integrals of brine(t - x) f(x) over x from 0 to each time, where f begins at `first`; the share
/// of a row's own last brine is kept apart, for it may be what is sought.
class Answered {
public:
    explicit Answered(const VectorXd& t) : t_(t), back_(t.size()) {
        const double ratio = t[1] / t[0];
        for (Index lag = 1; lag < t.size(); ++lag)
            back_[lag] = std::log1p(-std::pow(ratio, -static_cast<double>(lag))) / std::log(ratio);
    }

    struct Parts {
        double known = 0, of_last = 0;
    };
    Parts operator()(Index k, const VectorXd& f, double first, const VectorXd& brine) const {
        if (k == 0)
            return {0.5 * t_[0] * f[0], 0.5 * t_[0] * first};
        Parts sum{0, 0.5 * t_[0] * first};            // at x = 0
        sum.known = 0.5 * (t_[k] - t_[k - 1]) * f[k]; // at x = t
        for (Index i = 0; i < k; ++i) {
            const double value = 0.5 * (t_[i + 1] - (i > 0 ? t_[i - 1] : 0)) * f[i],
                         s = t_[k] - t_[i], place = static_cast<double>(k) + back_[k - i];
            if (place <= 0) {
                sum.known += value * (1 + (brine[0] - 1) * s / t_[0]);
                continue;
            }
            const Index j = std::min<Index>(static_cast<Index>(place), k - 1);
            const double share = (s - t_[j]) / (t_[j + 1] - t_[j]);
            sum.known += value * (1 - share) * brine[j];
            if (j + 1 == k)
                sum.of_last += value * share;
            else
                sum.known += value * share * brine[j + 1];
        }
        return sum;
    }

private:
    const VectorXd& t_;
    VectorXd back_; ///< by how many times earlier a time less one so many before it stands
};

} // namespace

Few::Few(const cure::Setup& setup, double most_cells) : setup_(setup) {
    const bool bones = setup.section &&
                       std::ranges::count(setup.section->regions, "bone", &geometry::Region::kind);
    grids_[0] = cure::coarse_grid(setup_, std::min(bones ? by_bones : cells, most_cells));
    grids_[1] = cure::halved(setup_, *grids_[0]);
}

Came Few::solve(const VectorXd& t, const Altered& change, bool halved) const {
    cure::Setup s = setup_;
    for (auto& [kind, tissue] : s.tissues) {
        transport::Medium& m = tissue.salt;
        if (kind == "fat") {
            m.diffusivity *= change.fat;
            m.water *= change.water;
        } else {
            m.ratio *= change.fibres;
        }
    }
    return solved(*grids_[halved], s, t);
}

Came with_ends(const Came& section, const VectorXd& t, double rate) {
    Came whole = section;
    for (Index k = 0; rate > 0 && k < t.size(); ++k) {
        const auto left = missing(rate * t[k]);
        for (const Followed of : {of_core, of_mean})
            whole.at[of][k] = section.balance - (section.balance - section.at[of][k]) * left[of];
    }
    return whole;
}

VectorXd arrived(const VectorXd& t, const Came& came, double loss, double in_bath) {
    const VectorXd& level = came.at[of_core];
    if (loss == 0)
        return level;
    const VectorXd fades = (-loss * t.array()).exp(), own = fades.cwiseProduct(level),
                   brine_own = fades.cwiseProduct(came.bath);
    const double kept = loss - in_bath;
    const Answered answered(t);
    VectorXd brine = (-in_bath * t.array()).exp(), free = own;
    for (Index k = 0; k < t.size(); ++k) {
        if (came.balance < 1) {
            const auto sum = answered(k, brine_own, 1, brine);
            brine[k] = (brine_own[k] + kept * sum.known) / (1 - kept * sum.of_last);
        }
        const auto sum = answered(k, own, 0, brine);
        free[k] += kept * (sum.known + sum.of_last * brine[k]);
    }
    return free + loss * integral(t, free, 0);
}

} // namespace tidemark::inference
