// SPDX-License-Identifier: MIT
/// Amounts as they stand in messages: the judge's own words.
#pragma once

#include "judge/say.hpp"

namespace tidemark::cure {

using judge::grams;
using judge::percent;
using judge::ppm;
using judge::ppm_beside;

} // namespace tidemark::cure
