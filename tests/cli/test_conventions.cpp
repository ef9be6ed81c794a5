// SPDX-License-Identifier: MIT
/// What everyone who knows a command line takes for granted: help, two dashes, "-", --quiet, the
/// terminal's width, standing defaults, tables that a spreadsheet opens.
#include "commands.hpp"
#include "json.hpp"
#include "one_line.hpp"
#include "run.hpp"

#include "base/quantity.hpp"
#include "base/record.hpp"
#include "output/words.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <regex>
#include <sstream>

namespace test_conventions {

using namespace tidemark;
using namespace tidemark::cli;
using Catch::Contains;
using Catch::StartsWith;

namespace {

const std::string brine = "--brine 4L --brine-salt 6% --brine-nitrite 150ppm ";
const std::string ini = "thickness = 40 mm\nbrine-salt = 6 %\nbrine-nitrite = 150 ppm\n";

std::vector<std::string> lines(const std::string& text) {
    std::istringstream in(text);
    std::vector<std::string> list;
    for (std::string line; std::getline(in, line);)
        list.push_back(line);
    return list;
}

/// Of a line of a table: commas within quotes part nothing.
int fields(const std::string& row) {
    int count = 1;
    bool quoted = false;
    for (const char c : row) {
        quoted ^= c == '"';
        count += c == ',' && !quoted;
    }
    return count;
}

} // namespace

TEST_CASE("help COMMAND is COMMAND --help", "[cli]") {
    const Folder folder;
    for (const std::string command : {"day", "plan", "bucket", "choose", "sheet", "learn", "why",
                                      "brine", "numbers", "page", "teach"}) {
        CAPTURE(command);
        const Ran ran = folder.run("help " + command);
        CHECK(ran.code == 0);
        CHECK(ran.out == folder.run(command + " --help").out);
        CHECK_THAT(ran.out, Contains("tidemark " + command));
    }
    refused(folder, "help dya", "dya: is not a command; did you mean day?");
    refused(folder, "help day plan", "help: plan: is a second command; ask for one at a time");
}

TEST_CASE("a command with two letters in the wrong order is met with the right one", "[cli]") {
    const Folder folder;
    refused(folder, "dya", "dya: is not a command; did you mean day?");
    refused(folder, "paln", "paln: is not a command; did you mean plan?");
    refused(folder, "lern", "lern: is not a command; did you mean learn?");
    refused(folder, "bcuket", "bcuket: is not a command; did you mean bucket?");
}

TEST_CASE("behind two dashes nothing is a flag", "[cli]") {
    const Folder folder;
    const std::string stray = ": is a stray word; write a flag and its value, with quotes around a "
                              "value that holds spaces: --thickness \"65 mm\"";
    CHECK(folder.run(quick + "--draws 0 --").out == folder.run(quick + "--draws 0").out);
    refused(folder, quick + "-- --json", "--json" + stray);
    refused(folder, "day --weight 1 lb -- 4 oz", "4" + stray);
    CHECK(folder.run("numbers -- diffusion").out == folder.run("numbers diffusion").out);
    CHECK(folder.run("numbers --json diffusion").out == folder.run("numbers diffusion --json").out);
    refused(folder, "numbers -- --more",
            "numbers: --more: is not the head of any key; see tidemark numbers");
    refused(folder, "numbers a b", "b" + stray);
}

TEST_CASE("standard input is - wherever a file is read", "[cli]") {
    const Folder folder;
    folder.write("a.ini", ini);
    folder.write("piece.ini", "thickness = 30 mm\nweight = 500 g\n");
    folder.write("log.csv", "hours,temperature [C]\n0,3\n12,5\n24,4\n");
    folder.write("s.csv",
                 "part,kind,x [mm],y [mm]\no,outline,0,0\no,outline,60,0\no,outline,60,40\n"
                 "o,outline,0,40\n");
    const std::string at = " --draws 0 --at 3d --json";
    const auto same = [&](const std::string& words, const std::string& file) {
        CAPTURE(words);
        const Ran named = folder.run(words + file);
        const Ran streamed = folder.run(words + "-", "", " <" + file);
        CHECK(streamed.err == "");
        CHECK(streamed.code == 0);
        CHECK(named.out.size() > 200);
        return streamed.out == named.out;
    };
    CHECK(same("day" + at + " --case ", "a.ini"));
    const std::string outline = "day --draws 0 --brine-salt 6% --outline ";
    CHECK_THAT(folder.run(outline + "-", "", " <s.csv").out,
               Contains("the core is cured from day "));
    folder.run("learn --notebook shop.csv --day 3d --ring 9mm --case a.ini");
    CHECK_THAT(folder.run("day --case a.ini --notebook -", "", " <shop.csv").out,
               Contains("days, map and ranges are those of your shop"));
    CHECK_THAT(folder
                   .run("bucket --draws 0 --case a.ini --brine 4L --weight 1kg --with -", "",
                        " <piece.ini")
                   .out,
               Contains("TAKE OUT"));
    CHECK_THAT(
        folder.run("plan --draws 0 --case a.ini --stage 'brine, 1 d, log -'", "", " <log.csv").out,
        Contains("1 brine"));
    const Ran wrong = folder.run("day --case -", "", " <log.csv");
    CHECK(wrong.code == 2);
    CHECK_THAT(wrong.err, StartsWith("tidemark: -:1: "));
    CHECK_THAT(folder.run("day --case -").err, Contains("--case: -: is empty"));
    CHECK_THAT(folder.run("day --case -", "", " </dev/zero").err, Contains("is larger than 16 kB"));
    refused(folder, "learn --notebook - --day 3d --ring 9mm --case a.ini",
            "--notebook: -: is added to, which no stream can be; name a file");
}

TEST_CASE("a date without an hour is eight in the morning, in every command, and is shown so",
          "[cli]") {
    const Folder folder;
    folder.write("a.ini", ini + "weight = 1 kg\n");
    folder.write("b.ini", "thickness = 30 mm\nweight = 1 kg\n");
    const std::string few = " --draws 256 --cells 8";
    for (const std::string command :
         {"day --case a.ini", "plan --case a.ini --stage 'brine, 3 d'",
          "bucket --case a.ini --with b.ini", "choose --case a.ini --without needles"}) {
        CAPTURE(command);
        CHECK_THAT(joined(folder, command + " --start 2026-12-05" + few),
                   Contains("Sat 5 Dec 2026 08:00"));
        CHECK_THAT(joined(folder, command + " --ready 2026-12-19" + few),
                   Contains("Sat 19 Dec 2026 08:00"));
    }
    REQUIRE(folder.run("sheet --case a.ini --start 2026-12-05 --sheet a.html" + few).code == 0);
    CHECK_THAT(contents(folder / "a.html"), Contains("Sat 5 Dec 2026 08:00"));
    const Json learnt = answer(folder, "learn --notebook n.csv --case a.ini --start 2026-12-05 "
                                       "--day 3d --ring 9mm --cells 8");
    CHECK(learnt["batches"][0]["date"] == "2026-12-08 08:00");
    // Of a cooler's log a date alone is still its midnight.
    folder.write("log.csv", "time,temperature [C]\n2026-12-05,3\n2026-12-06,3\n2026-12-07,3\n"
                            "2026-12-08,3\n");
    const std::string logged = "why --case a.ini --stage 'brine, 2 d, log log.csv' --day 1d "
                               "--grey 9mm --start 2026-12-05" +
                               few;
    CHECK(folder.run(logged).code == 0);
}

TEST_CASE("standard output is - wherever a file is written, in place of the screen", "[cli]") {
    const Folder folder;
    const std::string plan =
        "plan --draws 0 --thickness 40mm --brine-salt 6% --brine-nitrite 150ppm "
        "--stage 'brine, 3 d' --start 2026-12-05 ";
    struct Row {
        std::string flag, file, head;
    };
    for (const Row& row :
         {Row{"--figure ", "a.svg", "<?xml"}, Row{"--sheet ", "a.html", "<!DOCTYPE html>"},
          Row{"--calendar ", "a.ics", "BEGIN:VCALENDAR\r\n"}}) {
        CAPTURE(row.flag);
        const Ran ran = folder.run(plan + row.flag + "-");
        CHECK(ran.code == 0);
        CHECK_THAT(ran.out, StartsWith(row.head));
        REQUIRE(folder.run(plan + row.flag + row.file).code == 0);
        const std::string written = contents(folder / row.file);
        if (row.flag != "--calendar ") // has the minute it was made
            CHECK(ran.out == written);
        CHECK(ran.out.size() == written.size());
    }
    CHECK(folder.files() == 3); // none called "-"
    refused(folder, plan + "--figure - --json",
            "--figure: -: does not go with --json; ask for one of them");
    refused(folder, plan + "--figure - --calendar -",
            "--calendar: -: does not go with --figure; ask for one of them");
}

TEST_CASE("quiet leaves the answer alone, with all that can hurt people", "[cli]") {
    for (const Command& c : commands) {
        CAPTURE(c.name);
        const Ran full = kitchen().run(line(c, brine)),
                  quiet = kitchen().run(line(c, brine + "--quiet"));
        CHECK(quiet.code == 0);
        CHECK(quiet.err == "");
        CHECK(lines(quiet.out).size() >= 1);
        CHECK(lines(quiet.out).size() < lines(full.out).size());
        CHECK_THAT(quiet.out, !Contains("NOTE ") && !Contains("--more") && !Contains("TYPICAL"));
        for (const std::string& said : lines(quiet.out))
            CHECK_THAT(full.out, Contains(said));
        // Meat in a brine this warm is in danger.
        const Ran hot = kitchen().run(line(c, brine + "--cooler 14C --quiet"));
        if (c.name != std::string("brine"))
            CHECK_THAT(hot.out, StartsWith("DANGER   "));
    }
}

TEST_CASE("a terminal narrower than 40 characters is written to as one of 40", "[cli]") {
    const Folder folder;
    const std::string words = quick + "--draws 0";
    CHECK(folder.run(words, "COLUMNS=20").out == folder.run(words, "COLUMNS=40").out);
    CHECK(folder.run(words, "COLUMNS=40").out != folder.run(words, "COLUMNS=80").out);
}

TEST_CASE("screens and help follow the terminal's width, down to 40 characters", "[cli]") {
    const std::string columns = GENERATE("40", "80", "20", "900");
    const std::size_t widest = columns == "20" ? 40 : columns == "900" ? 100 : std::stoul(columns);
    const auto fits = [&](const Ran& ran) {
        CHECK(ran.code == 0);
        CHECK(!ran.out.empty());
        for (const std::string& one : lines(ran.out)) {
            const std::size_t word = one.find_first_not_of(' ');
            const bool cannot_break = one.find(' ', word) == std::string::npos;
            CAPTURE(one);
            CHECK((output::width_of(one) <= widest || cannot_break));
        }
    };
    const std::string set = "COLUMNS=" + columns;
    for (const Command& c : commands) {
        CAPTURE(c.name, columns);
        fits(kitchen().run(line(c, brine), set));
        fits(kitchen().run(line(c, brine + (c.name == std::string("learn") ? "" : "--more")), set));
        if (columns == "80")
            CHECK(kitchen().run(line(c, brine), set).out == kitchen().run(line(c, brine)).out);
    }
    const Folder folder;
    for (const std::string words : {"--help", "day --help-all", "plan --help", "numbers",
                                    "numbers muscle", "numbers kinetics", "numbers --sources"})
        fits(folder.run(words, set));
}

TEST_CASE("on a narrow screen every number of a table keeps its name", "[cli]") {
    const Folder folder;
    const std::string plan =
        "plan --draws 0 --thickness 40mm --brine-salt 6% --brine-nitrite 150ppm "
        "--stage 'brine, 3 d' --stage 'rest, 1 d'";
    const std::string narrow = folder.run(plan, "COLUMNS=40").out;
    for (const std::string label :
         {"1 brine:\n", "2 rest:\n", "days 0.0-3.0", "mean salt %", "surface salt %", "core ppm"})
        CHECK_THAT(narrow, Contains(label));
}

TEST_CASE("quantities are shown in the units asked for", "[cli]") {
    const Folder folder;
    const std::string words = "day --draws 0 --thickness 65mm --weight 2kg --cooler 3C " + brine;
    CHECK_THAT(folder.run(words).out, Contains("65 mm (2.6 in)") && Contains("3 °C (37 °F)"));
    const std::string metric = folder.run(words + "--units metric").out;
    CHECK_THAT(metric,
               Contains("65 mm") && Contains("3 °C") && !Contains(" in)") && !Contains("°F"));
    const std::string us = folder.run(words + "--units us").out;
    CHECK_THAT(us, Contains("2.6 in") && Contains("37 °F") && !Contains("mm ") && !Contains("°C"));
    refused(folder, words + "--units imperial",
            "--units: imperial: is not a known name; use one of both, metric, us");
    // What is to be typed next is as near to what was worked out as a scale is, and not above.
    const std::string recipe =
        "brine --target-salt 2% --target-nitrite 120ppm --weight 2.5kg --container 6L";
    const std::string both = folder.run(recipe).out, as_us = folder.run(recipe + " --units us").out;
    for (const char* flag : {"water", "salt", "premix"}) {
        const auto typed = [&](const std::string& out) {
            std::smatch found;
            const std::regex line("--" + std::string(flag) + " \"([^\"]*)\"");
            REQUIRE(std::regex_search(out, found, line));
            return tidemark::base::parse(found[1].str(), tidemark::base::Dimension::mass, "");
        };
        CAPTURE(flag, typed(both), typed(as_us));
        CHECK(typed(as_us) <= typed(both) * 1.002); // itself in three digits
        CHECK(typed(as_us) >= 0.97 * typed(both));
    }
    CHECK_THAT(as_us, Contains(" oz\"") && !Contains(" g\""));
}

TEST_CASE("standing defaults of units and law are read from the user's own settings", "[cli]") {
    const Folder folder;
    std::filesystem::create_directories(folder / "settings/tidemark");
    std::filesystem::create_directories(folder / "home/.config/tidemark");
    const auto standing = [&](const std::string& text) {
        folder.write("settings/tidemark/defaults.ini", text);
    };
    const std::string set = "XDG_CONFIG_HOME=\"$PWD/settings\"";
    const std::string words = quick + "--draws 0 --weight 2kg --brine 4L ";
    standing("# mine\nlaw = canada\nunits = metric\n");
    const std::string out = folder.run(words, set).out;
    CHECK_THAT(out, Contains("(canada,") && Contains("40 mm thick") && !Contains(" in)"));
    CHECK_THAT(folder.run(words + "--law us --units both", set).out,
               Contains("(us, cured)") && Contains("40 mm (1.6 in)"));
    folder.write("a.ini", "law = uk\n");
    CHECK_THAT(folder.run(words + "--case a.ini", set).out, Contains("(uk, cured)"));
    CHECK(folder.run("numbers diffusion", set).code == 0); // has no law
    folder.write("home/.config/tidemark/defaults.ini", "units = us\n");
    CHECK_THAT(folder.run(words, "XDG_CONFIG_HOME= HOME=\"$PWD/home\"").out,
               Contains("1.6 in thick"));
    // A relative path is to be passed over (XDG Base Directory Specification).
    CHECK_THAT(folder.run(words, "XDG_CONFIG_HOME=settings HOME=\"$PWD/none\"").out,
               Contains("(us, cured)"));

    const std::string file = (folder / "settings/tidemark/defaults.ini").string();
    const auto fails = [&](const std::string& text, const std::string& message) {
        standing(text);
        const Ran ran = folder.run(words, set);
        CHECK(ran.code == 2);
        CHECK(ran.out == "");
        CHECK(ran.err == "tidemark: " + file + message + '\n');
    };
    fails("law = cnada\n", ":1: law: cnada: is not a known name; did you mean canada?");
    fails("cooler = 3 C\n", ":1: cooler: is not a standing default; those are units and law; take "
                            "the line out");
    fails("units\n", ":1: units: is not of the form name = value; begin comments with #");
}

TEST_CASE("numbers --json has every record, with its source", "[cli]") {
    const Folder folder;
    const Json all = answer(folder, "numbers");
    const base::Records records = base::Records::built_in();
    REQUIRE(all["numbers"].size() == records.keys().size());
    for (const auto& number : all["numbers"]) {
        const base::Record* record = records.find(number["key"]);
        REQUIRE(record);
        CHECK(number["value"].get<double>() == record->value);
        CHECK(number["unit"] == record->unit);
        if (records.source(record->source))
            CHECK(all["sources"][record->source] == records.source(record->source)->citation);
    }
    CHECK(answer(folder, "numbers muscle.pork-loin")["numbers"].size() < 20);
}

TEST_CASE("the course of every cure is a table that a spreadsheet opens", "[cli]") {
    for (const Command& c : commands) {
        const std::string name = c.name;
        if (name == "why" || name == "learn" || name == "brine")
            continue;
        CAPTURE(name);
        const Ran ran = kitchen().run(line(c, brine + "--course"));
        CHECK(ran.code == 0);
        // RFC 4180: every line ends in CR LF, all have as many fields.
        CHECK(std::ranges::count(ran.out, '\n') == std::ranges::count(ran.out, '\r'));
        const std::vector<std::string> rows = lines(ran.out);
        REQUIRE(rows.size() > 10);
        CHECK_THAT(rows[0], StartsWith("name,time_days,mean_salt_percent,core_salt_percent,"));
        for (const std::string& row : rows) {
            CHECK(row.ends_with("\r"));
            CHECK(fields(row) == 12);
        }
        // What the JSON says of the same moments, where it has the course.
        if (name == "day" || name == "plan") {
            const Json object = answer(kitchen(), line(c, brine));
            REQUIRE(object["course"].size() + 1 == rows.size());
            const std::string& last = rows.back(); // the name is quoted
            const auto time = last.find(',', last.rfind("\",") + 1);
            CHECK(std::stod(last.substr(last.find(',', time + 1) + 1)) ==
                  Approx(object["course"].back()["mean_salt_percent"].get<double>()).epsilon(1e-6));
        }
    }
    const std::string both = kitchen().run(line(commands[2], brine + "--course")).out;
    CHECK_THAT(both, Contains("\"piece 1 (") && Contains("\"piece 2 ("));
}

TEST_CASE("profiles have CR LF line ends, too", "[cli]") {
    const Folder folder;
    const std::string table = folder.run(quick + "--csv").out;
    CHECK(std::ranges::count(table, '\n') > 10);
    CHECK(std::ranges::count(table, '\n') == std::ranges::count(table, '\r'));
    CHECK_THAT(table, Contains("dangers\r\n"));
}

} // namespace test_conventions
