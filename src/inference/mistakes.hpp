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

/// By how much a face that lies shut puts off the core's day [1], from two runs on coarse cells;
/// none where one is shut anyway, or no day comes.
std::optional<double> slower_by_a_shut_face(const cure::Outcome& prediction,
                                            const base::Records& records);

/// What each mistake makes of the draws, whose core is cured after `cured` [s], and of the thicker
/// ones. The face puts all draws off by one factor. `best` [s] is the day that is advised; 0: none.
std::vector<Mistake> mistakes(const cure::Outcome& prediction, const base::Records& records,
                              const std::vector<double>& cured,
                              const std::vector<double>& cured_thicker,
                              const std::optional<double>& slower, double best);

} // namespace tidemark::inference
