// SPDX-License-Identifier: MIT
/// Pieces are drawn in proportion to their weights, looked at, and judged by all other draws. A
/// piece does not judge itself, or a look would seem to tell more than it does.
#include "inference/next_look.hpp"

#include "inference/sampling.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr Index pieces = 64;  ///< drawn and looked at
constexpr Index judges = 256; ///< draws of each cause that judge them

} // namespace

/// At even steps of the running sum of the weights.
std::vector<Drawn> drawn(const std::vector<VectorXd>& weights, std::size_t count) {
    double all = 0, sum = 0;
    for (const VectorXd& w : weights) {
        all += w.sum();
    }
    std::vector<Drawn> list;
    for (std::size_t i = 0; i < weights.size(); ++i) {
        for (Index k = 0; k < weights[i].size(); ++k) {
            sum += weights[i][k];
            while (list.size() < count && (static_cast<double>(list.size()) + 0.5) * all <
                                              sum * static_cast<double>(count)) {
                list.push_back({i, k});
            }
        }
    }
    return list;
}

std::vector<NextLook> next_looks(const std::vector<Suspect>& suspects,
                                 const std::vector<VectorXd>& weights, const Findings& taken,
                                 const LookErrors& errors, double slips) {
    std::vector<VectorXd> own;
    double sum_of_all = 0, most = 0;
    for (const VectorXd& w : weights) { // a cause keeps its share when fewer draws judge
        own.push_back(w.head(std::min(judges, w.size())));
        own.back() *= own.back().sum() > 0 ? w.sum() / own.back().sum() : 0;
        sum_of_all += w.sum();
        most = std::max(most, w.sum());
    }
    const auto list = drawn(weights, pieces);
    const Eigen::MatrixXd noise = uniforms(pieces, static_cast<Index>(look_count), 13);
    std::vector<NextLook> all;
    for (const Look look : looks) {
        const auto l = static_cast<std::size_t>(look);
        if (taken[l] || !suspects.front().shown.front().found[l]) {
            continue;
        }
        NextLook next{look, most / sum_of_all};
        for (std::size_t n = 0; n < list.size(); ++n) {
            const Drawn& piece = list[n];
            const auto shown = [&](std::size_t i, Index k) {
                return *suspects[i].shown[k].found[l];
            };
            const double found =
                errors.read(look, shown(piece.cause, piece.draw),
                            normal_score(noise(static_cast<Index>(n), static_cast<Index>(l))));
            std::vector<double> posterior;
            for (std::size_t i = 0; i < own.size(); ++i) {
                double sum = 0;
                for (Index k = 0; k < own[i].size(); ++k) {
                    if (own[i][k] > 0 && !(i == piece.cause && k == piece.draw)) {
                        sum += own[i][k] *
                               std::exp(errors.log_likelihood(look, found, shown(i, k), slips));
                    }
                }
                posterior.push_back(sum);
            }
            const VectorXd p =
                VectorXd::Map(posterior.data(), static_cast<Index>(posterior.size()));
            next.after +=
                (p.sum() > 0 ? p.maxCoeff() / p.sum() : 1) / static_cast<double>(list.size());
        }
        all.push_back(next);
    }
    std::ranges::stable_sort(all, std::greater<>{}, &NextLook::after);
    return all;
}

} // namespace tidemark::inference
