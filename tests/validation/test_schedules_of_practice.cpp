// SPDX-License-Identifier: MIT
/// Schedules as printed and practised (pickle by the pound, soak, rest, overhaul, needles, rubs)
/// run through the program on invented pieces. A rule is not a measurement: besides the tables,
/// which must be those of the page, only closed forms and sums are asserted.
#include "validation/score.hpp"

#include <catch2/catch.hpp>

#include <cmath>

namespace test_schedules_of_practice {

namespace {

using namespace tidemark::validation;
using Json = nlohmann::json;

constexpr double pound = 0.45359237, gallon = 3.785411784; // [kg], [L]
constexpr double water = 0.998;                            // [kg/L] at 20 C, as in brine.ini

// Invented, at 38 F (36 to 40 F are printed): no fat, skin or bone.
constexpr double ham_kg = 6.3, shoulder_kg = 6 * pound, loin_kg = 2.5;
std::string ham(double kg = ham_kg) { ///< a long round as in the days by the pound
    return "--cooler 38F --muscle pork-ham --shape round --weight " + fixed(kg, 4) +
           "kg --thickness " + fixed(125 * std::cbrt(kg / 6.3), 3) + "mm ";
}
const std::string loin =
    "--cooler 38F --muscle pork-loin --shape loin --thickness 70mm --width 110mm --weight 2.5kg ";

Json follow(const std::string& words, const std::vector<std::string>& stages) {
    std::string line = "plan --draws 0 " + words;
    for (const std::string& s : stages) {
        line += " --stage '" + s + "'";
    }
    const Json object = answer(line);
    REQUIRE(object["stages"].size() == stages.size());
    return object;
}

double end(const Json& object, std::size_t stage, const std::string& what) {
    return object["stages"].at(stage)["end"].at(what).get<double>();
}
double mean(const Json& object, std::size_t stage) {
    return end(object, stage, "mean_salt_percent");
}
double core(const Json& object, std::size_t stage) {
    return end(object, stage, "core_salt_percent");
}
double surface(const Json& object, std::size_t stage) {
    return end(object, stage, "surface_salt_percent");
}
double spread(const Json& object, std::size_t stage) {
    return end(object, stage, "unevenness_percent");
}

std::string row(const std::string& name, const std::vector<std::string>& cells) {
    std::string line = "| " + name + " |";
    for (const std::string& c : cells) {
        line += " " + c + " |";
    }
    return line + "\n";
}
std::string head(const std::string& name, const std::vector<std::string>& cells) {
    return row(name, cells) + row("---", std::vector<std::string>(cells.size(), "---"));
}
std::string days(double d) {
    return fixed(d, 2) + " d";
}

/// The printed pickle, 8 lb of salt and 2 lb of sugar in so many gallons for 100 lb [fb2265]
/// [wiley1919], for one piece. Its 2 oz of saltpetre are left out.
std::string pickle(double gallons, double kg) {
    const double hundredth = kg / (100 * pound);
    return "--water " + fixed(gallons * gallon * hundredth, 6) + "L --salt " +
           fixed(8000 * pound * hundredth, 3) + "g --sugar " + fixed(2000 * pound * hundredth, 3) +
           "g ";
}

/// Salt in the meat once pickle and meat are at balance [%]: water of the lean and water of the
/// pickle share it. `held` [kg]: pickle whose salt one kg of raw lean comes to hold, from a held
/// brine of 10 %.
double balance(double gallons) {
    const double salt = mean(follow(ham() + "--brine-salt 10%", {"brine, 1000 d"}), 0) / 100;
    const double held = salt / (1 - salt) / (0.10 / 0.90);
    const double per_meat = held * 0.08 / (held + gallons * gallon * water / (100 * pound));
    return 100 * per_meat / (1 + per_meat);
}

/// A rub of the three: 45 g of salt and 175 mg of nitrite per kg in all; 1 % of drip each (3 % in
/// all, practice.purge). 2.8 g of premix hold 0.175 g of nitrite at 6.25 % and 2.625 g of salt.
const std::string rub = "rub, salt 14.125 g/kg, premix 0.93333 g/kg, purge 1 %, ";

} // namespace

TEST_CASE(
    "a sheet on its bottom face is half of one twice as thick, and turning a free one does nothing",
    "[validation]") {
    // Exact: the shut face is a plane of symmetry, and stages of one brine go on where it stopped.
    const std::string brine = "--muscle pork-loin --weight 2kg --brine-salt 6% --thickness ";
    const Json lying = follow(brine + "50mm", {"brine, 20 d, sealed bottom"}),
               thick = follow(brine + "100mm", {"brine, 20 d"}),
               turned = follow(brine + "100mm", {"brine, 7 d", "brine, 13 d"});
    CHECK(core(lying, 0) == Approx(core(thick, 0)).epsilon(1e-4)); // two meshes
    CHECK(mean(lying, 0) == Approx(mean(thick, 0)).epsilon(1e-4));
    CHECK(core(turned, 1) == Approx(core(thick, 0)).epsilon(1e-6));
    CHECK(mean(turned, 1) == Approx(mean(thick, 0)).epsilon(1e-6));
}

TEST_CASE("a short soak takes out of an even sheet what the half-space loses", "[validation]") {
    // Fraction 2/sqrt(pi) sqrt(D t)/l [crank1975]; exact to e^(-l^2/Dt). Water based, so by the
    // salt taken. The loss is 1.2 mm deep: 0.4 % off on the usual 24 cells, 16 times less on 96.
    const Json object = follow(
        "--muscle pork-loin --weight 2kg --brine-salt 6% --thickness 60mm --diffusivity \"2e-10 "
        "m2/s\" --activation-energy \"0 kJ/mol\" --cells 96",
        {"brine, 1000 d", "soak, 2 h"});
    const double taken = object["stages"][0]["salt_taken_g"],
                 lost = object["stages"][1]["salt_taken_g"];
    CHECK(-lost / taken ==
          Approx(2 / std::sqrt(M_PI) * std::sqrt(2e-10 * 7200) / 0.030).epsilon(0.0005));
}

TEST_CASE("overhauling changes what is said", "[validation]") {
    const std::string brine = loin + "--brine-salt 6% --brine-nitrite 150ppm ",
                      down = ", sealed bottom", up = ", sealed top";
    std::string score = head("loin, 28 days", {"core pink on", "mean, %", "core, %", "spread, %"});
    const auto add = [&](const std::string& name, const std::string& words,
                         const std::vector<std::string>& stages) {
        const Json o = follow(brine + words, stages);
        const std::size_t last = stages.size() - 1;
        score += row(name, {days(o["cured_day"]), fixed(mean(o, last), 2), fixed(core(o, last), 2),
                            fixed(spread(o, last), 0)});
    };
    const std::string still = "--still \"1.5e-6 m/s\"";
    add("free on all faces, stirred or turned", "", {"brine, 28 d"});
    add("free on all faces, still brine", still, {"brine, 28 d"});
    add("turned on days 3, 10, 17", "",
        {"brine, 3 d" + down, "brine, 7 d" + up, "brine, 7 d" + down, "brine, 11 d" + up});
    add("turned on days 7, 14, 21", "",
        {"brine, 7 d" + down, "brine, 7 d" + up, "brine, 7 d" + down, "brine, 7 d" + up});
    add("on its bottom all the time", "", {"brine, 28 d" + down});
    add("on its bottom all the time, still brine", still, {"brine, 28 d" + down});
    show("rules-of-practice", score);
}

TEST_CASE("the printed pickle leaves the salt shown", "[validation]") {
    std::string score = head("pickle for 100 lb",
                             {"days", "mean, %", "core, %", "surface, %", "meat at balance, %"});
    for (const double gallons : {4.0, 4.5}) {
        const double even = balance(gallons);
        CHECK(mean(follow(ham(1) + pickle(gallons, 1), {"brine, 1000 d"}), 0) ==
              Approx(even).margin(0.005)); // digits shown
        const auto add = [&](const std::string& name, const std::string& words, double d) {
            const Json o = follow(words, {"brine, " + fixed(d, 4) + " d"});
            score += row(name + ", " + fixed(gallons, 1) + " gal",
                         {fixed(d, 0), fixed(mean(o, 0), 2), fixed(core(o, 0), 2),
                          fixed(surface(o, 0), 2), fixed(even, 2)});
        };
        for (const double rate : {2.0, 3.5, 4.0}) {
            add("ham, " + fixed(rate, 1) + " d/lb", ham() + pickle(gallons, ham_kg),
                rate * ham_kg / pound);
        }
        add("loin, 21 d", loin + pickle(gallons, loin_kg), 21);
    }
    // Over the whole, meat and pickle: 5.6 and 5.4 %.
    CHECK(100 * 8 / (110 + 4 * gallon * water / pound) == Approx(5.6).margin(0.05));
    CHECK(100 * 8 / (110 + 4.5 * gallon * water / pound) == Approx(5.4).margin(0.05));
    show("rules-of-practice", score);
}

TEST_CASE("soak and rest before smoking do what is shown", "[validation]") {
    std::string score =
        head("after the pickle of 4.5 gal",
             {"salt removed, %", "mean, %", "surface, %", "surface 12 h on, %", "24 h on, %"});
    const auto add = [&](const std::string& name, const std::string& words, double d,
                         double minutes) {
        std::vector<std::string> stages{"brine, " + fixed(d, 4) + " d"};
        if (minutes > 0) {
            stages.push_back("soak, " + fixed(minutes, 3) + " min, at 15 C");
        }
        stages.insert(stages.end(), 2, "rest, 12 h");
        // A soak reaches a millimetre deep; 96 cells differ by 0.01 points of what is removed.
        const Json o = follow(words + "--cells 48", stages);
        const std::size_t out = stages.size() - 3; // on leaving the water
        const auto per_meat = [&](std::size_t n) { return mean(o, n) / (100 - mean(o, n)); };
        const std::string lost = fixed(100 * (1 - per_meat(out) / per_meat(0)), 1);
        CHECK(mean(o, out + 2) == Approx(mean(o, out)).epsilon(1e-9)); // a rest keeps the salt
        score += row(name, {lost, fixed(mean(o, out), 2), fixed(surface(o, out), 2),
                            fixed(surface(o, out + 1), 2), fixed(surface(o, out + 2), 2)});
    };
    const double weeks = 4 * ham_kg / pound;
    for (const double minutes : {0.0, 30.0, 2 * weeks}) {
        add("ham, " + fixed(weeks, 0) + " d, soaked " + fixed(minutes, 0) + " min",
            ham() + pickle(4.5, ham_kg), weeks, minutes);
    }
    for (const double minutes : {0.0, 30.0, 42.0}) {
        add("loin, 21 d, soaked " + fixed(minutes, 0) + " min", loin + pickle(4.5, loin_kg), 21,
            minutes);
    }
    show("rules-of-practice", score);
}

TEST_CASE("a pickle renewed at half time does what is shown", "[validation]") {
    // Two thirds of the 8 lb in the same water; sugar plays no part.
    const double d = 4 * ham_kg / pound, share = ham_kg / (100 * pound);
    const double salt = 2.0 / 3 * 8 * pound * share, liquid = 4.5 * gallon * water * share;
    const std::string half = fixed(d / 2, 4) + " d", words = ham() + pickle(4.5, ham_kg);
    const Json same = follow(words, {"brine, " + half, "brine, " + half});
    const Json fresh = follow(
        words, {"brine, " + half, "fresh brine, salt " + fixed(100 * salt / (salt + liquid), 5) +
                                      " %, " + fixed(salt + liquid, 5) + " kg, " + half});
    std::string score =
        head("ham, 4.5 gal, 56 d", {"pickle at half time, %", "mean, %", "core, %", "surface, %"});
    const auto add = [&](const std::string& name, const Json& o) {
        score += row(name, {fixed(o["stages"][1]["brine_at_start"]["salt_percent"], 1),
                            fixed(mean(o, 1), 2), fixed(core(o, 1), 2), fixed(surface(o, 1), 2)});
    };
    add("kept", same);
    add("made anew at two-thirds strength", fresh);
    show("rules-of-practice", score);
}

TEST_CASE("needles before the cover pickle do what is shown", "[validation]") {
    std::string score = head("60 degree pickle", {"day", "mean, %", "core, %", "surface, %",
                                                  "spread, %", "nitrite come to the core, ppm"});
    for (const auto& [name, piece] : {std::pair{"loin", loin}, {"ham", ham()}}) {
        for (const bool pumped : {false, true}) {
            const Json o =
                follow(piece + "--brine-salt 15.8% --brine-nitrite 200ppm " +
                           (pumped ? "--pump 10% --pump-salt 15.8% --pump-nitrite 1500ppm" : ""),
                       {"brine, 5 d", "brine, 2 d"});
            if (pumped) { // 10 % of a 15.8 % brine in 110 % of weight
                CHECK(o["start"]["mean_salt_percent"].get<double>() ==
                      Approx(100 * 0.0158 / 1.1).margin(0.0005));
            }
            for (const std::size_t stage : {0u, 1u}) {
                score +=
                    row(std::string(name) + (pumped ? ", pumped 10 %" : ", cover pickle alone"),
                        {stage ? "7" : "5", fixed(mean(o, stage), 2), fixed(core(o, stage), 2),
                         fixed(surface(o, stage), 2), fixed(spread(o, stage), 0),
                         fixed(end(o, stage, "core_arrived_ppm"), 0)});
            }
        }
    }
    show("rules-of-practice", score);
}

TEST_CASE("three rubs and the wait after them do what is shown", "[validation]") {
    std::string score = head("three rubs", {"last rub used up on", "core, mean, spread on 25 d",
                                            "on 40 d", "on 45 d", "on 60 d"});
    for (const auto& [name, kg] : {std::pair{"ham", ham_kg}, {"shoulder, 6 lb", shoulder_kg}}) {
        for (const int apart : {3, 4, 5}) {
            const auto d = [](int n) { return std::to_string(n) + " d"; };
            const Json o = follow(ham(kg) + "--brine-salt 10%",
                                  {rub + d(apart), rub + d(apart), rub + d(25 - 2 * apart),
                                   "rest, 15 d", "rest, 5 d", "rest, 15 d"});
            // 45 g/kg less 3 % of saturated brine, which holds 26.4 % [saltinstitute], over what it
            // then weighs: its water has gone too.
            const double left = 45 - 0.03 * 264, weight = 1000 + left - 0.03 * 736;
            CHECK(mean(o, 5) == Approx(100 * left / weight).margin(0.01)); // digits of 26.4
            CHECK(mean(o, 5) == Approx(mean(o, 2)).epsilon(1e-9));         // a rest keeps the salt
            std::vector<std::string> cells{days(o["stages"][2]["rub_used_up_day"])};
            for (const std::size_t stage : {2u, 3u, 4u, 5u}) {
                cells.push_back(fixed(core(o, stage), 2) + ", " + fixed(mean(o, stage), 2) + ", " +
                                fixed(spread(o, stage), 0));
            }
            score += row(name + (", every " + d(apart)), cells);
        }
    }
    show("rules-of-practice", score);
}

} // namespace test_schedules_of_practice
