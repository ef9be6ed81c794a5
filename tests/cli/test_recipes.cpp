// SPDX-License-Identifier: MIT
/// What brine prints to weigh out means the same to day and plan, and draws no warning of its own.
/// All amounts are invented.
#include "json.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

namespace test_recipes {

using namespace tidemark::cli;
using Catch::Contains;

namespace {

/// The command behind NEXT on a screen, its lines joined, without the program's name.
std::string next_command(const std::string& screen) {
    const auto at = screen.find("tidemark ", screen.find("\nNEXT "));
    REQUIRE(at != std::string::npos);
    std::string command = screen.substr(at + 9, screen.find("\n\n", at) - at - 9);
    for (auto back = command.find("\\\n"); back != std::string::npos; back = command.find("\\\n"))
        command.replace(back, 2, " ");
    return command;
}

double law_of(const Json& brine) {
    for (const Json& dose : brine["ingoing"])
        if (dose["judged"] == true && dose["substance"] == "nitrite")
            return dose["ppm"];
    FAIL("no judged dose");
    return 0;
}

} // namespace

TEST_CASE("a recipe printed by brine is the same cure to day and plan", "[cli]") {
    const Folder folder;
    const std::string piece = " --thickness 40mm --draws 0";
    for (const char* law : {"us", "eu", "canada"})
        for (const std::string way :
             {"--container 6L", "--brine 3kg --premix-kind eu", "--brine 3L --hot 90C",
              "--pump 10%", "--way rub --pieces 2", "--way bag"}) {
            const std::string words = "brine --target-salt 2.2% --target-nitrite " +
                                      std::string(law == std::string("eu") ? "110" : "150") +
                                      "ppm --weight 2.3kg --law " + law + ' ' + way;
            const Ran ran = folder.run(words);
            CAPTURE(words, ran.out, ran.err);
            REQUIRE(ran.code == 0);
            CHECK_THAT(ran.out, !Contains("DANGER"));
            CHECK(std::count(ran.out.begin(), ran.out.end(), '\n') <= 24);
            const Json brine = answer(folder, words);
            const Json cure = answer(folder, next_command(ran.out) + piece); // the law is in it
            const double ppm = cure["ingoing_nitrite"]["whole_system_ppm"];
            CHECK(ppm == Approx(law_of(brine)).epsilon(1e-9));
            if (way.starts_with("--way")) // all of it in, but what drips off
                CHECK(brine["brine"]["salt_at_balance"]["value"].get<double>() ==
                      Approx(2.2).epsilon(0.01));
            else if (!way.starts_with("--pump"))
                CHECK(cure["brine_at_start"]["salt_percent"].get<double>() ==
                      Approx(brine["brine"]["salt"]["value"].get<double>()).epsilon(1e-9));
            else
                CHECK(cure["start"]["mean_salt_percent"].get<double>() ==
                      Approx(2.2).epsilon(0.01));
        }
}

TEST_CASE("a dry recipe comes to its salt in the schedule it is for", "[cli]") {
    const Folder folder;
    for (const char* way : {"rub", "bag"}) {
        const Ran ran = folder.run("brine --target-salt 2% --weight 1kg --way " + std::string(way));
        CAPTURE(ran.out);
        std::string plan = next_command(ran.out);
        const auto until = plan.find(", until cured");
        REQUIRE(until != std::string::npos);
        plan.replace(until, 13, ", 60 d"); // long enough for a sheet of 30 mm
        const Json end = answer(folder, plan + " --thickness 30mm --draws 0");
        CHECK(end["stages"].back()["end"]["mean_salt_percent"].get<double>() ==
              Approx(2).epsilon(0.02)); // half a gram of 25
    }
}

TEST_CASE("ways of a recipe are refused where they do not fit", "[cli]") {
    const Folder folder;
    const std::string aim = "brine --target-salt 2% --weight 1kg ";
    refused(folder, aim + "--way needles",
            "--way: needles: needs the gain by the needles; add --pump \"10 %\"");
    refused(folder, aim + "--way rub --brine 2L",
            "--brine: 2L: is no part of a dry cure; leave it out, or leave out --way");
    refused(folder, "brine --way rub --target-salt 2%",
            "--weight: is missing; a dry cure is weighed by the meat: --weight \"2.5 kg\"");
    refused(folder, "brine --way bag --weight 1kg",
            "--salt: is missing; give --salt \"50 g\" of one piece, or --target-salt \"2 %\"");
    folder.write("dry.ini", "way = rub\ntarget-salt = 2 %\nweight = 1 kg\nthickness = 40 mm\n");
    refused(folder, "day --case dry.ini",
            "dry.ini:1: way: rub: is no brine; use tidemark plan with the stage that tidemark "
            "brine prints");
}

TEST_CASE("ice in a brine of untold heat is taken to cool a boiling one, in every command",
          "[cli]") {
    const Folder folder;
    const std::string pot = " --water 1kg --ice 1kg --salt 100g --premix 8g --weight 2kg ";
    // By hand, 3.73 kJ/(kg K) for a brine of 9.7 % (ASHRAE, from memory): 1.108 x 3.73 (100 - T) =
    // 333.6 + 4.19 T gives 9.6 C.
    const std::string words = "the brine comes to 9.6 °C (49 °F) (taken as boiling before: give "
                              "--hot): no meat in it above 4.4 °C (40 °F). Chill it first";
    folder.write("hot.ini", "hot = 40 C\n");
    for (const std::string command : {"brine", "day --thickness 30mm --draws 0",
                                      "plan --thickness 30mm --draws 0 --stage 'brine, 3 d'"}) {
        CAPTURE(command);
        const auto dangers = answer(folder, command + pot)["dangers"];
        REQUIRE(dangers.size() == 1);
        CHECK(dangers[0] == words);
        // Told to be 40 C, a kilogram of ice leaves it frozen to slush, and that is told, too.
        const auto told = answer(folder, command + pot + "--case hot.ini")["dangers"];
        REQUIRE(told.size() == 1);
        CHECK_THAT(told[0].get<std::string>(), Contains("freezes the meat: use less ice"));
    }
}

} // namespace test_recipes
