// SPDX-License-Identifier: MIT
/// Predicts published figures with the program's own engine, and makes the sources that are
/// weighed: each case is run at Chebyshev nodes of the shared numbers it depends on, on coarse
/// cells, and once for each thing the print leaves open, whose spread joins the figures' own.
/// Shared numbers are given as absolute values, so what the program's records hold now does not
/// matter.
#pragma once

#include "posterior/evidence.hpp"
#include "posterior/weigh.hpp"

#include <string>
#include <vector>

namespace tidemark::posterior {

/// Places of the shared numbers in a prior. The logarithms are of the middles in priors.ini.
enum Shared {
    pork_speed,
    beef_speed,
    salt_slope,
    ratio,
    half_life,
    fat_water,
    eye,
    shared_numbers
};
extern const char* const names[shared_numbers];

/// The priors, their middles and the spreads of priors.ini.
struct Priors {
    explicit Priors(const std::string& path);
    Prior prior;
    Eigen::VectorXd middle; ///< in the units of the file
    double laboratory = 0, rule = 0, rules = 0, above = 0;
};

/// The sources of `evidence`: their weighed figures, or those `compared` only.
std::vector<Source> sources(const std::vector<Evidence>& evidence, const Priors& priors,
                            bool compared = false);

} // namespace tidemark::posterior
