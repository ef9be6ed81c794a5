// SPDX-License-Identifier: MIT
#include "inference/sensitivity.hpp"

#include "inference/sampling.hpp"

#include <algorithm>

namespace tidemark::inference {

Eigen::MatrixXd pick_freeze(Eigen::Index n, const std::vector<int>& group, std::uint64_t seed) {
    const auto columns = static_cast<Eigen::Index>(group.size());
    const int groups = group.empty() ? 0 : std::ranges::max(group) + 1;
    const Eigen::MatrixXd both = uniforms(n, std::max<Eigen::Index>(1, 2 * columns), seed);
    Eigen::MatrixXd sample((groups + 2) * n, columns);
    for (int block = 0; block < groups + 2; ++block) {
        for (Eigen::Index j = 0; j < columns; ++j) {
            const bool from_b = block == 1 || group[j] == block - 2;
            sample.col(j).segment(block * n, n) = both.col(from_b ? columns + j : j);
        }
    }
    return sample;
}

std::vector<Index> sobol_indices(const Eigen::VectorXd& values, Eigen::Index n) {
    const auto part = [&](Eigen::Index block) { return values.segment(block * n, n).array(); };
    const double count = static_cast<double>(n);
    const double mean = values.head(2 * n).mean();
    const double variance = (values.head(2 * n).array() - mean).square().mean();
    std::vector<Index> indices(values.size() / n - 2);
    for (std::size_t g = 0; g < indices.size() && variance > 0; ++g) {
        const auto a = part(0), b = part(1), mixed = part(static_cast<Eigen::Index>(g) + 2);
        // Centred: the mean's square would only add noise to the products.
        indices[g] = {((b - mean) * (mixed - a)).sum() / count / variance,
                      (a - mixed).square().sum() / (2 * count) / variance};
    }
    return indices;
}

} // namespace tidemark::inference
