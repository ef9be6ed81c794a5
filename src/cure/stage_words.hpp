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

} // namespace tidemark::cure
