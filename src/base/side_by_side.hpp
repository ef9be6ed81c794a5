// SPDX-License-Identifier: MIT
/// Work that can be done side by side.
#pragma once

#include <cstddef>
#include <functional>

namespace tidemark::base {

/// Calls work(0) to work(n - 1), as many at a time as the machine has cores; one after the other
/// from within such work. Throws what the work throws.
void side_by_side(std::size_t n, const std::function<void(std::size_t)>& work);

} // namespace tidemark::base
