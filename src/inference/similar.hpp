// SPDX-License-Identifier: MIT
/// When two cases are one case on another scale. By scaling, what stands at a spot relative to the
/// brine depends on the Fourier number and on three groups of numbers alone. Not for a cooler with
/// a log, where diffusion and loss keep no fixed ratio.
#pragma once

#include "cure/question.hpp"
#include "cure/setup.hpp"
#include "inference/case_inputs.hpp"

namespace tidemark::inference {

/// Whether a question is one brine without an end, which scales.
bool scales(const cure::Question& question);

/// A similar case, as factors [1] on the solved case's loss number (loss a2 / D), bath ratio
/// (partition x water of the meat over water of the brine) and Biot number. What the solved case
/// does not have (no loss, a held bath, no film) stays 1.
struct Similar {
    double loss = 1, bath = 1, film = 1;
};

/// The draw as a case similar to `setup`, for nitrite or for salt.
Similar similar(const cure::Setup& setup, bool nitrite, const Draw& draw);
/// Time of the solved case over the draw's own at one Fourier number [1].
double clock(bool nitrite, const Draw& draw);

} // namespace tidemark::inference
