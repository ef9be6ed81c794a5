// SPDX-License-Identifier: MIT
#include "inference/slice.hpp"

#include "inference/sampling.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::inference {
namespace {

using Reading = std::optional<double> Slice::*;
constexpr std::array<Reading, 4> faces{&Slice::top, &Slice::bottom, &Slice::left, &Slice::right};
constexpr std::array<Reading, 2> sizes{&Slice::core_height, &Slice::core_width};

/// Gauss-Hermite: a standard normal as seven values with their weights.
constexpr std::array<std::pair<double, double>, 7> normal_nodes{{{0, 0.45714285714},
                                                                 {-1.15440539474, 0.24012317861},
                                                                 {1.15440539474, 0.24012317861},
                                                                 {-2.36675941073, 0.03075712397},
                                                                 {2.36675941073, 0.03075712397},
                                                                 {-3.75043971773, 0.00054826886},
                                                                 {3.75043971773, 0.00054826886}}};

double normal(double x, double sd) {
    return std::exp(-0.5 * x * x / (sd * sd)) / (sd * std::sqrt(2 * std::numbers::pi));
}

int readings(const Slice& s) {
    int n = s.every.has_value();
    for (const Reading r : faces)
        n += (s.*r).has_value();
    for (const Reading r : sizes)
        n += (s.*r).has_value();
    return n;
}

/// Of all readings, their own part of the error being `own` [m] and the edge of the pink seen
/// `deeper` [m] than it is.
double log_likelihood(const Slice& seen, const Slice& predicted, double own, double deeper) {
    const auto term = [&](const std::optional<double>& a, const std::optional<double>& b, double by,
                          double sd) {
        return a && b ? std::log((1 - seen.slips) * normal(*a - *b - by, sd) +
                                 seen.slips * normal(*a - *b - by, 10 * sd))
                      : 0.0;
    };
    double sum = 0, every = 0;
    int count = 0;
    for (const Reading face : faces) {
        sum += term(seen.*face, predicted.*face, deeper, own);
        every += term(seen.every, predicted.*face, deeper, own);
        count += (predicted.*face).has_value();
    }
    return sum + every / std::max(1, count) +
           term(seen.core_height, predicted.core_height, -2 * deeper, own) +
           term(seen.core_width, predicted.core_width, -2 * deeper,
                std::hypot(own, seen.width_error));
}

double core_of(const Slice& s) {
    return std::max(s.core_height.value_or(0), s.core_width.value_or(0));
}

} // namespace

Slice with_errors(Slice slice, const base::Records& records) {
    slice.error = records.find("uncertainty.slice")->si();
    slice.shared = records.find("uncertainty.slice-shared")->si();
    slice.width_error = records.find("uncertainty.slice-width")->si();
    slice.slips = records.find("uncertainty.slip")->si();
    return slice;
}

double log_likelihood(const Slice& seen, const Slice& predicted) {
    if (seen.through) {
        const double unseen = std::erfc(core_of(predicted) / seen.error / std::numbers::sqrt2);
        return std::log((1 - seen.slips) * unseen + 0.5 * seen.slips);
    }
    const double shared = seen.error * std::sqrt(seen.shared),
                 own = seen.error * std::sqrt(1 - seen.shared);
    if (readings(seen) < 2) // alone, it has both parts
        return log_likelihood(
            seen, predicted,
            seen.core_height || seen.core_width ? std::hypot(own, 2 * shared) : seen.error, 0);
    double sum = 0;
    for (const auto& [node, weight] : normal_nodes)
        sum += weight * std::exp(log_likelihood(seen, predicted, own, node * shared));
    return std::log(sum);
}

std::optional<double> ring(const Slice& shown, const Slice& seen) {
    double sum = 0;
    int count = 0;
    for (const Reading face : faces)
        if ((seen.every || seen.*face) && shown.*face) {
            sum += *(shown.*face);
            ++count;
        }
    return count > 0 ? std::optional(sum / count) : std::nullopt;
}

Slice read(const Slice& shown, const Slice& like, const LookErrors& errors,
           const Eigen::VectorXd& uniforms) {
    Slice seen{.time = shown.time,
               .error = like.error,
               .shared = like.shared,
               .width_error = like.width_error,
               .slips = like.slips};
    const auto score = [&](std::size_t k) {
        return normal_score(uniforms[static_cast<Eigen::Index>(k)]);
    };
    for (const Look look : looks) {
        const auto k = static_cast<std::size_t>(look);
        if (like.found[k])
            seen.found[k] = errors.read(look, *shown.found[k], score(7 + k));
    }
    const double deeper = like.error * std::sqrt(like.shared) * score(0),
                 own = like.error * std::sqrt(1 - like.shared);
    if (core_of(shown) - 2 * deeper + own * score(5) <= 0 || core_of(shown) <= 0) {
        seen.through = true;
        return seen;
    }
    for (std::size_t k = 0; k < faces.size(); ++k)
        if (like.*faces[k] && shown.*faces[k])
            seen.*faces[k] = std::max(0.0, *(shown.*faces[k]) + deeper + own * score(1 + k));
    for (std::size_t k = 0; k < sizes.size(); ++k)
        if (like.*sizes[k] && shown.*sizes[k])
            seen.*sizes[k] = std::max(0.0, *(shown.*sizes[k]) - 2 * deeper +
                                               (k == 1 ? std::hypot(own, like.width_error) : own) *
                                                   score(5 + k));
    if (like.every)
        seen.every = std::max(0.0, *ring(shown, like) + deeper + own * score(1));
    return seen;
}

} // namespace tidemark::inference
