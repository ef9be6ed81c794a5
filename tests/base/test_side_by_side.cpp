// SPDX-License-Identifier: MIT
/// Work side by side, and beside what comes next.
#include "base/side_by_side.hpp"

#include <catch2/catch.hpp>

#include <atomic>
#include <numeric>
#include <stdexcept>
#include <vector>

namespace test_side_by_side {

using namespace tidemark::base;

TEST_CASE("work side by side is all done, within other such work too", "[base]") {
    std::vector<int> done(100, 0);
    std::atomic<int> inner = 0;
    side_by_side(done.size(), [&](std::size_t k) {
        ++done[k];
        side_by_side(3, [&](std::size_t) { ++inner; });
    });
    CHECK(done == std::vector<int>(100, 1));
    CHECK(inner == 300);
    CHECK_THROWS_AS(side_by_side(8,
                                 [](std::size_t k) {
                                     if (k == 5)
                                         throw std::runtime_error("the fifth");
                                 }),
                    std::runtime_error);
}

TEST_CASE("what is done beside something gives its result, or what it threw", "[base]") {
    auto sum = beside([] {
        std::vector<int> each(50, 0);
        side_by_side(each.size(), [&](std::size_t k) { each[k] = static_cast<int>(k); });
        return std::accumulate(each.begin(), each.end(), 0);
    });
    auto refused = beside([]() -> int { throw std::runtime_error("no"); });
    CHECK(sum.get() == 1225);
    CHECK_THROWS_AS(refused.get(), std::runtime_error);
}

} // namespace test_side_by_side
