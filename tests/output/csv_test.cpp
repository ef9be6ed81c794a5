// SPDX-License-Identifier: MIT
/// The table against a text written by hand.
#include "output/csv.hpp"

#include <catch2/catch.hpp>

#include <limits>

namespace csv_test {

using namespace tidemark;

TEST_CASE("profiles become rows in days, mm, percent and ppm", "[output]") {
    CHECK(output::csv(
              {{86400, 0.005, "lean", 0.02, 80e-6, 12.5e-6}, {172800, 0.0325, "fat", 0.001, 0, 0}},
              {}) == "time_days,depth_mm,tissue,salt_percent,arrived_nitrite_ppm,residual_nitrite_"
                     "ppm,dangers\r\n"
                     "1,5,lean,2,80,12.5,\r\n"
                     "2,32.5,fat,0.1,0,0,\r\n");
}

TEST_CASE("fields that hold commas or quotes are quoted, and what is not finite is left empty",
          "[output]") {
    const std::string table = output::csv(
        {{0, 0, "a \"seam\", thin", std::numeric_limits<double>::quiet_NaN(), 1e-6, 0}}, {});
    CHECK(table.substr(table.find('\n') + 1) == "0,0,\"a \"\"seam\"\", thin\",,1,0,\r\n");
}

} // namespace csv_test
