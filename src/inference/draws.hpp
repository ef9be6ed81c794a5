// SPDX-License-Identifier: MIT
/// The draws of a case by which its days are told. They hang on the case alone, so that they can be
/// made beside its solve.
#pragma once

#include "inference/case_inputs.hpp"
#include "inference/ranges.hpp"

#include <cstddef>
#include <functional>
#include <vector>

namespace tidemark::inference {

/// Work that takes microseconds each, in parts side by side.
void in_parts(std::size_t n, const std::function<void(std::size_t)>& work);

struct Draws {
    std::vector<Draw> sample;           ///< of the answer
    std::vector<Draw> frozen;           ///< that share out the spread, `shares` of each sample
    std::vector<Draw> thick;            ///< the first of `sample`, measured at the wrong place
    static constexpr int shares = 1024; ///< which makes shares good to a few hundredths
};

/// Of a case and its inputs. The same for a seed, however many draws are thick.
Draws draws_of(const cure::Case& question, const cure::Setup& setup, const base::Records& records,
               const Inputs& inputs, const Ask& ask);

/// ranges() by draws that were made before.
Ranges ranges(const cure::Outcome& prediction, const base::Records& records, const Inputs& inputs,
              const Ask& ask, const Draws& draws);

} // namespace tidemark::inference
