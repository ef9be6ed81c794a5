// SPDX-License-Identifier: MIT
/// Work that can be done side by side.
#pragma once

#include <cstddef>
#include <functional>
#include <future>
#include <utility>

namespace tidemark::base {

/// Calls work(0) to work(n - 1), as many at a time as the machine has cores; one after the other
/// from within such work. Throws what the work throws.
void side_by_side(std::size_t n, const std::function<void(std::size_t)>& work);

/// How many of them go side by side here, 1 from within such work.
std::size_t hands();

/// Work that is done beside what comes next, or when its result is asked for where there is one
/// core. It may do work side by side itself.
template <class Work> auto beside(Work work) {
    return std::async(hands() > 1 ? std::launch::async : std::launch::deferred, std::move(work));
}

} // namespace tidemark::base
