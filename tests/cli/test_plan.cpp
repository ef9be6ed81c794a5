// SPDX-License-Identifier: MIT
/// The plan command from the outside: answers, the calendar, and refusals word for word.
#include "run.hpp"

#include "base/calendar.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <regex>
#include <sstream>

namespace test_plan {

using namespace tidemark::cli;
using Catch::Contains;
using Json = nlohmann::json;

namespace {

const std::string loin =
    "plan --thickness 40mm --weight 1kg --brine-salt 6% --brine-nitrite 150ppm --brine 3L ";

} // namespace

TEST_CASE("a schedule is told stage by stage, quiet on standard error", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(
        loin + "--stage 'brine, 3 d' --stage 'fresh brine, 2 d, at 3 C' --stage 'soak, 6 L, 2 h, "
               "changes 2' --stage 'rest, until even 20 %'");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    for (const char* line : {"\n1 brine ", "\n2 fresh brine ", "\n3 soak ", "\n4 rest ", "\nCORE ",
                             "\nLAW ", "\nWARNING "})
        CHECK_THAT(ran.out, Contains(line));
    CHECK(folder.files() == 0);
}

TEST_CASE("the JSON of a schedule holds what other programs rely on", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(
        loin + "--stage 'brine, 3 d' --stage 'bag, salt 5 g/kg, premix 1 g/kg, 12 h' --stage "
               "'rest, until even 40 %' --json");
    CAPTURE(ran.err);
    REQUIRE(ran.code == 0);
    const Json object = Json::parse(ran.out);
    for (const char* key :
         {"cured_day", "discretisation_error_days", "mass_balance_error", "hands"})
        CHECK(object[key].is_number());
    CHECK(object["mass_balance_error"].get<double>() < 1e-10);
    REQUIRE(object["stages"].size() == 3);
    double last = 0;
    for (const Json& stage : object["stages"]) {
        CHECK(stage["from_day"].get<double>() == Approx(last));
        last = stage["to_day"];
        CHECK(stage["came_true"] == true);
        CHECK(stage["end"]["day"].get<double>() == Approx(last));
        for (const char* key : {"mean_salt_percent", "core_salt_percent", "surface_salt_percent",
                                "unevenness_percent", "core_arrived_ppm"})
            CHECK(stage["end"][key].is_number());
    }
    CHECK(object["stages"][2]["end"]["unevenness_percent"].get<double>() ==
          Approx(40).epsilon(2e-3));
    CHECK(object["ingoing_nitrite"]["doses"].size() == 2);
    CHECK(object["course"].size() > 10);
}

TEST_CASE("needles come before the stages, and count as a method", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(
        "plan --thickness 40mm --weight 1kg --pump 10% --pump-salt 10% --pump-nitrite 1500ppm "
        "--stage 'rest, 2 d' --json");
    CAPTURE(ran.err);
    REQUIRE(ran.code == 0);
    const Json object = Json::parse(ran.out);
    CHECK(object["start"]["mean_salt_percent"].get<double>() ==
          Approx(100 * 0.1 * 0.1 / 1.1).margin(0.0005));
    REQUIRE(object["ingoing_nitrite"]["doses"].size() == 1);
    CHECK(object["ingoing_nitrite"]["doses"][0]["method"] == "pumped");
    CHECK(object["ingoing_nitrite"]["doses"][0]["ppm"].get<double>() == Approx(150));
    CHECK(object["gain_percent"].get<double>() == Approx(10));
}

TEST_CASE("a calendar file has one entry to a thing to do, on its date", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(
        loin +
        "--stage 'brine, 3 d' --stage 'soak, 6 L, 2 h, changes 1' --start '2026-12-05 18:00' "
        "--calendar cure.ics");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    CHECK_THAT(ran.out, Contains("\nSat 5 Dec 2026 18:00   Into the brine. Keep it at "));
    const std::string file = contents(folder / "cure.ics");
    std::istringstream lines(file);
    int begun = 0, ended = 0;
    for (std::string line; std::getline(lines, line);) {
        REQUIRE(line.ends_with('\r'));
        CHECK(line.size() <= 76);
        begun += line == "BEGIN:VEVENT\r";
        ended += line == "END:VEVENT\r";
    }
    CHECK(begun == ended);
    CHECK(begun >= 4);
    CHECK(file.starts_with("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"));
    CHECK(file.ends_with("END:VCALENDAR\r\n"));
    // Three days of brine, then two hours with a change after one.
    for (const char* line :
         {"DTSTART:20261205T180000\r\nDTEND:20261208T180000\r\n", "DTSTART:20261208T180000\r\n",
          "DTSTART:20261208T190000\r\n", "DTSTART:20261208T200000\r\n"})
        CHECK_THAT(file, Contains(line));
}

TEST_CASE("a bag and what lies on a face are turned every second day", "[cli]") {
    // Common practice, no source. All invented.
    const Folder folder;
    const std::string block = "--shape block --thickness 60mm --width 120mm --weight 2kg --cooler "
                              "3C --start '2026-12-05 18:00' --calendar c.ics --cells 8 --draws "
                              "256 ",
                      bag = "bag, salt 20 g/kg, nitrite 150 ppm",
                      brine = "--brine 4L --brine-salt '4 %' --brine-nitrite 150ppm ";
    const auto turns = [&](const std::string& words) {
        const Ran ran = folder.run(words);
        CAPTURE(words, ran.err);
        REQUIRE(ran.code == 0);
        const std::string file = contents(folder / "c.ics");
        std::string all; // dates and how often
        for (auto k = file.find("SUMMARY:Turn "); k != std::string::npos;
             k = file.find("SUMMARY:Turn ", k + 1)) {
            const auto from = file.rfind("DTSTART:", k);
            all += file.substr(from, file.find('\r', k) - from) + '\n';
        }
        return std::pair(all, ran.out);
    };
    const auto [file, screen] =
        turns("plan " + block + "--stage '" + bag + ", 13 d' --stage 'rest, 4 d'");
    CHECK(file == "DTSTART:20261207T180000\r\nRRULE:FREQ=DAILY;INTERVAL=2;COUNT=6\r\n"
                  "SUMMARY:Turn the bag\n"); // the last on the 12th day, a day before it comes out
    CHECK_THAT(screen,
               Contains("\nMon 7 Dec 2026 18:00   Turn the bag. Every second day, 6 times.\n"));
    // Once is no rule, and a bag of two days is not worth it.
    CHECK(turns("plan " + block + "--stage '" + bag + ", 3 d'").first ==
          "DTSTART:20261207T180000\r\nSUMMARY:Turn the bag\n");
    CHECK(turns("plan " + block + "--stage '" + bag + ", 2 d'").first.empty());
    // What lies is turned; what hangs, has its rind on, or is turned by the schedule is not.
    CHECK_THAT(turns("day " + block + brine + "--seal bottom").first,
               Contains("SUMMARY:Turn it over\n") && Contains("COUNT="));
    CHECK_THAT(turns("plan " + block + brine +
                     "--stage 'brine, 5 d, sealed bottom' --stage "
                     "'rest, 2 d'")
                   .first,
               Contains("COUNT=2\r\nSUMMARY:Turn it over\n"));
    CHECK(turns("day " + block + brine).first.empty());
    CHECK(turns("day " + block + brine + "--seal bottom --rind").first.empty());
    CHECK_THAT(turns("plan " + block + brine +
                     "--stage 'brine, 5 d, sealed bottom' --stage 'brine, 5 d, sealed top'")
                   .first,
               !Contains("RRULE") && !Contains("Turn it over"));
    folder.write("other.ini", "thickness = 40 mm\nweight = 0.6 kg\nseal = bottom\n");
    CHECK_THAT(turns("bucket " + block + brine + "--with other.ini").first,
               Contains("SUMMARY:Turn the pieces over\n"));
    folder.run("sheet " + block + "--stage '" + bag + ", 13 d' --sheet c.html");
    CHECK_THAT(contents(folder / "c.html"),
               Contains("Turn the bag<small>So that the drip reaches every face. Every second day, "
                        "6 times.</small>"));
}

TEST_CASE("a calendar has the day advised, in whole hours, and takes nothing out of a rest",
          "[cli]") {
    const Folder folder;
    const std::string piece = "--shape round --thickness 65mm --weight 1.2kg --brine 2.5L "
                              "--brine-salt 4.5% --brine-nitrite 250ppm --cooler 3C --muscle "
                              "beef-round --start '2026-12-05 18:00' --calendar c.ics ";
    const Ran day = folder.run("day " + piece + "--json");
    CAPTURE(day.err);
    REQUIRE(day.code == 0);
    const Json answer = Json::parse(day.out);
    const double best = answer["best_day"];
    const auto at = [](double days) { // from 18:00 on 5 December
        const auto t = std::chrono::local_days{std::chrono::year{2026} / 12 / 5} +
                       std::chrono::hours(18 + static_cast<int>(std::ceil(24 * days - 1e-6)));
        return tidemark::base::format_moment(t, "%Y%m%dT%H%M%S");
    };
    std::string file = contents(folder / "c.ics");
    CHECK_THAT(file, Contains("DTSTART:" + at(best) + "\r\nSUMMARY:Take it out of the brine"));
    // The middle day is a look, not an order.
    CHECK_THAT(file, Contains("SUMMARY:Check: cut one of several\\, or take a plug"));
    for (auto start = file.find("DTSTART:"); start != std::string::npos;
         start = file.find("DTSTART:", start + 1))
        CHECK(file.substr(start + 19, 4) == "0000"); // no minutes
    REQUIRE(folder
                .run("plan " + piece +
                     "--stage 'brine, until cured' --stage 'rest, 2 d' --stage 'rest, 1 d'")
                .code == 0);
    file = contents(folder / "c.ics");
    int out = 0;
    for (auto k = file.find("SUMMARY:Take it out"); k != std::string::npos;
         k = file.find("SUMMARY:Take it out", k + 1))
        ++out;
    CHECK(out == 1); // of the brine; not again of the first rest
    CHECK_THAT(file, Contains("SUMMARY:Let it rest"));
    CHECK_THAT(file, Contains("SUMMARY:Ready for the next step"));
}

TEST_CASE("a stage that cannot be read is refused in one line", "[cli]") {
    const Folder folder;
    const std::string
        kinds =
            "is not a kind of stage; use one of bag, brine, dry rub, fresh brine, rest, rub, soak",
        phrase = "is not a phrase of this kind of stage; tidemark plan --help lists them",
        slip = "check the number and its unit", share = "write it as 2.5 % or 25 g/kg";
    const std::pair<std::string, std::string> rows[] = {
        {"", kinds},
        {"until cured", "until cured: " + kinds},
        {"brine 3 d", "brine 3 d: has no comma behind its kind; write brine, and then the rest"},
        {"rub, salt 29,3 g/kg, 3 d",
         "salt 29,3 g/kg: has a decimal comma; write a point, as in 29.3 g/kg"},
        {"brineø, 3 d", "brineø: is not a kind of stage; did you mean brine?"},
        {"brine", "brine: has no end; add how long, such as 7 d, or until cured"},
        {"brine, 3", "3: has no unit; write it as 5 d or 36 h"},
        {"brine, 3 x", "3 x: has an unknown unit \"x\"; write it as 5 d or 36 h"},
        {"brine, 3 C", "3 C: is a temperature, not a mass or a volume; write it as 2.5 kg or 5 lb "
                       "8 oz or 250 mL or 8 fl oz"},
        {"brine, 3 d, 4 d", "4 d: is a second duration; keep one"},
        {"brine, nan d", "nan d: " + phrase},
        {"brine, -1 d", "-1 d: must be from 1 min to 1000 d; " + slip},
        {"brine, 0 d", "0 d: must be from 1 min to 1000 d; " + slip},
        {"brine, 1e9 d", "1e9 d: must be from 1 min to 1000 d; " + slip},
        {"brine, 1e400 d", "1e400 d: is beyond the range of numbers; write it as 5 d or 36 h"},
        {"brine,, 3 d", "brine,, 3 d: has an empty phrase; write one comma between phrases"},
        {"brine, 3 d, wobble", "wobble: " + phrase},
        {"brine, until", "until: is not something a stage can wait for; use until cured, lasting, "
                         "mean 2 %, surface 3 % "
                         "or even 20 %"},
        {"brine, until mean 2", "2: has no unit; " + share},
        {"brine, until mean nan %", "nan %: is not a finite number; " + share},
        {"brine, until mean 90 %", "90 %: must be from 0.1 % to 20 %; " + slip},
        {"brine, 3 d, at 3 C, at 4 C", "at 4 C: is a second phrase of its kind; keep one"},
        {"brine, 3 d, at 300 C",
         "300 C: must be from 0 C to 15 C; meat must be kept cold: give the cooler's temperature"},
        {"brine, 3 d, log none.csv", "none.csv: cannot be read; no such file"},
        {"brine, 3 d, sealed middle",
         "middle: is not a known name; use one of top, bottom, left, right, ends"},
        {"soak, 2 h, 0 L", "0 L: must be from 0.1 mL to 10000 L; " + slip},
        {"soak, 2 h, -3 L", "-3 L: must be from 0.1 mL to 10000 L; " + slip},
        {"soak, 2 h, 3 L, 4 L", "4 L: is a second amount; keep one"},
        {"soak, 2 h, 6 L, changes 1.5", "1.5: is not a whole number; round it"},
        {"soak, 2 h, salt 3 %", "salt 3 %: " + phrase},
        {"soak, 6 L, changes 2, until mean 1 %",
         "soak, 6 L, changes 2, until mean 1 %: has changes of water but no duration; add how "
         "long, such as 3 h"},
        {"rub, 3 d", "rub, 3 d: has no salt in it; add the load, such as salt 30 g/kg"},
        {"rub, salt 900 g/kg, 3 d", "900 g/kg: must be from 0 g/kg to 300 g/kg; " + slip},
        {"bag, salt 3000 g, 3 d", "3000 g: must be from 0 g/kg to 300 g/kg; " + slip},
        {"rub, salt 20 g/kg, nitrite 1 %, 3 d",
         "1 %: must be from 0 ppm to 2000 ppm; more is dangerous: give mg of sodium nitrite per kg "
         "of meat"},
        {"rub, salt 20 g/kg, premix 40 g/kg, 3 d",
         "rub, salt 20 g/kg, premix 40 g/kg, 3 d: puts more than 2000 ppm of nitrite on the meat; "
         "weigh the premix again: "
         "2.5 g/kg"},
        {"rest, 3 d, 6 L", "6 L: is an amount of a liquid this stage does not have; leave it out"},
    };
    for (const auto& [stage, message] : rows)
        refused(folder, loin + "--stage '" + stage + "'", "--stage 1: " + message);
}

TEST_CASE("what goes wrong around the stages is refused", "[cli]") {
    const Folder folder;
    refused(folder, loin, "--stage: no stage is given; add --stage \"brine, 7 d\"");
    refused(folder, loin + "--stage 'brine, 3 d' --stage 'soak'",
            "--stage 2: soak: has no end; add how long, such as 7 d, or until cured");
    refused(folder, "plan --thickness 40mm --brine-salt 6% --stage 'soak, 2 h, 6 L'",
            "--stage 1 (soak): 6 kg (13 lb 4 oz): cannot be shared out without knowing how much "
            "meat is in it; add "
            "--weight \"2.5 kg\" (of one piece)");
    refused(folder, "plan --thickness 40mm --stage 'brine, 3 d'",
            "--brine-salt: is missing; give --brine-salt \"6 %\", or a recipe: --water \"6 L\" "
            "--salt \"400 g\"; for a rub or a bag ask tidemark plan, or brine --way bag");
    refused(folder, loin + "--stage 'brine, 3 d' --calendar x",
            "--calendar: x: needs the day the schedule begins; add --start \"2026-12-05 18:00\"");
    refused(folder, loin + "--stage 'brine, 3 d' --start 2026-12-05 --calendar none/x.ics",
            "--calendar: none/x.ics: is in a folder that does not exist; name a file that can be "
            "written");
    refused(folder, loin + "--stage 'brine, 3 d' --start 2026-13-05",
            "--start: 2026-13-05: there is no month 13; write year-month-day");
    refused(folder, loin + "--stage 'brine, 3 d' --pump-salt 10%",
            "--pump-salt: 10%: goes with needles only; add --pump \"10 %\"");
    folder.write("log.csv", "time,temperature [C]\n");
    refused(folder, loin + "--stage 'brine, 3 d, log log.csv'",
            "log.csv: has no reading; give two or more, or a steady temperature instead");
    CHECK(folder.files() == 1);
}

TEST_CASE("a dry schedule needs no brine", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(
        "plan --thickness 40mm --stage 'rub, salt 30 g/kg, premix 2.5 g/kg, until cured'");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    CHECK_THAT(ran.out, Contains("CORE     cured on day "));
}

TEST_CASE("a date wanted tells when to begin, in every command that has days", "[cli]") {
    const Folder folder; // invented
    folder.write("a.ini", "shape = round\nthickness = 65 mm\nweight = 1.2 kg\nmuscle = beef-round\n"
                          "brine = 2.5 L\nbrine-salt = 4.5 %\nbrine-nitrite = 250 ppm\n");
    const std::string words = " --case a.ini --ready '2026-12-24 18:00'";
    const Ran day = folder.run("day" + words);
    CAPTURE(day.err);
    REQUIRE(day.code == 0);
    const auto object = nlohmann::json::parse(folder.run("day" + words + " --json").out);
    const double best = object["best_day"]; // of which the calendar keeps whole hours
    REQUIRE(best == 12);
    CHECK(object["begin"] == "2026-12-12 18:00");
    CHECK_THAT(day.out, Contains("BEGIN    on Sat 12 Dec 2026 18:00, to have it on Thu 24 Dec 2026 "
                                 "18:00."));
    CHECK_THAT(day.out, Contains("Thu 24 Dec 2026 18:00  Take it out of the brine"));
    const Ran plan = folder.run("plan" + words + " --stage 'brine, 9 d' --stage 'rest, 1 d'");
    CHECK_THAT(plan.out, Contains("BEGIN    on Mon 14 Dec 2026 18:00"));
    // It is 25 November where the tests run: twelve days before the 6th are past.
    const std::string late = "day --case a.ini --ready '2026-12-06 18:00'";
    CHECK_THAT(std::regex_replace(folder.run(late).out, std::regex("\\s+"), " "),
               Contains("BEGIN too late for Sun 6 Dec 2026 18:00: that begins on Tue 24 Nov 2026 "
                        "18:00, which is past. Begun now it is ready on Mon 7 Dec 2026 08:00."));
    CHECK(nlohmann::json::parse(folder.run(late + " --json").out)["begin_is_past"] == true);
    CHECK(object["begin_is_past"] == false);
    folder.write("b.ini", "shape = round\nthickness = 50 mm\nweight = 1 kg\nmuscle = beef-round\n");
    CHECK_THAT(folder.run("bucket --with b.ini" + words).out, Contains("BEGIN    on "));
    const Ran both = folder.run("day" + words + " --start '2026-12-01'");
    CHECK(both.code == 2);
    CHECK(both.err ==
          "tidemark: --ready: 2026-12-24 18:00: does not go with --start; keep one of the "
          "two: the other follows from it\n");
}

} // namespace test_plan
