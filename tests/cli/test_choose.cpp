// SPDX-License-Identifier: MIT
/// The choose command from the outside.
#include "run.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>

using namespace tidemark::cli;
using Catch::Contains;
using Json = nlohmann::json;

namespace {

const std::string loin = "choose --thickness 40mm --weight 1kg ";

} // namespace

TEST_CASE("four methods side by side, with a recommendation and its reason", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(loin);
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    for (const char* line : {"\nCHOICE ", "\nbrine ", "\nneedles ", "\nneedles and brine ",
                             "\nrub ", "\nbag ", "\nWARNING "})
        CHECK_THAT(ran.out, Contains(line));
    CHECK(std::ranges::count(ran.out, '\n') <= 24);
    const Ran more = folder.run(loin + "--more");
    for (const char* line : {"\nMADE ", "\nLIMIT "})
        CHECK_THAT(more.out, Contains(line));
}

TEST_CASE("the JSON of a choice names its method and every number of each", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(loin + "--json --target-salt 2% --target-nitrite 120ppm");
    CAPTURE(ran.err);
    REQUIRE(ran.code == 0);
    const Json object = Json::parse(ran.out);
    REQUIRE(object["methods"].size() == 5);
    bool chosen = false;
    for (const Json& m : object["methods"]) {
        chosen = chosen || m["method"] == object["choice"];
        for (const char* key :
             {"mean_salt_percent", "core_salt_percent", "unevenness_percent", "ready_day", "hands"})
            CHECK(m[key].is_number());
        if (m["method"] == "needles and brine") {
            CHECK(m["ingoing_nitrite"]["whole_system_ppm"].get<double>() < 200); // of the US
        } else {
            CHECK(m["ingoing_nitrite"]["whole_system_ppm"].get<double>() == Approx(120));
        }
        CHECK(m["mass_balance_error"].get<double>() < 1e-10);
    }
    CHECK(chosen);
}

TEST_CASE("what cannot be chosen between is refused", "[cli]") {
    const Folder folder;
    refused(folder, "choose --weight 1kg",
            "--thickness: is missing; give it as --thickness \"65 mm\"");
    refused(folder, "choose --thickness 40mm",
            "--weight: is needed to make up the brine; add --weight \"2.5 kg\", or give the brine "
            "with --brine-salt");
    refused(
        folder, loin + "--start 2026-12-06 --ready 2026-12-05",
        "--ready: 2026-12-05: is not after the start; give a later date, or an earlier --start");
    refused(folder, loin + "--even 0%",
            "--even: 0%: must be from 1 % to 200 %; give (largest - smallest) / mean of the salt");
    refused(
        folder, loin + "--target-salt 12%",
        "--target-salt: 12%: must be from 0.3 % to 10 %; 1.8 to 2.5 % tastes cured; 0.02 is 2 %");
    refused(folder, loin + "--target-salt 2",
            "--target-salt: 2: has no unit; write it as 2.5 % or 25 g/kg");
    refused(folder, loin + "--stage 'rest, 1 d'",
            "--stage: is not a flag; see tidemark choose --help");
}

TEST_CASE("the plan printed is one that plan takes, with the case file of the choice", "[cli]") {
    const Folder folder;
    folder.write("loin.ini",
                 "thickness = 40 mm\nweight = 1 kg\ntarget-salt = 2 %\ntarget-nitrite = 120 ppm\n");
    for (const char* without :
         {"'needles, needles and brine, rub, bag'", "'brine, needles, needles and brine, bag'",
          "'brine, needles and brine, rub, bag'", "'brine, needles, rub, bag'"}) {
        const Ran ran = folder.run(std::string("choose --case loin.ini --without ") + without);
        CAPTURE(without, ran.out, ran.err);
        REQUIRE(ran.code == 0);
        const auto from = ran.out.find("tidemark plan "), to = ran.out.find("\n\n", from);
        REQUIRE(from < to);
        std::string flags = ran.out.substr(from + 9, to - from - 9);
        for (std::size_t at; (at = flags.find(" \\\n")) != std::string::npos;) {
            flags.replace(at, 3, " ");
        }
        const Ran plan = folder.run(flags);
        CAPTURE(flags, plan.err);
        CHECK(plan.code == 0);
        CHECK_THAT(plan.out, Contains("a schedule of "));
    }
}
