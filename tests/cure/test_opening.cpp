// SPDX-License-Identifier: MIT
/// What a prediction says would help is tried.
#include "cure/plans.hpp"

#include <catch2/catch.hpp>

using namespace tidemark;

TEST_CASE("the brine said to open a window opens it", "[cure]") {
    // Rounded to two digits it did not on about half of such cases: the exact strength was shown
    // up.
    int closed = 0;
    for (const double thickness : {0.05, 0.06, 0.07, 0.075}) {
        cure::Case c = plans::loin({}).base;
        c.brine.salt = 0.16;
        c.piece.dimensions.thickness = thickness;
        const auto p = cure::predict(c, plans::records());
        CAPTURE(thickness, p.window);
        if (!p.pull || !p.last_good || *p.last_good >= *p.pull)
            continue;
        ++closed;
        REQUIRE(p.opening_salt);
        // What stands in the message is what is tried.
        const auto at = p.window.find("a brine of ");
        REQUIRE(at != std::string::npos);
        c.brine.salt = std::stod(p.window.substr(at + 11)) / 100;
        CHECK(*c.brine.salt == Approx(*p.opening_salt).epsilon(1e-12));
        const auto weaker = cure::predict(c, plans::records());
        REQUIRE(weaker.pull);
        CHECK((!weaker.last_good || *weaker.last_good >= *weaker.pull));
        // And is no weaker than it need be: a step of 0.1 % and one for its rounding more shut it.
        c.brine.salt = *p.opening_salt + 0.002;
        const auto stronger = cure::predict(c, plans::records());
        CHECK((stronger.last_good && *stronger.last_good < *stronger.pull));
    }
    CHECK(closed >= 2);
}

TEST_CASE("a brine holds too little nitrite only where all of it would not do", "[cure]") {
    // Shared out evenly it comes to less than the colour needs, but what is used up in the meat
    // is followed by more.
    cure::Case c = plans::loin({}).base;
    c.piece.dimensions.thickness = 0.1;
    c.brine.mass = 1;
    c.horizon = 30 * plans::day;
    for (const double nitrite : {5e-6, 20e-6, 30e-6}) {
        c.brine.nitrite = nitrite;
        const auto p = cure::predict(c, plans::records());
        CAPTURE(nitrite, p.never, p.core.arrived, p.target);
        REQUIRE_FALSE(p.pull);
        // All of 1 kg of brine in the water of 1 kg of meat.
        const bool too_little = nitrite < p.target;
        CHECK((p.never.find("all of it would come to") != std::string::npos) == too_little);
        CHECK(p.never.find("shared out evenly") == std::string::npos);
    }
}
