// SPDX-License-Identifier: MIT
/// An outcome read off what was solved. Part of run(), apart for its size.
#pragma once

#include "cure/two_meshes.hpp"
#include "materials/targets.hpp"

namespace tidemark::cure {

/// Fills in all that is a number: `at`, pieces, brine, errors.
void read_off(Outcome& outcome, const Meshes& meshes, const materials::Band& taste);

} // namespace tidemark::cure
