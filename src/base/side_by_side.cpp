// SPDX-License-Identifier: MIT
#include "base/side_by_side.hpp"

#include <algorithm>
#include <future>
#include <thread>
#include <vector>

namespace tidemark::base {

namespace {

thread_local bool side = false; // work within such work goes on alone

} // namespace

std::size_t hands() {
    return side ? 1 : std::max(1u, std::thread::hardware_concurrency());
}

void side_by_side(std::size_t n, const std::function<void(std::size_t)>& work) {
    const std::size_t workers = std::min(n, hands());
    if (workers <= 1) { // also where there are no threads
        for (std::size_t k = 0; k < n; ++k)
            work(k);
        return;
    }
    std::vector<std::future<void>> running;
    for (std::size_t w = 0; w < workers; ++w)
        running.push_back(std::async(std::launch::async, [&, w] {
            side = true;
            for (std::size_t k = w; k < n; k += workers)
                work(k);
        }));
    for (auto& r : running)
        r.get();
}

} // namespace tidemark::base
