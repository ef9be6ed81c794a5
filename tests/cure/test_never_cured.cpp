// SPDX-License-Identifier: MIT
/// What a prediction says of a core that is never cured.
#include "cure/plans.hpp"

#include <catch2/catch.hpp>

namespace test_never_cured {

using namespace tidemark;

TEST_CASE("a brine holds too little nitrite only where all of it would not do", "[cure]") {
    // Shared out evenly it comes to less than the colour needs, but what is used up in the meat
    // is followed by more.
    cure::Case c = plans::loin({}).base;
    c.piece.dimensions.thickness = 0.1;
    c.brine.mass = 1;
    c.horizon = 30 * plans::day;
    for (const double nitrite : {5e-6, 20e-6, 30e-6}) {
        c.brine.nitrite = nitrite;
        const auto p = cure::run(cure::in_brine(c), plans::fixed_records());
        CAPTURE(nitrite, p.first().never, p.first().core.arrived, p.first().target);
        REQUIRE_FALSE(p.first().cured);
        // All of 1 kg of brine in the water of 1 kg of meat.
        const bool too_little = nitrite < p.first().target;
        CHECK((p.first().never.find("all of it would come to") != std::string::npos) == too_little);
        CHECK(p.first().never.find("shared out evenly") == std::string::npos);
    }
}

} // namespace test_never_cured
