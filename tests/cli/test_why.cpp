// SPDX-License-Identifier: MIT
/// The why command from the outside: screen, JSON, and refusals word for word. Pieces invented.
#include "run.hpp"

#include "one_line.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <sstream>

namespace test_why {

using namespace tidemark::cli;
using Catch::Contains;
using Catch::StartsWith;
using Json = nlohmann::json;

namespace {

const std::string piece =
    "why --thickness 65mm --brine-salt 5% --brine-nitrite 150ppm --cooler 3C ";

void refused(const std::string& words, const std::string& message) {
    CAPTURE(words);
    const Folder folder;
    const Ran ran = folder.run(words);
    CHECK(ran.code == 2);
    CHECK(ran.out == "");
    CHECK(ran.err == "tidemark: " + message + '\n');
}

std::size_t characters(const std::string& line) {
    return static_cast<std::size_t>(
        std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

} // namespace

TEST_CASE("why leads with the piece that stays and the next time, on one screen", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(piece + "--day '5 d' --grey 20mm");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    std::istringstream lines(ran.out);
    std::vector<std::string> all;
    for (std::string line; std::getline(lines, line);) {
        CAPTURE(line);
        CHECK(characters(line) <= 80);
        all.push_back(line);
    }
    REQUIRE(all.size() > 3);
    CHECK(all.size() <= 24);
    CHECK_THAT(all[1], StartsWith("LEAVE IT until day "));
    CHECK_THAT(joined(folder, piece + "--day '5 d' --grey 20mm"),
               Contains(" pieces like this are then right") &&
                   Contains(". Half are cured by day ") && Contains(", 95 in 100 by "));
    CHECK_THAT(ran.out, Contains("\nNEXT     time leave it longer than 5 days, as "));
    CHECK_THAT(ran.out, Contains(" % likely):\n"));
    CHECK_THAT(ran.out, Contains("too few days: as told, "));
    CHECK_THAT(ran.out, Contains("SLICE    on day 5: grey core 20 mm high; as told, "));
    CHECK_THAT(ran.out, Contains("colour is no proof of safety: cook it"));
    for (const char* key : {"as-told", "fast-loss", "weak-brine", "bottom-shut", "nothing else"})
        CHECK_THAT(ran.out, !Contains(key));
    // The same days as tidemark day gives with the same flags.
    const Ran day = folder.run("day" + piece.substr(3) + "--day '5 d' --grey 20mm");
    CHECK(day.code == 0);
    CHECK_THAT(day.out, Contains(all[1] + '\n'));
    CHECK_THAT(day.out, Contains("SEEN     on day 5: grey core 20 mm high."));
    const Json why = Json::parse(folder.run(piece + "--day '5 d' --grey 20mm --json").out),
               said = Json::parse(
                   folder.run("day" + piece.substr(3) + "--day '5 d' --grey 20mm --json").out);
    CHECK(why["best_day"] == said["best_day"]);
    CHECK(why["chance"] == said["chance"]);
    CHECK(why["cured_day"] == said["range"]["cured_day"]);
    CHECK(said["seen"]["seen"]["grey_mm"] == Approx(20));
    CHECK(why["remedies"][0]["remedy"] == "longer");
}

TEST_CASE("a face that was shut is opened at once, and more tells what to check", "[cli]") {
    const Folder folder;
    const std::string slice = "--day '5 d' --ring-top 20mm --ring-bottom 1mm --grey 44mm";
    const Ran ran = folder.run(piece + slice);
    CHECK_THAT(ran.out, Contains("\nTURN IT  now, so that brine reaches every face."));
    CHECK_THAT(ran.out, Contains("\nNEXT     time turn it or hang it free"));
    CHECK_THAT(ran.out, Contains("the bottom lay on the vessel or on another piece"));
    CHECK_THAT(ran.out, Contains("ring top 20 mm, bottom 1 mm; grey core 44 mm high"));
    CHECK_THAT(ran.out, Contains("unusual, so something may have been"));
    CHECK_THAT(ran.out, !Contains("Check: "));
    const Ran more = folder.run(piece + slice + " --more");
    CHECK_THAT(more.out, Contains("Check: compare the ring under the top face"));
}

TEST_CASE("why --figure draws the day of the slice as told, and over it what was seen", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(piece + "--cells 6 --day '5 d' --grey 20mm --quiet --figure a.svg");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    const std::string drawn = contents(folder / "a.svg");
    CHECK_THAT(drawn, StartsWith("<?xml") || StartsWith("<svg"));
    CHECK_THAT(drawn, Contains("Day 5: grey core 20 mm high") && Contains("As told, on day 5"));
    CHECK_THAT(drawn, Contains("pink seen to end here"));
}

TEST_CASE("why --json has every cause with its numbers", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(piece + "--day '5 d' --ring 12mm --json");
    REQUIRE(ran.code == 0);
    const Json object = Json::parse(ran.out);
    CHECK(object["day"] == 5);
    CHECK(object["seen"]["ring_mm"] == Approx(12));
    CHECK(object["causes"].size() == 10); // a sheet has no left and no right
    double sum = 0, before = 1;
    for (const Json& cause : object["causes"]) { // the most probable first
        CHECK(cause["probability"].get<double>() <= before);
        before = cause["probability"].get<double>();
        sum += cause["probability"].get<double>();
        CHECK(cause["as_a_rule"].contains("pink_through"));
        CHECK_FALSE(cause["check"].get<std::string>().empty());
    }
    CHECK(sum == Approx(1));
    // A ring this thin after five days: less nitrite accounts for it best.
    CHECK(object["causes"][0]["cause"] == "little-premix");
    CHECK(object["chance_as_told"].get<double>() > 0);
    CHECK_FALSE(object["remedies"].empty());
}

TEST_CASE("what was found besides is shown, weighed, and asked for no more", "[cli]") {
    const Folder folder;
    const std::string slice = "--day '5 d' --grey 30mm ";
    const Ran before = folder.run(piece + slice);
    CHECK_THAT(before.out, Contains("LOOK     "));
    CHECK_THAT(before.out, !Contains("FOUND"));
    const Ran after = folder.run(piece + slice +
                                 "--found-thickness 2.6in --found-cooler 33F --found-salometer 19 "
                                 "--found-brine-nitrite 140ppm --found-core-salt 0.4% "
                                 "--found-mean-salt 1.4% --found-ph 5.6");
    REQUIRE(after.code == 0);
    CHECK_THAT(
        after.out,
        Contains("FOUND    thickness 66 mm (2.6 in), cooler 0.6 °C (33 °F), brine salt 5.02 %,\n"
                 "         brine nitrite 140 ppm, core salt 0.40 %, pH 5.6"));
    CHECK_THAT(after.out, Contains("the cooler was colder than told"));
    CHECK_THAT(after.out, !Contains("LOOK"));
    CHECK_THAT(after.out, !Contains("Beside this slice"));
    CHECK_THAT(after.out, !Contains("thermometer in a glass"));
    const Json object = Json::parse(
        folder.run(piece + slice + "--found-cooler 33F --found-brine-nitrite 140ppm --json").out);
    CHECK(object["found"]["cooler_C"] == Approx(5. / 9));
    CHECK(object["found"]["brine_nitrite_ppm"] == Approx(140));
    CHECK(object["found"].size() == 2);
    CHECK(object["looks_left"].size() == 5);
    CHECK(object["causes"][0]["cause"] == "colder");
    // Rings that a piece of 65 mm cannot show tell of a thicker one.
    const Ran deep = folder.run(piece + "--day '5 d' --ring-top 40mm --ring-bottom 40mm");
    CHECK(deep.code == 0);
    CHECK_THAT(deep.out, Contains("% the piece was thicker than measured"));
    CHECK(folder.run(piece + "--day '5 d' --ring 38mm --json").code == 0);
}

TEST_CASE("why takes a rub, and what was put in by needles, and refuses what it cannot judge",
          "[cli]") {
    const Folder folder;
    const std::string rub = "why --thickness 60mm --weight 1kg --cooler 3C "
                            "--stage 'rub, salt 25 g/kg, nitrite 150 ppm, 20 d' --day 3d ";
    const Ran ran = folder.run(rub + "--grey 12mm");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    CHECK_THAT(ran.out, Contains("\nLEAVE IT until day ") || Contains("\nTURN IT  now"));
    CHECK_THAT(ran.out, Contains("\nNEXT     time "));
    CHECK_THAT(ran.out, !Contains("salometer") && !Contains("the brine was weaker"));
    const Json object = Json::parse(folder.run(rub + "--grey 12mm --json").out);
    CHECK(object["schema"] == 4);
    for (const Json& look : object["looks_left"])
        CHECK(look["look"] != "brine-salt");
    const Ran pumped =
        folder.run(piece + "--weight 1kg --pump 6% --pump-salt 8% --pump-nitrite 100ppm "
                           "--stage 'brine, 8 d' --day 3d --grey 20mm --more");
    CHECK(pumped.code == 0);
    CHECK_THAT(pumped.out, Contains("between needles is no ring"));
    // Deep grey in a thin piece after a fortnight fits nothing, and that is said first.
    const Ran odd = folder.run("why --thickness 20mm --brine-salt 5% --brine-nitrite 150ppm "
                               "--day 20d --ring 1mm --grey 18mm");
    CHECK_THAT(odd.out, Contains("\nCHECK    what was told and seen: none of"));
    CHECK_THAT(ran.out, !Contains("CHECK "));
    refused("why --thickness 40mm --stage 'rub, salt 25 g/kg, 5 d' --day 3d --grey 20mm",
            "--stage: a slice tells by its colour, and this cure has no nitrite; "
            "add nitrite or premix, or leave the slice out");
    folder.write("two.ini", "thickness = 40 mm\nbrine-salt = 5 %\nbrine-nitrite = 150 ppm\n"
                            "with = b.ini\n");
    folder.write("b.ini", "muscle = beef-round\nthickness = 30 mm\n");
    const Ran two = folder.run("why --case two.ini --day 3d --grey 20mm");
    CHECK(two.code == 2);
    CHECK(two.err == "tidemark: two.ini:4: with: b.ini: is for tidemark bucket, and this is asked "
                     "of one piece; say which it is, as --piece 1: 1 (pork loin, 40 mm (1.6 in)), "
                     "2 (beef round, 30 mm (1.2 in))\n");
}

TEST_CASE("a pink slice has nothing to wait for", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(piece + "--day '12 d' --pink-through");
    CHECK(ran.code == 0);
    CHECK_THAT(ran.out, Contains("SLICE    on day 12: pink through; as told, so are "));
    CHECK_THAT(ran.out, Contains("Nothing is grey, so no cause is weighed."));
    CHECK_THAT(ran.out, !Contains("LEAVE IT"));
    CHECK_THAT(ran.out, !Contains("too few days"));
}

TEST_CASE("why refuses with one line", "[cli]") {
    refused(piece + "--grey 20mm", "--day: is missing; say on which day it was cut: --day \"7 d\"");
    refused(piece + "--day '5 d'",
            "--ring: is missing; say what the slice showed: --ring, --grey or --pink-through");
    refused("why --thickness 40mm --brine-salt 5% --day '5 d' --grey 20mm",
            "--brine-nitrite: a slice tells by its colour, and this brine has no nitrite; "
            "add --brine-nitrite or --premix, or leave the slice out");
    refused(piece + "--day '5 d' --grey 20mm --found-brine-salt 4% --found-salometer 15",
            "--found-salometer: 15: does not go with --found-brine-salt; keep one of the two");
    refused(piece + "--day '5 d' --grey 20mm --found-brine-nitrite '0 ppm'",
            "--found-brine-nitrite: 0 ppm: must be from 1 ppm to 5000 ppm; "
            "where a strip shows none, give the least that it shows");
    refused(piece + "--day '5 d' --grey 20mm --found-ph nan",
            "--found-ph: nan: is not a finite number; write it as 1.5");
    refused(piece + "--day '5 d' --grey 20mm --set 'cause.colder.prior=90 %'",
            "cause.*.prior: the shares of the causes come to 100 % of pieces or more; "
            "set smaller ones: the rest are as told");
    refused(piece + "--day '5 d' --ring 60mm",
            "--ring: 60mm: makes rings of 120 mm (4.7 in) together, far more than a piece 65 mm "
            "(2.6 in) thick; lay the ruler to the slice again, or give --found-thickness");
    refused("day" + piece.substr(3) + "--day '5 d'",
            "--ring: is missing; say what the slice showed: --ring, --grey or --pink-through");
    refused(piece + "--day '5 d' --grey 20mm --pink-through",
            "--grey: 20mm: does not go with --pink-through; "
            "a slice without grey has no ring: keep one of the two");
}

} // namespace test_why
