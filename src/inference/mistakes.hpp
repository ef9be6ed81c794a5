// SPDX-License-Identifier: MIT
/// Mistakes that are told under their own names: a thickness taken at the wrong place, a face that
/// lay shut. Their shares and sizes are those by which a grey core is explained
/// (models/causes.ini).
#pragma once

#include "inference/forward.hpp"
#include "inference/ranges.hpp"

#include <vector>

namespace tidemark::inference {

/// The draws of a piece as much thicker than measured as cause.thicker.factor says; as many.
std::vector<Draw> thicker(std::vector<Draw> draws, const base::Records& records);

/// What each mistake makes of the draws, whose core is cured after `cured` [s], and of the thicker
/// ones. Two runs on coarse cells: the face shuts all draws out by one factor. `best` [s] is the
/// day that is advised; 0: none.
std::vector<Mistake> mistakes(const cure::Outcome& prediction, const base::Records& records,
                              const std::vector<double>& cured,
                              const std::vector<double>& cured_thicker, double best);

} // namespace tidemark::inference
