// SPDX-License-Identifier: MIT
/// The learn command from the outside: what it writes, what it says, and refusals word for word.
/// Batches are invented.
#include "json.hpp"
#include "notebook.hpp"
#include "one_line.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <chrono>
#include <sstream>
#include <vector>

namespace test_learn {

using namespace tidemark::cli;
using Catch::Contains;

namespace {

const std::string piece = "--muscle beef-round --shape round --thickness 70mm --brine-salt 5% "
                          "--brine-nitrite 200ppm --cooler 3C ";
const std::string learn = "learn --notebook shop.csv ";

} // namespace

TEST_CASE("three grey cores are kept, and move the next day later", "[cli]") {
    const Folder folder;
    Json last;
    double before = 0;
    for (const char* slice :
         {"--day 6d --grey 32mm --batch first", "--day 6d --grey 30mm --batch second",
          "--day \"8 d\" --grey 24mm --date 2026-12-05"}) {
        last = answer(folder, learn + piece + slice);
        CHECK(last["added"] == true);
        // What was told before the slice is what the one before had taught.
        const double told = last["batches"].back()["predicted_half_day"];
        CHECK(told ==
              Approx(before > 0 ? before : last["cured_day_by_records"]["half"].get<double>())
                  .epsilon(0.002)); // the empty notebook's prior is cut off at 4.5 sd
        before = last["cured_day_by_shop"]["half"];
    }
    REQUIRE(last["batches"].size() == 3);
    CHECK(last["batches"][2]["date"] == "2026-12-05");
    CHECK(last["batches"][2]["grey_mm"].get<double>() == Approx(24));
    CHECK(last["pace_of_nitrite"]["told"] == true);
    CHECK(last["pace_of_nitrite"]["half"] < 0.85);
    CHECK(last["loss_of_nitrite"]["told"] == false);
    CHECK(last["cured_day_by_shop"]["half"].get<double>() >
          1.3 * last["cured_day_by_records"]["half"].get<double>());
    // The last batch's case serves where none is told, and day agrees.
    const Json shown = answer(folder, learn);
    CHECK(shown["added"] == false);
    CHECK(shown["cured_day_by_shop"] == last["cured_day_by_shop"]);
    const Json day = answer(folder, "day --notebook shop.csv " + piece);
    CHECK_THAT(day.dump(),
               Contains("days, map and ranges are those of your shop, by 3 slices of this "
                        "muscle in shop.csv"));
    CHECK(day["range"]["cured_day"]["half"].get<double>() ==
          Approx(shown["cured_day_by_shop"]["half"].get<double>()).epsilon(0.02));
    // Another muscle of the shop has not been sliced.
    const Json other = answer(folder, learn + "--muscle pork-loin --thickness 70mm --brine-salt 5% "
                                              "--brine-nitrite 200ppm");
    CHECK(other["batches"].empty());
    CHECK(other["pace_of_nitrite"]["reason"] == "no batch has been sliced yet");
}

TEST_CASE("what was learnt fits a screen", "[cli]") {
    const Folder folder;
    folder.write("a.ini", "muscle = beef-round\nshape = round\nthickness = 70 mm\nwater = 3 L\n"
                          "salt = 160 g\npremix = 10 g\nweight = 1.5 kg\nat = 3 d\n");
    folder.run(learn +
               "--case a.ini --day 6d --grey 20mm --grey-width 25mm --ring-top 22mm "
               "--ring-bottom 20mm --ring-left 19mm --ring-right 25mm --batch 'a long, long name "
               "of one batch'");
    const Ran ran = folder.run(learn + "--case a.ini --day 7d --pink-through --date 2026-12-05");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    for (const char* heading :
         {"NITRITE ", "SALT ", "LOSS ", "PIECES ", "NEXT ", "SLICES ", "WARNING "}) {
        CHECK_THAT('\n' + ran.out, Contains('\n' + std::string(heading)));
    }
    std::istringstream lines(ran.out);
    for (std::string line; std::getline(lines, line);) {
        CAPTURE(line);
        CHECK(line.find_last_not_of(' ') + 1 == line.size());
        CHECK(std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; }) <=
              80);
    }
    // The case file is in the notebook by its flags, so that it may change afterwards.
    CHECK_THAT(contents(folder / "shop.csv"), Contains("--salt \"\"160 g\"\""));
    CHECK_THAT(contents(folder / "shop.csv"), !Contains("--at"));
    CHECK_THAT(contents(folder / "shop.csv"), !Contains("a.ini"));
}

TEST_CASE("a torn line is told, passed over, and does not spoil the next", "[cli]") {
    const Folder folder;
    answer(folder, learn + piece + "--day 6d --grey 32mm --batch first");
    answer(folder, learn + piece + "--day 6d --grey 30mm --batch second");
    const std::string all = contents(folder / "shop.csv");
    folder.write("shop.csv", all.substr(0, all.size() - 20));
    const Json third = answer(folder, learn + piece + "--day 6d --grey 28mm --batch third");
    REQUIRE(third["batches"].size() == 2);
    CHECK(third["batches"][1]["batch"] == "third");
    CHECK(third["warnings"].dump().find(
              "shop.csv:3: was cut short or is not a notebook's line; it is "
              "passed over: give that batch again") != std::string::npos);
}

TEST_CASE("what cannot be learnt from is refused in one line, and nothing is written", "[cli]") {
    const Folder folder;
    refused(folder, "learn", "--notebook: is missing; name a file to keep your slices in");
    refused(folder, learn,
            "--notebook: shop.csv: is not a file; begin one: tidemark learn --notebook "
            "FILE with a batch");
    refused(folder, learn + piece + "--day 7d",
            "--ring: is missing; say what the slice showed: --ring, --grey or --pink-through");
    refused(folder, learn + piece + "--ring 7mm",
            "--day: is missing; say on which day it was cut: --day \"7 d\"");
    refused(folder, learn + piece + "--day 7d --ring 7mm --ring-top 5mm",
            "--ring-top: 5mm: does not go with --ring; give --ring for all faces, or each face by "
            "itself");
    refused(
        folder, learn + piece + "--day 7d --pink-through --ring 5mm",
        "--ring: 5mm: does not go with --pink-through; a slice without grey has no ring: keep one "
        "of the two");
    refused(folder, learn + piece + "--loss none --day 7d --pink-through",
            "--loss: none: sets what slices are to teach; leave it out, or leave out --notebook");
    refused(folder, learn + piece + "--diffusivity '2e-10 m2/s' --day 7d --ring 9mm",
            "--diffusivity: 2e-10 m2/s: sets what slices are to teach; leave it out, or leave out "
            "--notebook");
    refused(folder, learn + "--thickness 70mm --brine-salt 5% --day 7d --ring 9mm",
            "--brine-nitrite: a slice tells by its colour, and this brine has no nitrite; add "
            "--brine-nitrite or --premix, or leave out --notebook");
    refused(folder, learn + piece + "--day 7d --grey 0mm",
            "--grey: 0mm: must be from 1 mm to 600 mm; a slice without grey is --pink-through");
    refused(folder, learn + piece + "--day 7d --ring 9mm --date tomorrow",
            "--date: tomorrow: is not a date, or a date and a time, with the year first in four "
            "digits; write it as 2026-12-05 or 2026-12-05 18:00");
    refused(folder, learn + piece + "--day 7d --ring 9mm --batch =1+1",
            "--batch: =1+1: begins as a formula of a spreadsheet does; begin it with a letter or a "
            "digit");
    refused(folder, "day --notebook shop.csv " + piece,
            "--notebook: shop.csv: is not a file; begin one: tidemark learn --notebook FILE with a "
            "batch");
    CHECK(folder.files() == 0);
    folder.write("log.csv", "time,temperature [C]\n0,3\n");
    refused(
        folder, "learn --notebook log.csv",
        "log.csv:1: time,temperature [C]: is not the first line of a notebook; name another file; "
        "a new one is begun as needed");
    for (const std::string flag : {"day", "ring", "ring-top", "ring-bottom", "ring-left",
                                   "ring-right", "grey", "grey-width"}) {
        for (const std::string value : {"-5mm", "5000000mm", "", "mm", "nanmm", "5", "5kg"}) {
            const Ran ran =
                folder.run(learn + piece + "--day=7d --ring=5mm --" + flag + "='" + value + "'");
            CAPTURE(flag, value, ran.err);
            CHECK(ran.code == 2);
            CHECK(ran.out == "");
            CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
            CHECK_THAT(ran.err, Contains("--" + flag));
        }
    }
    CHECK(folder.files() == 1);
}

TEST_CASE("ten thousand slices are learnt from in seconds, in little room", "[cli]") {
    const Folder folder;
    const auto book = [&](int cases, int days, int rings) {
        std::string text = Line::header;
        for (int i = 0; i < 10000; ++i) {
            Line line;
            line.batch = std::to_string(i);
            line.thickness = std::to_string(40 + i % cases);
            line.day = std::to_string(2 + 0.001 * (i / cases % days));
            line.ring = std::to_string(9 + 0.001 * (i / cases / days % rings));
            text += line.text();
        }
        folder.write("shop.csv", text);
    };
    const auto learnt = [&] {
        const auto start = std::chrono::steady_clock::now();
        const Ran ran = folder.run(learn + "--json", "ulimit -v 500000 &&"); // [kB]
        CAPTURE(ran.err);
        CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(30));
        REQUIRE(ran.code == 0);
        return Json::parse(ran.out);
    };
    const auto note = [](int some) {
        return "only the last " + std::to_string(some) +
               " of 10000 slices of this muscle are learnt from: there are too many different ones "
               "to work out all";
    };
    book(30, 1, 1);
    Json all = learnt();
    CHECK(all["batches"].size() == 10000);
    CHECK(all["warnings"].empty());
    for (const auto& [cases, days, rings] :
         {std::array{1, 1, 10000}, {1, 10000, 1}, {500, 2, 10}}) {
        book(cases, days, rings);
        all = learnt();
        const auto some = static_cast<int>(all["batches"].size());
        CAPTURE(cases, days, rings, some);
        CHECK(some >= 30);
        CHECK(some < 1000);
        CHECK(all["batches"].back()["batch"] == "9999");
        CHECK(all["warnings"] == Json{note(some)});
    }
}

TEST_CASE("equal slices count each for itself", "[cli]") {
    const Folder folder;
    std::string text = Line::header;
    Line line;
    line.thickness = "60";
    line.ring = "12"; // near the middle; far from it slips are weighed against a slow shop
    std::vector<double> sd;
    for (int i = 0; i < 3; ++i) {
        line.batch = std::to_string(i);
        text += line.text();
        folder.write("shop.csv", text);
        const Json told = answer(folder, learn);
        CHECK(told["batches"].size() == static_cast<std::size_t>(i) + 1);
        sd.push_back(told["pace_of_nitrite"]["log_sd"]);
    }
    // By little: on one day a ring tells of the pace and the eye together, and all share the eye.
    CHECK(sd[1] < sd[0]);
    CHECK(sd[2] < sd[1]);
    // What is measured as salt asks no eye.
    std::vector<double> of_salt;
    for (const char* name : {"one", "two", "three"})
        of_salt.push_back(answer(folder, "learn --notebook salt.csv " + piece +
                                             "--day 6d --ring 9mm --found-core-salt 0.4% --batch " +
                                             name)["pace_of_salt"]["log_sd"]);
    CHECK(of_salt[1] < 0.95 * of_salt[0]);
    CHECK(of_salt[2] < 0.95 * of_salt[1]);
    const Json mean = answer(folder, "learn --notebook mean.csv " + piece +
                                         "--day 6d --ring 9mm --found-mean-salt 1.6%");
    CHECK(mean["batches"].back()["found_mean_salt_percent"].get<double>() == Approx(1.6));
    CHECK(mean["pace_of_salt"]["log_sd"].get<double>() <
          0.9 * mean["pace_of_salt"]["log_sd_before"].get<double>());
    CHECK_THAT(contents(folder / "mean.csv"), Contains("found_mean_salt_percent"));
}

TEST_CASE("a batch's name is no formula to a spreadsheet, whatever stands before it", "[cli]") {
    const Folder folder;
    for (const std::string name :
         {"=1+1", " =1+1", "  +1", "-1", " @x", "\u00A0=1", "\u3000=1", "\uFF1D1", " \uFF20x"}) {
        refused(folder, learn + piece + "--day 7d --ring 9mm --batch '" + name + "'",
                "--batch: " + name +
                    ": begins as a formula of a spreadsheet does; begin it with a letter or a "
                    "digit");
    }
    for (const std::string name : {"\t=1", "\r=1", "\n=1"}) {
        const Ran ran = folder.run(learn + piece + "--day 7d --ring 9mm --batch '" + name + "'");
        CHECK(ran.code == 2);
        CHECK_THAT(ran.err, Contains("holds a control character"));
    }
    CHECK(folder.files() == 0);
}

TEST_CASE("learn takes schedules, and asks them again from the notebook", "[cli]") {
    // A brine that ends teaches what the brine without an end does; a rub is kept beside it.
    const Folder folder;
    const std::string slice = "--thickness 60mm --day 4d --ring 20mm --json ",
                      brine = "--brine-salt 5% --brine-nitrite 150ppm ";
    const auto speed = [](const Ran& ran) {
        REQUIRE(ran.code == 0);
        return nlohmann::json::parse(ran.out)["pace_of_nitrite"]["half"].get<double>();
    };
    const double open = speed(folder.run("learn --notebook a.csv " + slice + brine)),
                 ended = speed(folder.run("learn --notebook b.csv " + slice + brine +
                                          "--stage 'brine, 9 d'"));
    CHECK(open < 0.97); // what all meat shares is known to 0.13 of a logarithm
    CHECK(ended == Approx(open).epsilon(0.03)); // a fit on coarse cells
    const Ran rub = folder.run("learn --notebook b.csv " + slice +
                               "--weight 1kg --stage 'rub, salt 25 g/kg, nitrite 150 ppm, 20 d'");
    REQUIRE(rub.code == 0);
    CHECK(nlohmann::json::parse(rub.out)["batches"].size() == 2);
    CHECK_THAT(contents(folder / "b.csv"), Contains("tidemark plan --thickness"));
    const Ran again = folder.run("learn --notebook b.csv");
    CHECK(again.code == 0);
    CHECK_THAT(again.out, Contains("2 batches in your notebook"));
}

TEST_CASE("rings leave the salt's days alone; salt measured in a core moves them", "[cli]") {
    const Folder folder;
    const auto range = [&](const std::string& more) {
        return answer(folder, "day " + more + piece)["range"];
    };
    const auto half = [](const Json& days, const char* day) {
        return days[day]["half"].get<double>();
    };
    const Json before = range("");
    for (const char* name : {"one", "two", "three"})
        answer(folder, learn + piece + "--day 6d --ring 9mm --batch " + name);
    const Json rings = range("--notebook shop.csv ");
    CHECK(half(rings, "cured_day") > 1.2 * half(before, "cured_day"));
    CHECK(half(rings, "salted_day") == Approx(half(before, "salted_day")).epsilon(0.01));
    for (const char* name : {"four", "five", "six"}) {
        const Json told = answer(
            folder, learn + piece + "--day 6d --ring 9mm --found-core-salt 0.4% --batch " + name);
        CHECK(told["batches"].back()["found_core_salt_percent"].get<double>() == Approx(0.4));
        CHECK(told["pace_of_salt"]["told"] == true);
    }
    CHECK(half(range("--notebook shop.csv "), "salted_day") > 1.05 * half(before, "salted_day"));
    const Ran screen = folder.run(learn);
    CHECK_THAT(screen.out, Contains("salt moves in your meat at"));
    CHECK_THAT(screen.out, Contains("\n  your next piece "));
    CHECK_THAT(screen.out, Contains("\n  pieces of a shop that is known "));
    CHECK_THAT(screen.out, Contains("ring 9 mm, core salt 0.40 %"));
}

TEST_CASE("a wrong slice is corrected by typing it again, or taken out", "[cli]") {
    const Folder folder;
    answer(folder, learn + piece + "--day 6d --grey 32mm --batch first");
    const Json right = answer(folder, learn + piece + "--day 6d --grey 30mm --batch second");
    const std::string before = contents(folder / "shop.csv");
    const auto first_line = before.find('\n') + 1;
    answer(folder, learn + piece + "--day 6d --grey 23mm --batch third");
    const Ran undone = folder.run(learn + "--undo");
    CHECK(undone.code == 0);
    CHECK_THAT(undone.out, Contains("shop.csv:4: taken out: third, day 6: grey core 23 mm"));
    CHECK(contents(folder / "shop.csv") == before);
    CHECK(answer(folder, learn)["cured_day_by_shop"] == right["cured_day_by_shop"]);
    // In its place, so that the other lines stay as they are; also where the case was wrong.
    const Json again =
        answer(folder, learn + piece + "--day 6d --grey 12mm --batch first --replace");
    CHECK_THAT(again.dump(), Contains("shop.csv:2: replaced: first, day 6: grey core 32 mm"));
    CHECK(again["added"] == false);
    REQUIRE(again["batches"].size() == 2);
    CHECK(again["batches"][0]["grey_mm"].get<double>() == Approx(12));
    const std::string after = contents(folder / "shop.csv");
    CHECK(after.substr(after.find("second")) == before.substr(before.find("second")));
    CHECK(after.substr(0, first_line) == before.substr(0, first_line));
    const Json sealed = answer(folder, learn + piece +
                                           "--fat-cap 3mm --day 6d --grey 32mm --batch "
                                           "first --replace");
    CHECK_THAT(sealed["batches"][0]["command"].get<std::string>(), Contains("--fat-cap"));
    refused(folder, learn + piece + "--day 5d --grey 12mm --batch first --replace",
            "--replace: no line of the notebook is of this muscle, day and name; give them as in "
            "the line that is wrong; --undo takes out the last line");
    CHECK(folder.run(learn + "--undo").code == 0);
    CHECK(folder.run(learn + "--undo").code == 0); // the last there is
    CHECK(contents(folder / "shop.csv") == before.substr(0, first_line));
    CHECK(folder.files() == 1); // nothing is left aside
}

TEST_CASE("a slice that a mistake explains is learnt from with a note", "[cli]") {
    const Folder folder;
    const std::string loin = learn + "--shape block --thickness 60mm --width 120mm --brine-salt 5% "
                                     "--brine-nitrite 200ppm --cooler 3C --cells 12 --day 5d ";
    const std::string shut = loin + "--ring-top 20mm --ring-bottom 1mm ";
    CHECK_THAT(joined(folder, shut + "--batch a"),
               Contains("this slice may have taught a wrong speed: the bottom shut is") &&
                   Contains("likelier than slow meat; ask tidemark why, and if so learn it again "
                            "with --seal bottom and --replace"));
    CHECK_THAT(joined(folder, shut + "--batch a --seal bottom --replace"),
               !Contains("wrong speed") && Contains("replaced: a, day 5"));
    CHECK_THAT(joined(folder, loin + "--ring 18mm --batch b"), !Contains("wrong speed"));
    CHECK_THAT(joined(folder, loin + "--pink-through --batch c"), !Contains("wrong speed"));
}

} // namespace test_learn
