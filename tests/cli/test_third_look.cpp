// SPDX-License-Identifier: MIT
/// What was left of the cooks' findings: logs, late changes, buckets kept by stages, dated screens.
/// All cuts and schedules are invented.
#include "json.hpp"
#include "one_line.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <regex>

namespace test_third_look {

using namespace tidemark::cli;
using Catch::Contains;

namespace {

void loin(const Folder& folder, const std::string& thickness, const std::string& salt) {
    folder.write("loin.ini", "muscle = pork-loin\nshape = loin\nthickness = " + thickness +
                                 "\nwidth = 160 mm\nweight = 4 kg\nfat-cap = 10 mm\nbones = 4\n"
                                 "bone-diameter = 14 mm\nwater = 6 L\nsalt = " +
                                 salt + "\npremix = 30 g\ncooler = 38 F\n");
}

long lines_of(const std::string& text) {
    return std::count(text.begin(), text.end(), '\n');
}

} // namespace

TEST_CASE("a cooler's log has a best day, near that of its mean", "[cli]") {
    const Folder folder;
    const std::string piece = "--muscle pork-loin --shape round --thickness 60mm --weight 1.2kg "
                              "--brine-salt '4 %' --brine-nitrite '200 ppm' --brine 6L" +
                              few;
    std::string log = "days,temperature [C]\n";
    for (int day = 0; day <= 40; day += 2)
        log += std::to_string(day) + (day % 4 == 0 ? ",2\n" : ",4\n");
    folder.write("log.csv", log);
    const Json logged = answer(folder, "plan --stage 'brine, 12 d, log log.csv' " + piece),
               held = answer(folder, "plan --stage 'brine, 12 d, at 3 C' " + piece);
    REQUIRE(logged["best_day"].is_number());
    CHECK(logged["best_day"].get<double>() == Approx(held["best_day"].get<double>()).epsilon(0.15));
    CHECK(logged["chance_as_planned"].get<double>() ==
          Approx(held["chance_as_planned"].get<double>()).margin(0.05));
    CHECK_THAT(joined(folder, "plan --stage 'brine, 12 d, log log.csv' " + piece),
               Contains("pieces like this"));
}

TEST_CASE("a log may come with semicolons or tabs, and decimal commas", "[cli]") {
    const Folder folder;
    const std::string asked = "plan --thickness 60mm --brine-salt '5 %' --brine-nitrite '150 ppm' "
                              "--draws 0 --json --stage 'brine, 5 d, log ";
    folder.write("plain.csv", "days,temperature [C]\n0,2.5\n2,3.5\n4,3.0\n");
    folder.write("semi.csv", "days;temperature [C]\n0;2,5\n2;3,5\n4;3,0\n");
    folder.write("tabs.csv", "days\ttemperature [C]\n0\t2,5\n2\t3,5\n4\t3,0\n");
    const Json plain = Json::parse(folder.run(asked + "plain.csv'").out);
    for (const char* other : {"semi.csv'", "tabs.csv'"})
        CHECK(Json::parse(folder.run(asked + other).out)["core"] == plain["core"]);
    folder.write("bad.csv", "days;temperature [C]\n0;2,5;x\n2;3,5\n");
    const Ran bad = folder.run(asked + "bad.csv'");
    CHECK(bad.code == 2);
    CHECK_THAT(bad.err, Contains("bad.csv:2: 0;2,5;x: has 3 fields, not 2"));
}

TEST_CASE("where a weaker brine takes months, needles are looked at too", "[cli]") {
    const Folder folder;
    loin(folder, "110 mm", "500 g");
    const Json j = answer(folder, "day --case loin.ini" + few);
    REQUIRE(j["change"].is_object());
    CHECK_THAT(j["change"]["what"].get<std::string>(), Contains("needles in place of the brine"));
    CHECK(j["change"]["chance"].get<double>() >= 0.9);
    CHECK(j["change"]["day"].get<double>() < 42);
    // The smallest change is the first in a cook's order, unless it takes that long.
    const Json small = answer(folder, "day --muscle pork-loin --shape round --thickness 60mm "
                                      "--weight 1.2kg --brine-salt '5 %' --brine-nitrite '200 ppm' "
                                      "--cooler 3C" +
                                          few);
    CHECK_THAT(small["change"]["what"].get<std::string>(), Contains("salt in the brine"));
}

TEST_CASE("a change that is longer than cold alone keeps meat safe says so", "[cli]") {
    const Folder folder;
    const std::string loin = "day --case '" TIDEMARK_SOURCE_DIR "/examples/loin.ini' --draws 1024 "
                             "--without needles";
    const Json j = answer(folder, loin);
    REQUIRE(j["change"].is_object());
    CHECK(j["change"]["longer_than_cold_alone_keeps"] == true);
    const std::string told = joined(folder, loin);
    // Its own line warns of the same days, and one that is short enough does not.
    const std::string line = j["change"]["command"].get<std::string>().substr(9);
    CHECK_THAT(told, Contains("right, but longer than cold alone keeps it safe."));
    CHECK_THAT(joined(folder, line), Contains("is longer than cold alone keeps it safe: "));
    const std::string thin = "day --muscle pork-loin --shape round --thickness 60mm --weight 1.2kg "
                             "--brine-salt '5 %' --brine-nitrite '200 ppm' --cooler 3C" +
                             few;
    CHECK_THAT(joined(folder, thin), Contains("CHANGE") && !Contains("cold alone"));
    CHECK(answer(folder, thin)["change"]["longer_than_cold_alone_keeps"] == false);
}

TEST_CASE("a bucket kept by stages tells how sure they are, on the screen and the calendar",
          "[cli]") {
    const Folder folder;
    folder.write("one.ini", "muscle = pork-loin\nshape = block\nthickness = 65 mm\nwidth = 110 mm\n"
                            "weight = 2 kg\nwith = two.ini\nbrine-salt = 6 %\n"
                            "brine-nitrite = 210 ppm\nbrine = 5 L\ncooler = 3 C\n");
    folder.write("two.ini", "muscle = beef-round\nshape = block\nthickness = 40 mm\n"
                            "width = 100 mm\nweight = 1 kg\n");
    const std::string asked = "bucket --case one.ini --stage 'brine, 14 d' --stage 'rest, 3 d' "
                              "--start '2026-12-05 18:00' --calendar b.ics" +
                              few;
    const std::string text = joined(folder, asked);
    std::smatch found;
    REQUIRE(std::regex_search(
        text, found,
        std::regex("AS SET piece 1 [^)]*\\) .* piece 2 [^)]*\\) (.*) right, when all")));
    const std::string least = found[1]; // beef of 40 mm is too salty by then
    const std::string calendar =
        std::regex_replace(contents(folder / "b.ics"), std::regex("\r\n "), "");
    CHECK_THAT(calendar, Contains("Of the least sure piece " + least + " are then right."));
}

TEST_CASE("a screen with dates stays on one page, in the units asked for", "[cli]") {
    const Folder folder;
    loin(folder, "80 mm", "240 g");
    const std::string start = " --start '2026-12-05 18:00'" + few;
    CHECK(lines_of(folder.run("day --case loin.ini" + start).out) <= 26);
    const std::string us =
        folder.run("plan --case loin.ini --stage 'brine, 26 d' --units us" + start).out;
    CHECK(lines_of(us) <= 28);
    CHECK_THAT(us, Contains(" 38 °F") && !Contains(" C "));
}

TEST_CASE("a sheet says where its beginning is past", "[cli]") {
    const Folder folder;
    loin(folder, "80 mm", "240 g");
    REQUIRE(
        folder.run("sheet --case loin.ini --ready '2026-12-01 10:00' --sheet s.html" + few).code ==
        0);
    CHECK_THAT(contents(folder / "s.html"), Contains("Begin: too late for Tue 1 Dec 2026 10:00"));
}

TEST_CASE("each muscle of a bucket learns from its own slices, in any order of the files",
          "[cli]") {
    const Folder folder;
    const std::string pork = "muscle = pork-loin\nshape = block\nthickness = 60 mm\n"
                             "width = 110 mm\nweight = 2 kg\n",
                      beef = "muscle = beef-brisket\nshape = block\nthickness = 45 mm\n"
                             "width = 150 mm\nweight = 1.5 kg\n",
                      brine = " --brine-salt '5 %' --brine-nitrite '200 ppm' --brine 6L "
                              "--cooler 3C --cells 12";
    folder.write("pork.ini", pork);
    folder.write("beef.ini", beef);
    for (const char* piece : {"pork.ini --day 6d --ring 18mm", "beef.ini --day 5d --ring 10mm"})
        REQUIRE(folder.run("learn --case " + std::string(piece) + " --notebook book.csv" + brine)
                    .code == 0);
    const auto asked = [&](const std::string& first, const std::string& other) {
        const Json j = answer(folder, "bucket --case " + first + " --with " + other +
                                          " --notebook book.csv --draws 1024" + brine);
        std::map<std::string, std::pair<double, double>> found;
        for (const Json& piece : j["pieces"])
            found[piece["piece"]["muscle"].get<std::string>()] = {piece["best_day"],
                                                                  piece["chance"]};
        return found;
    };
    const auto one = asked("pork.ini", "beef.ini"), other = asked("beef.ini", "pork.ini");
    REQUIRE(one.size() == 2);
    CHECK(one == other);
    // And each as alone in its share of the brine, but for what the others take up of it.
    CHECK_THAT(joined(folder, "bucket --case pork.ini --with beef.ini --notebook book.csv" + brine),
               Contains("1 slice of pork-loin in book.csv") &&
                   Contains("1 slice of beef-brisket in book.csv"));
}

TEST_CASE("a command for one piece says that others of its file are left out", "[cli]") {
    const Folder folder;
    folder.write("two.ini", "thickness = 40 mm\nweight = 1 kg\n");
    folder.write("one.ini", "thickness = 60 mm\nweight = 2 kg\nwith = two.ini\n"
                            "brine-salt = 5 %\nbrine-nitrite = 150 ppm\nbrine = 4 L\n");
    for (const char* command : {"plan --stage 'brine, 5 d'", "choose"})
        CHECK_THAT(joined(folder, command + std::string(" --case one.ini") + few),
                   Contains("other pieces are left out (two.ini), so all of the brine is for this "
                            "one: tidemark bucket has them together"));
    CHECK_THAT(joined(folder, "bucket --case one.ini" + few), !Contains("left out ("));
}

TEST_CASE("where a beginning is past, the dates are of one begun now", "[cli]") {
    const Folder folder;
    loin(folder, "80 mm", "240 g");
    const Ran late = folder.run("day --case loin.ini --ready '2026-12-01 10:00' --calendar c.ics" +
                                few); // now: 25 November, 8:00
    CHECK_THAT(late.out, Contains("too late for Tue 1 Dec 2026 10:00") &&
                             Contains("Wed 25 Nov 2026 08:00  Into the brine"));
    CHECK_THAT(contents(folder / "c.ics"), Contains("DTSTART:20261125T080000"));
}

TEST_CASE("choose writes a dry cure as it lies on the scales", "[cli]") {
    const Folder folder;
    const std::string text = joined(folder, "choose --muscle collar --shape block --thickness 60mm "
                                            "--width 130mm --weight 1.8kg --more --without needles "
                                            "--cooler 3C" +
                                                few);
    std::smatch found;
    REQUIRE(std::regex_search(text, found,
                              std::regex("bag: ([0-9.]+) g/kg of salt, ([0-9.]+) g/kg of premix, "
                                         "drip kept; weigh ([0-9.]+) g .*? of salt and ([0-9.]+) "
                                         "g")));
    CHECK(std::stod(found[3]) == Approx(1.8 * std::stod(found[1])).epsilon(5e-3));
    CHECK(std::stod(found[4]) == Approx(1.8 * std::stod(found[2])).epsilon(5e-3));
}

TEST_CASE("a piece that is taken out early has its own day, chance and entry", "[cli]") {
    const Folder folder;
    folder.write("two.ini", "muscle = beef-round\nshape = block\nthickness = 40 mm\n"
                            "width = 100 mm\nweight = 1 kg\nout = 4 d\n");
    folder.write("one.ini", "muscle = pork-loin\nshape = block\nthickness = 65 mm\n"
                            "width = 110 mm\nweight = 2 kg\nwith = two.ini\nbrine-salt = 5 %\n"
                            "brine-nitrite = 210 ppm\nbrine = 5 L\ncooler = 3 C\n");
    const std::string start = " --start '2026-12-05 18:00'" + few;
    CHECK_THAT(joined(folder, "bucket --case one.ini" + start),
               Contains("piece 2 (beef round, 40 mm): day 4, as set, with ") &&
                   Contains("Wed 9 Dec 2026 18:00 Take out piece 2"));
    const auto set = [&](const std::string& more) {
        return answer(folder, "bucket --case one.ini --stage 'brine, 14 d'" + more +
                                  few)["pieces"][1]["chance_as_planned"]
            .get<double>();
    };
    CHECK_THAT(joined(folder, "bucket --case one.ini --stage 'brine, 14 d'" + start),
               Contains("Wed 9 Dec 2026 18:00 Take out piece 2"));
    CHECK(set("") > 0.3); // at 14 days all of such beef is too salty
}

} // namespace test_third_look
