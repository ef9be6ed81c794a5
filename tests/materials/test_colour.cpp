// SPDX-License-Identifier: MIT
/// The rule for pink against the panel it came from and the stoichiometry behind it.
#include "materials/colour.hpp"
#include "materials/kitchen.hpp"
#include "materials/solutes.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

using namespace tidemark;
using namespace tidemark::materials;
using namespace tidemark::materials::test;

namespace {
// Grams in a mole, rounded as usual: the pigment as hematin, and myoglobin with one heme.
constexpr double hematin = 633;
constexpr double myoglobin_mass = 17000;
} // namespace

TEST_CASE("The printed regression turned to myoglobin gives our slope", "[materials]") {
    // 0.092 mg nitrite per mg of pigment [heaton2000]: 0.84 mol per mol of heme, 3.43 mg per mg/g
    // of myoglobin, kept as 3.4. Margins: half the last digit.
    auto records = base::Records::built_in();
    CHECK(0.092 * hematin / records.si("molar-mass.sodium-nitrite") ==
          Approx(0.84).margin(0.005).epsilon(0));
    CHECK(0.092 * hematin / myoglobin_mass * 1e3 == Approx(3.43).margin(0.005).epsilon(0));
    CHECK(records.si("colour.threshold.slope") * 1e3 == Approx(3.43).margin(0.05).epsilon(0));
}

TEST_CASE("The rule returns the regression and is never below the panel", "[materials]") {
    // [heaton2000]: 14.1, 5.7, 3.0, 2.3 mg/kg from the regression (reckoned apart), 14, 4, 2, 1
    // seen by the panel. The rounded slope lowers the rule by 0.11 at 147 mg/kg of pigment; margin:
    // that and half the last digit.
    struct Row {
        const char* meat;
        double pigment, panel, regression; // [mg/kg]
    };
    // Seen: the four minima and the ends of the pigment, 19 and 147; which pigment belongs to which
    // meat is inferred from that.
    const auto row = GENERATE(Row{"beef round", 147, 14, 14.1}, Row{"pork shoulder", 56, 4, 5.7},
                              Row{"turkey breast", 27, 2, 3.0}, Row{"chicken breast", 19, 1, 2.3});
    CAPTURE(row.meat);
    auto records = base::Records::built_in();
    const double myoglobin = ppm(row.pigment) * myoglobin_mass / hematin;
    const double threshold = pink_threshold(records, myoglobin) * 1e6;
    CHECK(threshold == Approx(row.regression).margin(0.16).epsilon(0));
    // One figure was read off the regression and rounded: allow it half a unit.
    CHECK(threshold > row.panel - 0.5);
    CHECK(threshold < row.panel + 2);
}

TEST_CASE("Muscles of known pigment get the thresholds reckoned apart", "[materials]") {
    // Myoglobin in mg/g and ppm, with the unrounded slope 3.43: at 1.5 that gave 5.7 and ours gives
    // 5.63. Margin: half a unit, but 0.1 there.
    struct Row {
        double myoglobin, ppm, margin;
    };
    const auto row = GENERATE(Row{1, 4, 0.5}, Row{1.5, 5.7, 0.1}, Row{5.13, 18, 0.5},
                              Row{5.5, 19, 0.5}, Row{6.11, 21, 0.5}, Row{7.55, 26, 0.5});
    auto records = base::Records::built_in();
    CHECK(pink_threshold(records, row.myoglobin * 1e-3) * 1e6 ==
          Approx(row.ppm).margin(row.margin).epsilon(0));
}

TEST_CASE("Colour that lasts asks for more than colour that shows", "[materials]") {
    // Pork 25 [adams2008]; beef 40 is judgement.
    auto records = base::Records::built_in();
    CHECK(stable_threshold(records, "pork") == Approx(ppm(25)));
    CHECK(stable_threshold(records, "beef") == Approx(ppm(40)));
    CHECK(stable_threshold(records, "beef") > pink_threshold(records, 7.55e-3));
    CHECK_THROWS_WITH(stable_threshold(records, "goat"),
                      "animal: goat: is not known; use beef, pork");
}
