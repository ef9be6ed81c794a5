// SPDX-License-Identifier: MIT
/// The brine command from the outside: answers, agreement with day, and refusals word for word.
#include "json.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <sstream>

namespace test_brine {

using namespace tidemark::cli;
using Catch::Contains;

namespace {

const std::string pot = "brine --water 6L --salt 400g --premix 20g --weight 2.5kg ";

} // namespace

TEST_CASE("a brine is told on a screen, quiet on standard error", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run("brine --water 1gal --salt '1 cup' --sugar '1/2 cup' --premix 2tbsp "
                               "--weight 5lb --pieces 2 --ice 2qt --hot 200F");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    for (const char* heading : {"RECIPE ", "BRINE", "LAW ", "CHILL ", "WARNING "}) {
        CHECK_THAT('\n' + ran.out, Contains('\n' + std::string(heading)));
    }
    const std::string plain = folder.run(pot).out;
    CHECK(std::count(plain.begin(), plain.end(), '\n') <= 24);
    const std::string more = folder.run(pot + "--more").out;
    CHECK_THAT(more, Contains("salometer, 100 = saturated at 60 F"));
    std::istringstream lines(ran.out + more);
    for (std::string line; std::getline(lines, line);) {
        CAPTURE(line);
        CHECK(line.find_last_not_of(' ') + 1 == line.size());
        CHECK(std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; }) <=
              80);
    }
}

TEST_CASE("a pint is not a pound: kitchen and metric ways of writing one recipe agree", "[cli]") {
    const Folder folder;
    const double metric =
        answer(folder, "brine --water 3.785412L --salt 453.59237g")["brine"]["salt"]["value"];
    const double kitchen =
        answer(folder, "brine --water 1gal --salt 1lb")["brine"]["salt"]["value"];
    CHECK(kitchen == Approx(metric).epsilon(1e-7));
    // A pound to the US gallon of water: 10.71 %, reckoned apart at 60 F; at 20 C, where jugs are
    // marked, the gallon is 0.08 % lighter. Margin: two units of the last digit.
    CHECK(kitchen == Approx(10.71).margin(0.02).epsilon(0));
}

TEST_CASE("day and brine make the same of one case file", "[cli]") {
    const Folder folder;
    folder.write("a.ini", "thickness = 40 mm\nweight = 1 kg\nwater = 1.5 L\nice = 0.5 kg\n"
                          "salt = 8 tbsp\nsalt-kind = coarse\npremix = 9 g\npremix-kind = uk\n"
                          "erythorbate = 1 g\nhot = 90 C\nlaw = us\n");
    const Json day = answer(folder, "day --case a.ini --at 3d"),
               brine = answer(folder, "brine --case a.ini");
    CHECK(day["brine_at_start"]["salt_percent"].get<double>() ==
          brine["brine"]["salt"]["value"].get<double>());
    CHECK(day["brine_at_start"]["nitrite_ppm"].get<double>() ==
          brine["brine"]["nitrite"]["value"].get<double>());
    CHECK(day["ingoing_nitrite"]["whole_system_ppm"].get<double>() ==
          Approx(brine["ingoing"][0]["ppm"].get<double>()).epsilon(1e-14));
}

TEST_CASE("day makes the brine for the targets of a case file", "[cli]") {
    const Folder folder;
    folder.write("t.ini", "thickness = 40 mm\nweight = 1 kg\ntarget-salt = 2 %\n"
                          "target-nitrite = 120 ppm\nbrine = 2 L\n");
    const Json day = answer(folder, "day --case t.ini --at 3d"),
               brine = answer(folder, "brine --case t.ini");
    CHECK(day["brine_at_start"]["salt_percent"].get<double>() ==
          brine["brine"]["salt"]["value"].get<double>());
    // 120 ppm over 3 kg, a gram of premix being 20 ppm: to the gram that is not below the least
    // that US law asks for.
    const double ppm = day["ingoing_nitrite"]["whole_system_ppm"];
    CHECK(ppm >= 120);
    CHECK(ppm < 120 + 21);
}

TEST_CASE("the JSON of a brine holds what the screen holds", "[cli]") {
    const Folder folder;
    const Json object = answer(folder, pot + "--hot 95C --ice 3kg --law eu");
    for (const char* key : {"mass", "volume", "salt", "salometer", "density", "freezing_point",
                            "saturation", "nitrite", "salt_at_balance"}) {
        CAPTURE(key);
        CHECK(object["brine"][key]["value"].is_number());
        CHECK(object["brine"][key]["low"] <= object["brine"][key]["value"]);
    }
    const Json& dose = object["ingoing"][0];
    CHECK(dose["judged"] == true);
    CHECK(dose["limit"]["counts_the_ion"] == true);
    CHECK(dose["limit"]["printed_ppm"].get<double>() == Approx(80));
    CHECK(object["chill"]["below_limit"] == false);
    CHECK(object["chill"]["ice_to_limit_kg"].get<double>() > 3);
    CHECK(object["dangers"].size() >= 1);
    CHECK(object["parameters"].size() > 10);
}

TEST_CASE("a recipe goes before a strength, and says so", "[cli]") {
    const Folder folder;
    const std::string recipe = "brine --water 4L --salt 240g --weight 2kg ";
    const Ran both = folder.run(recipe + "--brine-salt 5%"), one = folder.run(recipe);
    CHECK(both.code == 0);
    CHECK_THAT(both.out, Contains("the brine is given by strength and by recipe"));
    CHECK(both.out.substr(0, both.out.find('\n')) == one.out.substr(0, one.out.find('\n')));
}

TEST_CASE("a spoon in the pot shows its range in the answer", "[cli]") {
    const Folder folder;
    const Json spoon = answer(folder, "brine --water 4L --salt 1cup --salt-kind flake")["brine"];
    // 158 g to a cup of flakes and a factor of 1.2 either way (models/measures.ini).
    CHECK(spoon["salt"]["low"].get<double>() < spoon["salt"]["value"].get<double>() / 1.15);
    CHECK(spoon["salt"]["high"].get<double>() > spoon["salt"]["value"].get<double>() * 1.15);
    const Json scales = answer(folder, "brine --water 4L --salt 158g")["brine"];
    CHECK(scales["salt"]["value"].get<double>() == spoon["salt"]["value"].get<double>());
    CHECK(scales["salt"]["low"].get<double>() == scales["salt"]["high"].get<double>());
}

TEST_CASE("every number of a brine is refused when negative, zero, absurd or bare", "[cli]") {
    const Folder folder;
    for (const std::string flag : {"water",
                                   "salt",
                                   "sugar",
                                   "premix",
                                   "ice",
                                   "cold-water",
                                   "erythorbate",
                                   "weight",
                                   "hot",
                                   "ice-temperature",
                                   "cold-temperature",
                                   "target-salt",
                                   "target-nitrite",
                                   "container",
                                   "scale",
                                   "premix-nitrite",
                                   "premix-nitrate",
                                   "pick-up",
                                   "pump",
                                   "pieces",
                                   "cooler",
                                   "brine",
                                   "brine-salt",
                                   "brine-nitrite"}) {
        const bool temperature = flag == "hot" || flag == "cooler" || flag.ends_with("temperature");
        const bool share = flag.starts_with("target") || flag.starts_with("pi") || flag == "pump" ||
                           flag.find("-ni") != std::string::npos || flag == "brine-salt";
        const bool volume = flag == "container";
        const std::string unit = flag == "pieces" ? ""
                                 : temperature    ? "C"
                                 : share          ? "%"
                                 : volume         ? "L"
                                                  : "kg";
        std::vector<std::string> values{"-5000" + unit, "5000000" + unit, "", "kg", "nan" + unit};
        if (flag != "pieces") {
            values.push_back("5"); // no unit
        }
        if (!temperature && flag != "premix-nitrate" && !flag.starts_with("brine-")) {
            values.push_back("0" + unit);
        }
        for (const std::string& value : values) {
            const Ran ran = folder.run("brine --" + flag + "='" + value + "'");
            CAPTURE(flag, value, ran.err);
            CHECK(ran.code == 2);
            CHECK(ran.out == "");
            CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
            CHECK_THAT(ran.err, Contains("--" + flag));
        }
    }
}

TEST_CASE("a proportion written as a percent is met with the percent", "[cli]") {
    const Folder folder;
    const std::string gain = "must be from 1 % to 60 %; give the gain over the raw weight: 10 %, "
                             "not 0.1 %";
    refused(folder, pot + "--pick-up 0.1%", "--pick-up: 0.1%: " + gain);
    refused(folder, pot + "--pump 1000%", "--pump: 1000%: " + gain);
    refused(folder, pot + "--premix-nitrite 0.0625%",
            "--premix-nitrite: 0.0625%: must be from 0.1 % to 10 %; read the label of the premix; "
            "do not weigh out pure nitrite at home");
    refused(
        folder, "brine --target-salt 0.02%",
        "--target-salt: 0.02%: must be from 0.3 % to 10 %; 1.8 to 2.5 % tastes cured; 0.02 is 2 "
        "%");
    refused(folder, pot + "--pick-up 0.1",
            "--pick-up: 0.1: has no unit; write it as 2.5 % or 25 "
            "g/kg");
}

TEST_CASE("a brine that cannot be is refused", "[cli]") {
    const Folder folder;
    refused(folder, "brine",
            "--brine-salt: is missing; give --brine-salt \"6 %\", or a recipe: --water \"6 L\" "
            "--salt \"400 g\"; for a rub or a bag ask tidemark plan, or brine --way bag");
    refused(folder, "brine --salt 400g",
            "--water: is missing from the recipe; give it as --water \"6 L\"");
    refused(folder, "brine --water 6L",
            "--water: the recipe has no salt in it; add --salt \"450 g\" or --premix \"30 g\"");
    refused(
        folder, "brine --water 1kg --salt 500g",
        "--salt: 33.3 %: is more salt than dissolves at this temperature, 26.3 %; use less salt or "
        "more water");
    refused(folder, "brine --brine-salt 6% --hot 90C",
            "--hot: needs a recipe to cool; give --water and --salt");
    refused(folder, pot + "--scale 1g",
            "--scale: 1g: goes with --target-salt only; add --target-salt \"2 %\", or give a "
            "recipe");
    refused(folder, pot + "--target-salt 2%",
            "--target-salt: 2 %: asks for a recipe, and one is given as well; keep one of them");
    refused(folder, "brine --target-salt 2% --container 8L",
            "--weight: is missing; targets need the weight of the meat: --weight \"2.5 kg\"");
    refused(folder, pot + "--law uss", "--law: uss: is not a known name; did you mean us?");
    refused(folder, pot + "--premix-kind us-no3",
            "--premix-kind: us-no3: is not a known name; use one of eu, eu-strong, eu-weak, uk, "
            "us-no1, us-no2, us-no2-low");
    refused(folder, pot + "--watr 6L", "--watr: is not a flag; did you mean --water?");
    refused(folder, pot + "--thickness 65mm",
            "--thickness: is not a flag; see tidemark brine "
            "--help");
}

} // namespace test_brine
