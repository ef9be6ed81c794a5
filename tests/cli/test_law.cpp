// SPDX-License-Identifier: MIT
/// The law that was asked for, in every command that speaks of ingoing nitrite. Limits: 200 ppm by
/// immersion and 120 ppm in bacon (fsis1995), 150 ppm of nitrite as the sodium salt in the EU until
/// 2025 and 80 ppm of the ion, which is 120 ppm of the salt, since (models/limits.ini has the
/// places).
#include "run.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

namespace test_law {

using namespace tidemark::cli;
using Catch::Contains;
using Json = nlohmann::json;

namespace {

const std::string brine =
    " --thickness 65mm --weight 2kg --brine 2L --brine-salt 5% --brine-nitrite 340ppm ";

Ran run(const std::string& words) {
    const Folder folder;
    folder.write("other.ini", "thickness = 40 mm\nweight = 100 g\n");
    const Ran ran = folder.run(words);
    CAPTURE(words, ran.err);
    REQUIRE(ran.code == 0);
    return ran;
}

} // namespace

TEST_CASE("day, bucket, plan and brine judge one brine by the law asked for", "[cli]") {
    // 340 ppm of a brine as heavy as the meat, near enough, is 172 ppm over both.
    for (const char* words :
         {"day --draws 0", "bucket --with other.ini", "plan --draws 0 --stage 'brine, 4 d'"}) {
        CAPTURE(words);
        CHECK_THAT(run(words + brine).out, !Contains("DANGER"));
        CHECK_THAT(run(words + brine + "--law eu").out,
                   Contains(" ppm is above the eu limit of 120 ppm (80 ppm as"));
        CHECK_THAT(run(words + brine + "--product bacon").out,
                   Contains("is above the us limit of 120 ppm for bacon"));
    }
}

TEST_CASE("the law is a yes or no on what was weighed: it does not move a day", "[cli]") {
    const std::string day =
        "day --draws 0 --json --thickness 30mm --brine-salt 4% --brine-nitrite 250ppm --law ";
    const Json us = Json::parse(run(day + "us").out);
    CHECK_FALSE(us["dangers"].empty()); // 250 ppm of very much brine
    for (const char* law : {"eu", "codex"}) {
        const Json other = Json::parse(run(day + law).out);
        CHECK(other["last_good_day"] == us["last_good_day"]);
        CHECK(other["cured_day"] == us["cured_day"]);
    }
    CHECK_THAT(us["last_good_reason"].get<std::string>(), Contains("the mean salt passes"));
    CHECK_THAT(
        run("day --draws 0 --thickness 30mm --brine-salt 5% --brine-nitrite 150ppm --law codex")
            .out,
        Contains("the codex code limits what is left in the product"));
}

TEST_CASE("nitrate in a premix, a warm cooler and a brine without an amount are not passed over",
          "[cli]") {
    const std::string recipe =
        " --thickness 65mm --weight 2kg --water 2L --salt 100g --premix 15g --premix-kind us-no2 ";
    for (const char* words :
         {"day --draws 0", "bucket --with other.ini", "plan --draws 0 --stage 'brine, 4 d'"})
        CHECK_THAT(run(words + recipe).out, Contains("DANGER   the premix holds nitrate"));
    CHECK_THAT(
        run("day --draws 0 --thickness 65mm --brine-salt 5% --brine-nitrite 150ppm --cooler 10C")
            .out,
        Contains("DANGER   cooler: "));
    CHECK_THAT(
        run("brine --weight 2.5kg --brine-salt 6% --brine-nitrite 5000ppm").out,
        Contains("DANGER   ingoing nitrite 5000 ppm is above the us limit of 200 ppm, immersion"));
    CHECK_THAT(run("choose --draws 0 --thickness 40mm --weight 1kg --target-nitrite 40ppm").out,
               Contains("ingoing nitrite 40 ppm is below"));
    CHECK_THAT(run("choose --draws 0 --thickness 40mm --weight 1kg --target-nitrite 120ppm").out,
               !Contains("ppm is below"));
}

TEST_CASE("Canada counts nitrate with nitrite, in every command alike", "[cli]") {
    // By hand: 30 g of a premix of 6.25 % nitrite and 4 % nitrate over 2 kg of meat, 2 L of water
    // (2 kg to 0.2 % at room temperature), 100 g of salt and the premix; to the ppm that 0.2 % of
    // it is.
    const std::string recipe = " --thickness 65mm --weight 2kg --water 2L --salt 100g --premix 30g "
                               "--premix-nitrite '6.25 %' --premix-nitrate '4 %' --json --law ";
    const Json us = Json::parse(run("day --draws 0" + recipe + "us").out),
               day = Json::parse(run("day --draws 0" + recipe + "canada").out),
               plan =
                   Json::parse(run("plan --draws 0 --stage 'brine, 4 d'" + recipe + "canada").out);
    const double all = 2000 + 2000 + 100 + 30;
    CHECK(us["ingoing_nitrite"]["whole_system_ppm"].get<double>() ==
          Approx(1e6 * 30 * 0.0625 / all).margin(1));
    CHECK(day["ingoing_nitrite"]["whole_system_ppm"].get<double>() ==
          Approx(1e6 * 30 * 0.1025 / all).margin(1));
    CHECK(plan["ingoing_nitrite"]["whole_system_ppm"].get<double>() ==
          Approx(1e6 * 30 * 0.1025 / all).margin(1));
}

TEST_CASE("40 F is as warm as a cure may be kept, and no warmer", "[cli]") { // nchfp: 40 F
    const std::string brine_at =
        "day --draws 0 --thickness 65mm --brine-salt 5% --brine-nitrite 150ppm --cooler ";
    CHECK_THAT(run(brine_at + "40F").out, !Contains("DANGER"));
    CHECK_THAT(run(brine_at + "41F").out,
               Contains("is warmer than a cure may be kept, 4.4 °C (40 °F)"));
}

TEST_CASE("a rub's nitrate is judged, and plan names the law", "[cli]") {
    // The US limits of a dry cure are 625 ppm of nitrite and 2187 of nitrate; bacon may have no
    // nitrate (fsis1995, as models/limits.ini has them).
    const std::string rub =
        "plan --draws 0 --thickness 40mm --weight 1kg --brine-salt 5% --premix-nitrate '8 %' "
        "--stage 'rub, salt 25 g/kg, premix ";
    CHECK_THAT(run(rub + "3 g/kg, 10 d'").out,
               Contains("limit 625 ppm (us, cured)") && !Contains("DANGER"));
    CHECK_THAT(run(rub + "30 g/kg, 10 d'").out,
               Contains("DANGER   ingoing nitrate 2400 ppm is above the us limit"));
    CHECK_THAT(run(rub + "3 g/kg, 10 d' --product bacon").out,
               Contains("DANGER   no nitrate is allowed in bacon"));
}

TEST_CASE("pumped bacon wants ascorbate or erythorbate, and a premix's nitrate is no salt",
          "[cli]") {
    const std::string pumped =
        "plan --draws 0 --thickness 40mm --weight 1kg --brine-salt 5% --brine-nitrite 1200ppm "
        "--pump '10 %' --stage 'rest, 2 d' ";
    CHECK_THAT(run(pumped + "--product bacon").out,
               Contains("DANGER   pumped bacon needs 550 ppm of ascorbate"));
    CHECK_THAT(run(pumped).out, !Contains("pumped bacon"));
    // 25 + 10 x (1 - 0.0625 - 0.1) g of salt on 1 kg, put on a bag that keeps it all; nitrate is
    // not salt.
    const Json bag = Json::parse(
        run("plan --draws 0 --thickness 20mm --weight 1kg --brine-salt 5% "
            "--premix-nitrate '10 %' --stage 'bag, salt 25 g/kg, premix 10 g/kg, 60 d' --json")
            .out);
    const Json& stage = bag["stages"][0];
    CHECK(stage["salt_taken_g"].get<double>() + stage["salt_left_behind_g"].get<double>() ==
          Approx(33.375).epsilon(1e-6));
}

TEST_CASE("a schedule past its own latest day says so", "[cli]") {
    const std::string words =
        "plan --draws 0 --thickness 40mm --weight 1kg --brine 3L --brine-salt 6% "
        "--brine-nitrite 150ppm --stage 'rest, 1 d' ";
    CHECK_THAT(
        run(words + "--stage 'brine, 30 d'").out,
        Contains("NOTE     it stays in the cure for 31 days, and the latest is 7 days: then the\n"
                 "         mean salt passes 2.5 %"));
    CHECK_THAT(run(words + "--stage 'brine, 3 d'").out, !Contains("and the latest is"));
}

} // namespace test_law
