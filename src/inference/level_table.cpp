// SPDX-License-Identifier: MIT
#include "inference/level_table.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr double floor_level = 1e-4; ///< of what the brine would bring
constexpr double steps_per_e = 9;    ///< over time

} // namespace

double LevelTable::logged(double level) {
    return std::log(std::max(level, 0.0) + floor_level);
}

double LevelTable::level(double logged) {
    return std::exp(logged) - floor_level;
}

LevelTable::LevelTable(const Similarity& similarity, bool nitrite, const Axes& axes,
                       const Reader& read)
    : axes_(axes), first_(std::log(similarity.first())) {
    const double span = std::log(similarity.last()) - first_;
    const auto count = static_cast<std::size_t>(std::ceil(steps_per_e * span));
    step_ = span / static_cast<double>(count);
    times_.resize(count + 1);
    const int nodes = axes[0].nodes() * axes[1].nodes() * axes[2].nodes();
    for (int n = 0; n < nodes; ++n) {
        const auto solve = similarity.solve(
            nitrite, {std::exp(axes[0].at(n % axes[0].nodes())),
                      std::exp(axes[1].at(n / axes[0].nodes() % axes[1].nodes())),
                      std::exp(axes[2].at(n / axes[0].nodes() / axes[1].nodes()))});
        for (std::size_t k = 0; k <= count; ++k) {
            const double t = std::exp(first_ + static_cast<double>(k) * step_);
            const VectorXd levels = read(*solve, std::min(t, similarity.last()));
            times_[k].resize(nodes, levels.size());
            times_[k].row(n) = levels.unaryExpr(&logged).transpose();
        }
    }
}

LevelTable::Place LevelTable::place(const Similar& similar, double clock) const {
    const auto weights = [&](std::size_t axis, double factor) {
        return axes_[axis].weights(std::clamp(std::log(factor), axes_[axis].low, axes_[axis].high));
    };
    const VectorXd a = weights(0, similar.loss), b = weights(1, similar.bath),
                   c = weights(2, similar.film);
    return {((a * b.transpose()).reshaped() * c.transpose()).reshaped(), clock};
}

std::pair<std::size_t, double> LevelTable::moment(double time) const {
    const double k =
        std::clamp((std::log(time) - first_) / step_, 0.0, static_cast<double>(times_.size()) - 1);
    const auto whole = std::min(static_cast<std::size_t>(k), times_.size() - 2);
    return {whole, k - static_cast<double>(whole)};
}

VectorXd LevelTable::at(const Place& p, double time) const {
    const auto [k, f] = moment(time * p.clock);
    return (1 - f) * (times_[k].transpose() * p.weights) +
           f * (times_[k + 1].transpose() * p.weights);
}

double LevelTable::at(const Place& p, double time, Index level) const {
    const auto [k, f] = moment(time * p.clock);
    return (1 - f) * p.weights.dot(times_[k].col(level)) +
           f * p.weights.dot(times_[k + 1].col(level));
}

double LevelTable::first(const Place& p) const {
    return first_ - std::log(p.clock);
}

} // namespace tidemark::inference
