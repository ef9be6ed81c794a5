// SPDX-License-Identifier: MIT
/// Two cooks through the whole job, from the recipe to the slice: a rib block in a dry cure, soaked
/// and rested, and a bucket of three cuts with a day it is wanted. Cuts and amounts are invented.
#include "json.hpp"
#include "one_line.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <regex>

namespace test_two_cooks {

using namespace tidemark::cli;
using Catch::Contains;
using Catch::Matches;

namespace {

void ribs(const Folder& folder, const std::string& name, const std::string& rub) {
    folder.write(name, "muscle = pork rib block\nshape = block\nthickness = 3 in\nwidth = 5.5 in\n"
                       "weight = 5 lb 8 oz\nbones = 5\ncooler = 38 F\nstage = " +
                           rub + "\nstage = soak, 1.5 gal, 1 h\nstage = rest, 5 d\n");
}

void bucket(const Folder& folder) {
    folder.write("first.ini", "muscle = collar\nshape = block\nthickness = 3 in\nwidth = 5 in\n"
                              "weight = 4 lb\nwith = second.ini\nwith = third.ini\n"
                              "brine-salt = 6 %\nbrine-nitrite = 200 ppm\nbrine = 1.5 gal\n"
                              "cooler = 38 F\n");
    folder.write("second.ini",
                 "muscle = silverside\nshape = round\nthickness = 2.5 in\nweight = 2 lb 8 oz\n");
    folder.write("third.ini", "muscle = turkey breast\nshape = loin\nthickness = 2.2 in\n"
                              "width = 4.5 in\nweight = 3 lb\npieces = 2\nseal = bottom\n");
}

double area_of(const Json& ring) {
    double twice = 0;
    for (std::size_t k = 0; k < ring.size(); ++k) {
        const Json &a = ring[k], &b = ring[(k + 1) % ring.size()];
        twice += a[0].get<double>() * b[1].get<double>() - b[0].get<double>() * a[1].get<double>();
    }
    return std::abs(twice) / 2;
}

long lines_of(const std::string& screen) {
    return std::ranges::count(screen, '\n');
}

} // namespace

TEST_CASE("a block has ribs where the cook says so", "[cli]") {
    const Folder folder;
    const std::string block = "day --shape block --thickness 76mm --width 140mm --weight 2.5kg "
                              "--brine-salt 5% --brine-nitrite 200ppm --brine 3L" +
                              few;
    const Json with = answer(folder, block + "--bones 4 --muscle 'pork rib block'");
    int bones = 0;
    for (const Json& region : with["section"]["regions"]) {
        REQUIRE(region["tissue"] == "bone");
        // An oval 12 mm wide and 10 mm tall, by hand.
        CHECK(area_of(region["ring_mm"]) == Approx(std::acos(-1.0) / 4 * 12 * 10).epsilon(0.01));
        ++bones;
    }
    CHECK(bones == 4);
    CHECK(with["section"]["core_mm"][1].get<double>() < 0); // towards the face they keep shut
    // Bone keeps the brine from one face in part: later, and not by as much as a shut face.
    const double plain = answer(folder, block)["cured_day"],
                 shut = answer(folder, block + "--seal bottom")["cured_day"],
                 boned = with["cured_day"];
    CHECK(boned > plain);
    CHECK(boned < shut);
    refused(folder, block + "--bones 14",
            "--shape: 14 bones: each 12 mm (0.47 in) wide, do not fit side by side in a piece 140 "
            "mm (5.5 in) wide; give at most 11, a smaller bone diameter or a greater width");
}

TEST_CASE("a dry cure is told in grams of salt and premix, on the screen and on the sheet",
          "[cli]") {
    const Folder folder;
    ribs(folder, "rib.ini", "rub, salt 28 g/kg, premix 2.5 g/kg, 9 d");
    const std::string asked = " --case rib.ini --start '2026-12-01 10:00'" + few;
    // 5 lb 8 oz are 2494.8 g: 28 and 2.5 g of each kilogram, by hand.
    const std::string screen = folder.run("plan" + asked).out;
    CHECK_THAT(screen, Contains("69.9 g") && Contains("6.24 g"));
    REQUIRE(folder.run("sheet" + asked + "--sheet rib.html").code == 0);
    const std::string sheet = contents(folder / "rib.html");
    CHECK_THAT(sheet, Contains("69.9 g") && Contains("6.24 g"));
    CHECK_THAT(sheet, Contains("pork rib block"));
    // A load given as nitrite is weighed as premix, 6.25 % of it: 150 ppm are 2.4 g, with 2.25 g of
    // salt in them, by hand.
    const std::string ppm =
        folder
            .run("plan --thickness 60mm --weight 1kg --start 2026-12-01 --stage 'rub, salt 22.25 "
                 "g/kg, nitrite 150 ppm, 7 d'" +
                 few)
            .out;
    CHECK_THAT(ppm, Contains("20 g") && Contains("2.4 g"));
}

TEST_CASE("a change of a rub keeps the premix and the words of its stages", "[cli]") {
    const Folder folder;
    ribs(folder, "rib.ini", "rub, salt 36 g/kg, premix 2.5 g/kg, 9 d");
    const Json plan = answer(folder, "plan --case rib.ini" + few);
    REQUIRE(plan["change"].is_object());
    const std::string command = plan["change"]["command"];
    CAPTURE(command);
    if (command.find("--stage") != std::string::npos) {
        CHECK_THAT(command, Contains("premix 2.5 g/kg") && !Contains("nitrite"));
        CHECK_THAT(command, Contains("soak, 1.5 gal"));
    }
    CHECK_THAT(plan["change"]["what"].get<std::string>(), Contains("besides the premix"));
}

TEST_CASE("a rub that is too much has no latest day, but is too much", "[cli]") {
    const Folder folder;
    const std::string rub = "plan --thickness 76mm --shape loin --width 140mm --weight 2.5kg "
                            "--cooler 3C --start 2026-12-01 --stage 'rub, salt 30 g/kg, premix 2.5 "
                            "g/kg, 14 d'" +
                            few;
    const Ran ran = folder.run(rub + "--more");
    CHECK_THAT(ran.out, !Contains("LATEST") && !Contains("the latest is 0") &&
                            !Contains("Latest time out of the cure"));
    CHECK_THAT(ran.out, Contains("too salty"));
}

TEST_CASE("slices of a dry cure teach the next one", "[cli]") {
    const Folder folder;
    ribs(folder, "rib.ini", "rub, salt 28 g/kg, premix 2.5 g/kg, 9 d");
    REQUIRE(folder
                .run("learn --case rib.ini --cells 12 --start '2026-12-01 10:00' --day '8 d' "
                     "--ring 0.9in --notebook shop.csv")
                .code == 0);
    CHECK_THAT(contents(folder / "shop.csv"), Contains("2026-12-09 10:00,"));
    const Ran plan = folder.run("plan --case rib.ini --notebook shop.csv --more" + few);
    CAPTURE(plan.err);
    CHECK(plan.code == 0);
    CHECK_THAT(plan.out, Contains("those of your shop, by 1 slice"));
    refused(folder,
            "plan --thickness 60mm --stage 'rub, salt 30 g/kg, 7 d' --notebook shop.csv" + few,
            "--notebook: a slice tells by its colour, and this cure has no nitrite; add premix to "
            "a stage, or leave out --notebook");
}

TEST_CASE("a slice that is in the notebook twice is named", "[cli]") {
    const Folder folder;
    const std::string slice = "learn --thickness 60mm --cells 12 --brine-salt 5% --brine-nitrite "
                              "200ppm --day 4d --ring 12mm --notebook shop.csv ";
    REQUIRE(folder.run(slice).code == 0);
    const Ran again = folder.run(slice + "--date 2026-12-05");
    REQUIRE(again.code == 0);
    CHECK_THAT(std::regex_replace(again.out, std::regex("\\s+"), " "),
               Contains("shop.csv:3: is line 2 again, and both count"));
    const Ran other = folder.run("learn --thickness 60mm --cells 12 --brine-salt 5% "
                                 "--brine-nitrite 200ppm --day 5d --ring 14mm --notebook own.csv");
    CHECK_THAT(other.out, !Contains(" again, and both count"));
    CHECK(lines_of(other.out) <= 24);
}

TEST_CASE("why of a dry cure speaks of the cure, and no list is announced that is empty", "[cli]") {
    const Folder folder;
    ribs(folder, "rib.ini", "rub, salt 28 g/kg, premix 2.5 g/kg, 9 d");
    for (const char* grey : {"30mm", "13mm"}) {
        const Ran ran =
            folder.run("why --case rib.ini --cells 12 --day '8 d' --grey " + std::string(grey));
        CAPTURE(ran.out);
        CHECK(ran.code == 0);
        CHECK_THAT(ran.out, !Contains("so that brine") && !Contains("no brine got"));
        CHECK(lines_of(ran.out) <= 24);
        CHECK(!std::regex_search(ran.out, std::regex("likely\\):\n(?!    [ >]?[<0-9 ]*[0-9] %)")));
    }
}

TEST_CASE("a brine alone is the same to why with a stage and without", "[cli]") {
    const Folder folder;
    const std::string why = "why --muscle collar --shape block --thickness 85mm --width 130mm "
                            "--weight 2.4kg --brine-salt 7% --brine-nitrite 280ppm --brine 3L "
                            "--cooler 3C --cells 12 --day '8 d' --grey 20mm ";
    const Json plain = answer(folder, why), staged = answer(folder, why + "--stage 'brine, 14 d'");
    for (const char* key : {"causes", "cured_day", "best_day", "chance", "chance_as_told"})
        CHECK(plain[key] == staged[key]);
}

TEST_CASE("a bucket's brine is counted over all its pieces by every command", "[cli]") {
    const Folder folder;
    bucket(folder);
    const Json brine = answer(folder, "brine --case first.ini"),
               day = answer(folder, "bucket --case first.ini --cells 8 --draws 0");
    // 4 lb, 2 lb 8 oz and two of 3 lb.
    CHECK(brine["meat_kg"].get<double>() == Approx(12.5 * 0.45359237).epsilon(1e-9));
    CHECK(day["meat_kg"].get<double>() == Approx(12.5 * 0.45359237).epsilon(1e-9));
    double ppm = 0;
    for (const Json& dose : brine["ingoing"])
        if (dose["judged"] == true && dose["substance"] == "nitrite")
            ppm = dose["ppm"];
    CHECK(day["ingoing_nitrite"]["whole_system_ppm"].get<double>() == Approx(ppm).epsilon(1e-9));
    // From targets, the line to type next asks of the same bucket.
    folder.write("aim.ini", "muscle = collar\nthickness = 3 in\nweight = 4 lb\nwith = second.ini\n"
                            "target-salt = 2.1 %\ntarget-nitrite = 150 ppm\ncontainer = 12 qt\n");
    CHECK_THAT(folder.run("brine --case aim.ini").out,
               Contains("tidemark bucket --case aim.ini --water"));
}

TEST_CASE("meat and brine have to fit in the pot", "[cli]") {
    const Folder folder;
    bucket(folder);
    // 5.67 kg of meat at 1.05 to 1.08 kg/L (from memory) take 5.3 L, and the brine 5.68 L.
    for (const std::string command :
         {"bucket --case first.ini --cells 8 --draws 0", "brine --case first.ini"}) {
        CAPTURE(command);
        CHECK(folder.run(command + " --container '12 qt'").code == 0);  // 11.4 L
        const Ran small = folder.run(command + " --container '10 qt'"); // 9.5 L
        CHECK(small.code == 2);
        CHECK_THAT(small.err, Contains("--container: 9.46 L (2.5 US gal): is too small: the meat "
                                       "takes up 5.") &&
                                  Contains("the brine 5.68 L (1.5 US gal); take one of 11"));
    }
    refused(folder, quick + "--container 5L",
            "--container: 5 L (1.3 US gal): cannot be compared with meat of no weight; add "
            "--weight \"2.5 kg\"");
    folder.write("list.ini", "thickness = 40 mm\nbrine-salt = 5 %\nwith = a.ini, b.ini\n");
    refused(folder, "bucket --case list.ini",
            "list.ini:3: with: a.ini, b.ini: is more than one file; give each a with of its own, "
            "one file a line");
}

TEST_CASE("a change says what it makes of a date", "[cli]") {
    using namespace std::chrono;
    const Folder folder;
    const std::string day = "day --muscle collar --shape block --thickness 3in --width 5in "
                            "--weight '4 lb' --brine '1.5 gal' --brine-salt '6 %' --brine-nitrite "
                            "'200 ppm' --cooler 38F" +
                            few;
    const std::string ready = "--ready '2026-12-31 12:00'";
    const Json asked = answer(folder, day + ready);
    REQUIRE(asked["change"].is_object());
    CHECK(asked["ready"] == "2026-12-31 12:00");
    const double later = asked["change"]["day"];
    const year_month_day begin{
        floor<days>(sys_days{2026y / 12 / 31} + 12h - hours(std::lround(24 * later)))};
    const char* months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                            "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    const std::string date = std::to_string(unsigned(begin.day())) + ' ' +
                             months[unsigned(begin.month()) - 1] + ' ' +
                             std::to_string(int(begin.year()));
    const auto joined = [&](const std::string& words) {
        return std::regex_replace(folder.run(words).out, std::regex("\\s+"), " ");
    };
    CHECK_THAT(joined(day + ready), Matches(".*To have it on the date wanted, begin then on [A-Z]"
                                            "[a-z][a-z] " +
                                            date + ".*"));
    CHECK_THAT(joined(day + "--start '2026-12-01 12:00'"), Contains("It is then ready on "));
    CHECK_THAT(joined(day), !Contains("It is then ready on "));
    bucket(folder);
    const std::string both = joined("bucket --case first.ini " + ready + few);
    CHECK_THAT(both, Contains("The dates told here are without it"));
}

TEST_CASE("all pieces of a bucket hung free is a change tried, and a flag", "[cli]") {
    const Folder folder;
    bucket(folder);
    const Json lying = answer(folder, "bucket --case first.ini" + few),
               hung = answer(folder, "bucket --case first.ini --seal none" + few);
    folder.write("third.ini", contents(folder / "third.ini") + "seal = none\n");
    const std::string third = contents(folder / "third.ini");
    folder.write("third.ini", std::regex_replace(third, std::regex("seal = bottom\n"), ""));
    const Json open = answer(folder, "bucket --case first.ini" + few);
    CHECK(hung["pieces"][2]["cured_day"] == open["pieces"][2]["cured_day"]);
    CHECK(hung["pieces"][2]["cured_day"].get<double>() <
          0.8 * lying["pieces"][2]["cured_day"].get<double>());
    const Json& tried = lying["changes_tried"];
    REQUIRE(!tried.empty());
    CHECK(tried[0]["what"] == "no face shut: all hung free, or turned over every day");
    CHECK(tried[0]["chance"].get<double>() > 0);
}

TEST_CASE("the cook's own name comes first", "[cli]") {
    const Folder folder;
    const std::string piece = "--muscle Collar --thickness 60mm --weight 1kg --cells 8 --draws 0 ";
    const std::string brine = "--brine-salt 5% --brine-nitrite 200ppm --brine 2L ";
    for (const std::string& words :
         {"day " + piece + brine, "plan " + piece + brine + "--stage 'brine, 7 d'",
          "choose " + piece, "why " + piece + brine + "--day 3d --grey 20mm"}) {
        CAPTURE(words);
        CHECK_THAT(folder.run(words).out, Contains("collar, "));
    }
    CHECK_THAT(folder
                   .run("day --muscle pork-shoulder --thickness 60mm --cells 8 --draws 0 " + brine +
                        "--weight 1kg")
                   .out,
               Contains("pork shoulder, sheet"));
    CHECK(answer(folder, "day " + piece + brine)["piece"]["called"] == "collar");
}

TEST_CASE("no null stands where a reader expects a number", "[cli]") {
    const Folder folder;
    bucket(folder);
    const Json all = answer(folder, "bucket --case first.ini" + few);
    REQUIRE(all["change"].is_object());
    int changes = 0;
    for (const Json& p : all["pieces"])
        changes += p["change"] == all["change"];
    CHECK(changes == 1);
    CHECK(all["title"] == "3 kinds of pieces in one brine at 3.3 °C (38 °F)");
    for (const Json& p : all["pieces"])
        CHECK(p["piece"]["width_mm"].is_number());
    // A round is as wide as it is thick.
    CHECK(all["pieces"][1]["piece"]["width_mm"].get<double>() == Approx(63.5));
}

TEST_CASE("where no day is right none is told to begin on", "[cli]") {
    const Ran ran = Folder().run("day --thickness 76mm --shape block --width 140mm --weight 2.5kg "
                                 "--brine-salt 12% --brine-nitrite 100ppm --brine 4L --ready "
                                 "2026-12-24" +
                                 few);
    CHECK_THAT(ran.out, Contains("NO DAY "));
    CHECK_THAT(ran.out, !Contains("BEGIN ") && !Contains("Into the brine"));
}

TEST_CASE("a danger is told once on a screen, and the days of a table are those of its words",
          "[cli]") {
    const Folder folder;
    const std::string screen = folder
                                   .run("day --thickness 60mm --weight 2kg --brine 2L --brine-salt "
                                        "6% --brine-nitrite 900ppm --start 2026-12-01" +
                                        few)
                                   .out;
    const auto first = screen.find("is above the us limit");
    REQUIRE(first != std::string::npos);
    CHECK(screen.find("is above the us limit", first + 1) == std::string::npos);
    const std::string plan = folder
                                 .run("plan --thickness 60mm --brine-salt 6% --brine-nitrite "
                                      "200ppm --stage 'brine, until cured'" +
                                      few)
                                 .out;
    std::smatch cured, ends;
    REQUIRE(std::regex_search(plan, cured, std::regex("CORE     cured on day ([0-9.]+);")));
    REQUIRE(std::regex_search(plan, ends, std::regex("1 brine +0.0-([0-9.]+) ")));
    CHECK(cured[1] == ends[1]);
}

TEST_CASE("a way left out takes along what has it in it", "[cli]") {
    const Json ways = answer(Folder(), "choose --muscle collar --shape block --thickness 60mm "
                                       "--width 130mm --weight 1.8kg --without needles" +
                                           few);
    for (const Json& m : ways["methods"])
        if (m["method"].get<std::string>().starts_with("needles"))
            CHECK(m["ruled_out"] == "you asked to do without");
}

TEST_CASE("a bucket's sheet tells each piece's share of the brine, for why", "[cli]") {
    const Folder folder;
    bucket(folder);
    REQUIRE(folder
                .run("sheet --case first.ini --start 2026-12-01 --sheet bucket.html --cells 8 "
                     "--draws 512")
                .code == 0);
    // 1.5 gallons of a 6 % brine weigh 5.94 kg (1.045 kg/L, from memory), and 4 of 12.5 lb of meat
    // have 1.9 kg of them, 3 lb 1.43 kg.
    CHECK_THAT(contents(folder / "bucket.html"),
               Contains("its share of the brine: 1.9 kg (") && Contains("1.43 kg (3 lb 2 oz) for "
                                                                        "piece 3 (turkey breast"));
}

} // namespace test_two_cooks
