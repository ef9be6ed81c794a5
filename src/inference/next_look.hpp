// SPDX-License-Identifier: MIT
/// Which look to take next: the one after which the right cause is most often named.
#pragma once

#include "inference/causes.hpp"

#include <Eigen/Core>

#include <vector>

namespace tidemark::inference {

struct NextLook {
    Look look{};
    double now = 0;   ///< how often the cause named first is the right one [1]
    double after = 0; ///< the same once this look has been taken, on the average [1]
};

/// A draw of a suspect.
struct Drawn {
    std::size_t cause = 0;
    Eigen::Index draw = 0;
};
/// `count` of them in proportion to their weights, in order, the heavy ones more than once.
std::vector<Drawn> drawn(const std::vector<Eigen::VectorXd>& weights, std::size_t count);

/// Looks not among those `taken`, the most telling first. `weights[i]` are those of the draws of
/// suspect i, in proportion to prior times likelihood of all that is known [1], the same number of
/// draws each. Deterministic; good to some two in a hundred.
std::vector<NextLook> next_looks(const std::vector<Suspect>& suspects,
                                 const std::vector<Eigen::VectorXd>& weights, const Findings& taken,
                                 const LookErrors& errors, double slips);

} // namespace tidemark::inference
