// SPDX-License-Identifier: MIT
/// A case file beside the line: what may be given more than once counts from both, but for the
/// stages, which make one schedule.
#include "commands.hpp"

#include <boost/algorithm/string/replace.hpp>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

namespace test_case_file {

using namespace tidemark::cli;
using Catch::Contains;
using Json = nlohmann::json;

TEST_CASE("a set in the case file counts beside one on the line, in every command", "[cli]") {
    // 250 ppm in 2 L around 2 kg: 127 ppm of ingoing nitrite, over a limit of 100 ppm
    const std::string brine = "--brine-salt 5% --brine-nitrite 250ppm --brine 2L",
                      limit = "limit.us.cured.immersion.nitrite=100 ppm";
    for (const Command& c : commands) {
        const std::string partition = c.name == std::string("learn") // which looks at colour alone
                                          ? "solute.nitrite.partition=0.8"
                                          : "solute.salt.partition=0.8";
        for (const auto& sets : {std::pair(limit, partition), {partition, limit}}) {
            const std::string &in_file = sets.first, &on_line = sets.second;
            CAPTURE(c.name, in_file);
            kitchen().write("set.ini", "set = " + in_file + "\n");
            const auto run = [&](const std::string& more) {
                const Ran ran = kitchen().run(line(c, brine) + more + " --set '" + on_line + "'");
                CHECK(ran.err == "");
                CHECK(ran.code == 0);
                // where it was set is told, and differs
                return boost::replace_all_copy(ran.out, "set.ini:1: set", "--set");
            };
            const std::string both = run(" --case set.ini");
            CHECK_THAT(both, Catch::StartsWith("DANGER "));
            CHECK_THAT(both, Contains("limit set by you"));
            const auto numbers = [&](const std::string& more) {
                auto object = nlohmann::json::parse(run(more + " --json"));
                object.erase("choice_command"); // as it was typed
                object.erase("change");
                object.erase("batches");
                return object;
            };
            const auto of_both = numbers(" --case set.ini");
            CHECK(of_both == numbers(" --set '" + in_file + "'"));
            CHECK(of_both != numbers(""));
        }
    }
}

TEST_CASE("of one key set in both places the line's value counts, in every command", "[cli]") {
    const std::string brine = "--brine-salt 5% --brine-nitrite 250ppm --brine 2L";
    kitchen().write("set.ini", "set = limit.us.cured.immersion.nitrite = 100 ppm\n"
                               "set = solute.salt.partition = 0.7\n");
    for (const Command& c : commands) {
        CAPTURE(c.name);
        const std::string words = line(c, brine) +
                                  " --set 'limit.us.cured.immersion.nitrite = 150 ppm'"
                                  " --set solute.salt.partition=0.8";
        const Ran ran = kitchen().run(words + " --case set.ini");
        CHECK(ran.code == 0);
        CHECK_THAT(ran.out, !Contains("DANGER"));
        const auto numbers = [&](const std::string& more) {
            auto object = nlohmann::json::parse(kitchen().run(words + more + " --json").out);
            object.erase("choice_command"); // as it was typed
            object.erase("change");
            return object;
        };
        CHECK(numbers(" --case set.ini") == numbers(""));
    }
    // Twice in one place it is a slip, as before.
    kitchen().write("twice.ini", "set = solute.salt.partition = 0.7\n"
                                 "set = solute.salt.partition = 0.8\n");
    refused(kitchen(), quick + "--case twice.ini",
            "twice.ini:2: set: solute.salt.partition: is set by twice.ini:1: set already; keep "
            "one");
}

TEST_CASE("pieces on the line join those of the case file; stages take their place", "[cli]") {
    Folder& folder = kitchen();
    folder.write("two.ini", "with = other.ini\nstage = brine, 1 d\nstage = rest, 1 d\n");
    folder.write("third.ini", "thickness = 20 mm\nweight = 100 g\n");
    const std::string piece = " --case two.ini --thickness 50mm --weight 2kg --brine-salt 5% "
                              "--brine-nitrite 250ppm --brine 2L --json";
    const Json bucket = Json::parse(folder.run("bucket --with third.ini" + piece).out);
    REQUIRE(bucket.at("pieces").size() == 3);
    CHECK(bucket["pieces"][1]["piece"]["thickness_mm"] == 30);
    CHECK(bucket["pieces"][2]["piece"]["thickness_mm"] == 20);

    const std::string plan = "plan --draws 0" + piece;
    CHECK(Json::parse(folder.run(plan).out).at("stages").size() == 2);
    CHECK(Json::parse(folder.run(plan + " --stage 'brine, 2 d'").out).at("stages").size() == 1);
    CHECK_THAT(folder.run("plan --help").out, Contains("in place of the file's"));
}

TEST_CASE("a schedule of very many stages is refused with the number that fits", "[cli]") {
    const Folder folder;
    const auto many = [&](int stages) {
        std::string text = "thickness = 40 mm\nbrine-salt = 5 %\n";
        for (int k = 0; k < stages; ++k)
            text += "stage=rest,1h\n";
        folder.write("a.ini", text);
    };
    many(850);
    refused(folder, "plan --case a.ini",
            "a.ini:103: stage: 850 stages: are too many to be solved; the first 100 would fit; "
            "give at most 100, the rest as a schedule of its own");
    many(101);
    CHECK(folder.run("plan --case a.ini").code == 2);
    many(100);
    CHECK(folder.run("plan --draws 0 --case a.ini").code == 0);
}

} // namespace test_case_file
