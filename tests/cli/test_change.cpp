// SPDX-License-Identifier: MIT
/// What a change promises is what its command gives: forty cuts, brines and ways of lying in them.
#include "json.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

namespace test_change {

using namespace tidemark::cli;

TEST_CASE("the change named, run as printed, reaches what it promised", "[cli]") {
    // All invented.
    const Folder folder;
    folder.write("recipe.ini", "shape = block\nwidth = 120 mm\nthickness = 60 mm\nweight = 2 kg\n"
                               "water = 4 L\nsalt = 300 g\npremix = 20 g\ncooler = 3 C\n");
    const std::string cuts[] = {
        "--shape block --thickness 60mm --width 120mm --weight 2kg --brine 4L",
        "--shape block --thickness 45mm --width 200mm --weight 2kg --seal bottom --brine 4L",
        "--shape round --thickness 65mm --weight 1.2kg --brine 2.5L",
        "--muscle beef-brisket --shape block --thickness 55mm --width 180mm --weight 2kg --brine "
        "4kg",
        "--thickness 40mm",
        "--muscle pork-ham --shape ham --thickness 110mm --bones 0 --weight 4kg --brine 8L",
        "--shape loin --thickness 70mm --fat-cap 5mm --bones 2 --weight 2kg --brine 4L"};
    const std::string brines[] = {
        "--brine-salt '3 %' --brine-nitrite 150ppm",  "--brine-salt '5 %' --brine-nitrite 120ppm",
        "--brine-salt '6 %' --brine-nitrite 200ppm",  "--brine-salt '8 %' --brine-nitrite 250ppm",
        "--brine-salt '12 %' --brine-nitrite 250ppm", "--brine-salt '5 %'"};
    std::vector<std::string> cases{"day --case recipe.ini", "day --case recipe.ini --salt 150g",
                                   "day --case recipe.ini --afterwards simmered"};
    for (const std::string& cut : cuts)
        for (const std::string& brine : brines)
            cases.push_back("day " + cut + ' ' + brine + " --cooler 3C");
    int changed = 0, enough = 0;
    for (std::string words : cases) {
        words += " --cells 8 --draws 512"; // what is promised is kept on whatever cells
        const Json now = answer(folder, words);
        CAPTURE(words);
        if (now["window_from_day"].is_number()) { // sure enough as it is
            CHECK(now["change"].is_null());
            CHECK(now["chance"].get<double>() >= 0.9);
            continue;
        }
        if (now["change"].is_null())
            continue;
        ++changed;
        const Json& change = now["change"];
        std::string command = change["command"];
        CAPTURE(command);
        // Needles, a soak or a rest after it make it a schedule.
        REQUIRE((command.starts_with("tidemark day ") || command.starts_with("tidemark plan ")));
        command.erase(0, std::string("tidemark ").size());
        const Json then = answer(folder, command);
        const bool schedule = command.starts_with("plan "); // kept to the day that was told
        const double chance = then[schedule ? "chance_as_planned" : "chance"];
        if (schedule)
            CHECK(std::ranges::any_of(then["stages"], [&](const Json& stage) {
                return stage["to_day"] == change["day"];
            }));
        else
            CHECK(then["best_day"] == change["day"]);
        CHECK(chance == Approx(change["chance"].get<double>()).margin(1e-9));
        CHECK(chance > (now["chance"].is_null() ? 0 : now["chance"].get<double>()));
        CHECK((chance >= 0.9) == change["enough"].get<bool>());
        CHECK(then["dangers"].size() <= now["dangers"].size());
        enough += change["enough"].get<bool>();
    }
    CAPTURE(cases.size(), changed, enough);
    CHECK(cases.size() >= 40);
    CHECK(changed >= 25);
    CHECK(enough >= 20);
}

TEST_CASE("a change of a schedule or a bucket gives what it promised", "[cli]") {
    // All invented.
    const Folder folder;
    folder.write("second.ini", "muscle = beef-round\nshape = round\nthickness = 40 mm\n"
                               "weight = 0.6 kg\n");
    const std::string block = " --shape block --thickness 60mm --width 120mm --weight 2kg ",
                      brine = "--brine 4L --brine-salt '8 %' --brine-nitrite 150ppm ";
    const std::string cases[] = {
        "plan" + block + "--stage 'rub, salt 36 g/kg, nitrite 150 ppm, 12 d' --stage 'rest, 5 d'",
        "plan" + block + "--stage 'bag, salt 12 g/kg, nitrite 100 ppm, sealed bottom, until cured'",
        "plan" + block + brine + "--stage 'brine, 7 d'",
        "plan" + block + brine + "--pump '10 %' --stage 'brine, 6 d, at 2 C' --stage 'rest, 36 h'",
        "bucket" + block + brine + "--with second.ini",
        "bucket" + block + brine + "--with second.ini --stage 'brine, 10 d' --stage 'rest, 2 d'"};
    int changed = 0;
    const auto chance = [](const Json& a) { // of several pieces the least sure
        if (a.contains("chance_as_planned"))
            return a["chance_as_planned"].get<double>();
        double least = 1;
        for (const Json& piece : a["pieces"])
            least = std::min(least, piece["chance"].is_null() ? 0 : piece["chance"].get<double>());
        return least;
    };
    for (const std::string& words : cases) {
        CAPTURE(words);
        const Json now = answer(folder, words + " --cooler 3C --draws 512 --cells 8");
        if (chance(now) >= 0.9)
            continue;
        REQUIRE(!now["change"].is_null());
        ++changed;
        std::string command = now["change"]["command"];
        CAPTURE(command);
        command.erase(0, std::string("tidemark ").size());
        const Json then = answer(folder, command);
        CHECK(chance(then) == Approx(now["change"]["chance"].get<double>()).margin(1e-9));
        CHECK(chance(then) > chance(now));
        CHECK((chance(then) >= 0.9) == now["change"]["enough"].get<bool>());
        CHECK(then["dangers"].size() <= now["dangers"].size());
    }
    CHECK(changed >= 5);
}

TEST_CASE("what is eaten afterwards and how sure it is to be move the day", "[cli]") {
    const Folder folder;
    const std::string words =
        "day --shape block --thickness 60mm --width 120mm --weight 2kg --brine "
        "4L --brine-salt '6 %' --brine-nitrite 200ppm";
    const Json eaten = answer(folder, words),
               soaked = answer(folder, words + " --afterwards soaked"),
               band = answer(folder, words + " --taste-low '2.7 %' --taste-high '3.75 %'");
    // The records' half as much again, on 1.8 to 2.5 %.
    CHECK(soaked["salted_day"] > eaten["salted_day"]);
    CHECK(soaked["chance"] != eaten["chance"]);
    CHECK(soaked["salted_day"] == band["salted_day"]);
    CHECK(soaked["chance"] == band["chance"]);
    const Json half = answer(folder, words + " --confidence '50 %'");
    CHECK(half["confidence"] == 0.5);
    CHECK(half["chance"] == eaten["chance"]);
    const Ran wrong = folder.run(words + " --taste-low '2 %' --taste-high '1.9 %'");
    CHECK(wrong.code == 2);
    CHECK(wrong.err ==
          "tidemark: --taste-high: 1.9 %: leaves no band of salt that tastes right; give "
          "--taste-high above --taste-low\n");
}

} // namespace test_change
