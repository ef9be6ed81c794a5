// SPDX-License-Identifier: MIT
/// What two more cooks stumbled over who had the README alone. All cuts and schedules are invented.
#include "json.hpp"
#include "one_line.hpp"

#include <catch2/catch.hpp>

#include <regex>

namespace test_more_cooks {

using namespace tidemark::cli;
using Catch::Contains;

namespace {

/// A belly on its rind, for a bag.
void belly(const Folder& folder) {
    folder.write("belly.ini", "muscle = pork-belly\nshape = block\nthickness = 1.75 in\n"
                              "width = 9 in\nweight = 5 lb\nrind = yes\nseal = bottom\n"
                              "cooler = 38 F\n");
}

} // namespace

TEST_CASE("the best day of a schedule does not hang on the days that were typed", "[cli]") {
    const Folder folder;
    belly(folder);
    const auto best = [&](const std::string& days) {
        return answer(folder, "plan --case belly.ini --stage 'bag, salt 45 g, premix 4.4 g, " +
                                  days + "'" + few);
    };
    const Json usual = best("20 d");
    REQUIRE(usual["best_day"].is_number());
    double before = 0;
    for (const char* days : {"6 d", "30 d", "until cured"}) {
        const Json other = best(days);
        CAPTURE(days, other["best_day"], other["chance"], usual["best_day"], usual["chance"]);
        // Surfaces laid around two lengths; of 1024 pieces one in a hundred is chance.
        CHECK(other["chance"].get<double>() == Approx(usual["chance"].get<double>()).margin(0.03));
        CHECK(other["best_day"].get<double>() ==
              Approx(usual["best_day"].get<double>()).epsilon(0.2));
        if (std::string(days) != "until cured") { // longer is surer, up to there
            CHECK(other["chance_as_planned"].get<double>() >= before);
            before = other["chance_as_planned"];
        }
    }
}

TEST_CASE("a dry cure at the EU's limit is within it, as weighed and as chosen", "[cli]") {
    const Folder folder;
    const Json sheet = answer(folder, "brine --weight 1.8kg --target-salt '2.6 %' --target-nitrite "
                                      "'120 ppm' --law eu --way bag --premix-kind eu");
    CHECK(sheet["dangers"].empty());
    const Json over = answer(folder, "brine --weight 1.8kg --target-salt '2.6 %' --target-nitrite "
                                     "'130 ppm' --law eu --way bag --premix-kind eu");
    CHECK(over["dangers"].size() == 1);
}

TEST_CASE("a rind keeps brine out, and is not hung free", "[cli]") {
    const Folder folder;
    belly(folder);
    const std::string brine = "--brine-salt '7 %' --brine-nitrite '200 ppm' --brine 3L" + few;
    const Json lying = answer(folder, "day --case belly.ini " + brine);
    for (const Json& tried : lying["changes_tried"])
        CHECK_THAT(tried["what"].get<std::string>(), !Contains("hung free"));
    CHECK_THAT(joined(folder, "choose --case belly.ini" + few), !Contains("on all faces"));
    CHECK_THAT(joined(folder, "day --case belly.ini " + brine), !Contains("under the rind"));
    CHECK_THAT(joined(folder, "day --case belly.ini --seal none " + brine),
               Contains("NOTE no face is told to lie under the rind, which keeps brine out: add "
                        "--seal bottom"));
}

TEST_CASE("amounts are read by their whole names, and told as a cook weighs them", "[cli]") {
    const Folder folder;
    const std::string piece = "--muscle 'pork loin roast' --thickness 2in --weight '3 pounds' ";
    const Json words = answer(folder, "day " + piece +
                                          "--brine '2 quarts' --brine-salt 6% "
                                          "--brine-nitrite 200ppm --draws 0");
    const Json signs = answer(folder, "day --muscle pork-loin --thickness 2in --weight 3lb --brine "
                                      "2qt --brine-salt 6% --brine-nitrite 200ppm --draws 0");
    CHECK(words["cured_day"] == signs["cured_day"]);
    refused(folder, "day " + piece + "--brine-salt 6% --brine-nitrite 250",
            "--brine-nitrite: 250: has no unit; write it as 150 ppm or 150 mg/kg");
    CHECK_THAT(joined(folder, "brine --target-salt 2% --target-nitrite 150ppm --weight 2kg "
                              "--container 6L"),
               Contains(" of 6.25 % nitrite"));
    CHECK_THAT(joined(folder, "why " + piece +
                                  "--brine-salt 6% --brine-nitrite 200ppm --day 2d "
                                  "--grey 0.5in --units us --draws 512"),
               Contains("grey core 0.5 in high"));
    CHECK_THAT(joined(folder, "plan " + piece +
                                  "--pump 10% --pump-salt 7% --pump-nitrite 300ppm "
                                  "--stage 'rest, 3 d' --draws 0 --units metric "
                                  "--start 2026-12-01"),
               Contains("Its brine: 127 g of water, 8.91 g of salt, 0.653 g of premix (6.25 % "
                        "nitrite); make a little more."));
}

TEST_CASE("what is left long enough to be a danger says so, and a date that is past", "[cli]") {
    const Folder folder;
    const std::string thick = "--muscle pork-shoulder --shape round --thickness 110mm --weight 4kg "
                              "--brine-salt '4.25 %' --brine-nitrite '200 ppm' --cooler 3C ";
    const Json why = answer(folder, "why " + thick +
                                        "--day '20 d' --grey 60mm --draws 512 "
                                        "--cells 12");
    CAPTURE(why["advice"], why["best_day"], why["warnings"]);
    REQUIRE(why["best_day"].get<double>() > 30);
    CHECK(why["warnings"].dump().find("made toxin there in 35 days") != std::string::npos);
    refused(folder, "choose " + thick + "--ready 2026-11-20",
            "--ready: 2026-11-20: is past; give a date to come, or --start for one that has been");
}

} // namespace test_more_cooks
