// SPDX-License-Identifier: MIT
/// A stage as a cook would type it: what stages are read from, written back.
#pragma once

#include "cure/question.hpp"

#include <optional>
#include <string>

namespace tidemark::cure {

/// "rub, salt 25 g/kg, nitrite 150 ppm, 7 d". None for what has no words: a log, whose file is not
/// kept, and nitrate of a premix.
std::optional<std::string> stage_words(const Stage& stage);

/// Salt of a dry stage besides what its premix holds [kg per kg raw meat].
double salt_beside(const Stage& stage);

/// What of a dry stage lies on the scales [kg per kg raw meat].
struct Load {
    double salt = 0, premix = 0;
};
/// Its nitrite as a premix of the strengths in `premix`. None where that premix would bring more
/// salt than the stage has.
std::optional<Load> weighed_load(const Stage& stage, const Brine& premix);

} // namespace tidemark::cure
