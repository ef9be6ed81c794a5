// SPDX-License-Identifier: MIT
/// The main command from the outside: answers, forms of output, files and exit codes.
#include "json.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <sstream>

namespace day_test {

using namespace tidemark::cli;
using Catch::Contains;
using Catch::StartsWith;

namespace {

Json all_but_commands(const Folder& folder, const std::string& words) {
    Json object = answer(folder, words);
    if (object["change"].is_object()) {
        object["change"].erase("command"); // as it was typed
    }
    return object;
}

} // namespace

TEST_CASE("the answer is one screen, quiet on standard error in a pipe", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(quick);
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    CHECK_THAT(ran.out, Contains("\nBEST     day "));
    CHECK(std::count(ran.out.begin(), ran.out.end(), '\n') <= 24);
    const std::string bare = folder.run(quick + "--draws 0").out;
    CHECK(std::count(bare.begin(), bare.end(), '\n') <= 24);
    CHECK(ran.out.find('\033') == std::string::npos);
}

TEST_CASE("the JSON answer holds the members other programs rely on", "[cli]") {
    const Folder folder;
    const Json object = all_but_commands(folder, quick);
    CHECK(object["cured_day"].get<double>() > 0);
    for (const char* name : {"x_mm", "y_mm", "salt_percent", "arrived_nitrite_ppm"}) {
        CHECK(object["core"][name].is_number());
    }
    for (const char* name : {"salt_percent", "arrived_nitrite_ppm"}) {
        CHECK(object["mean"][name].is_number());
    }
    for (const char* name : {"salt_percent", "nitrite_ppm"}) {
        CHECK(object["brine"][name].is_number());
    }
    CHECK(object["thiele_modulus"].is_number());
    CHECK(object["mass_balance_error"].is_number());
    CHECK(object["discretisation_error_days"].is_number());
    CHECK(object.contains("last_good_day"));
    CHECK(object["warnings"].is_array());
    REQUIRE(object["parameters"].size() > 5);
    for (const Json& record : object["parameters"]) {
        CHECK_FALSE(record["key"].get<std::string>().empty());
        CHECK_FALSE(record["unit"].get<std::string>().empty());
        CHECK_FALSE(record["source"].get<std::string>().empty());
    }
}

TEST_CASE("values may be typed with or without quotes and in kitchen units", "[cli]") {
    const Folder folder;
    const Json quoted =
        all_but_commands(folder, "day --thickness '2 1/2 in' --brine-salt '6 %' --cooler "
                                 "'38 F' --weight '2 lb 4 oz' --brine '1.5 gal'");
    CHECK(all_but_commands(folder, "day --thickness 2 1/2 in --brine-salt 6 % --cooler 38 F "
                                   "--weight 2 lb 4 oz --brine 1.5 gal") == quoted);
    CHECK(all_but_commands(folder,
                           "day --thickness=2.5in --brine-salt=6% --cooler=38F --weight=36oz "
                           "--brine=6qt") == quoted);
}

TEST_CASE("a case file gives what its flags give, and the line wins over it", "[cli]") {
    const Folder folder;
    folder.write("piece.ini", "# invented\nthickness = 40 mm\nbrine-salt = 6 %   # weighed\n"
                              "brine-nitrite = 150 ppm\nfrozen = yes\nascorbate = no\n"
                              "set = diffusion.frozen-thawed=1.25\nset = kinetics.half-life=9 d\n");
    Json file = all_but_commands(folder, "day --case piece.ini");
    Json line = all_but_commands(folder, quick + "--frozen --set diffusion.frozen-thawed=1.25 "
                                                 "--set kinetics.half-life=9 d");
    for (Json* object : {&file, &line}) {
        for (Json& record : (*object)["parameters"]) {
            record.erase("where"); // names the flag or the line
        }
    }
    CHECK(file == line);
    CHECK(all_but_commands(folder,
                           "day --case piece.ini --thickness 50mm")["piece"]["thickness_mm"] == 50);
}

TEST_CASE("an outline named in a case file is looked for beside that file", "[cli]") {
    const Folder folder;
    std::filesystem::create_directory(folder / "sub");
    folder.write("sub/s.csv", "part,kind,x [mm],y [mm]\no,outline,0,0\no,outline,60,0\n"
                              "o,outline,60,40\no,outline,0,40\n");
    folder.write("sub/a.ini", "outline = s.csv\nbrine-salt = 6 %\n");
    const Json object = all_but_commands(folder, "day --case sub/a.ini");
    CHECK(object["piece"]["shape"] == "outline");
    CHECK(object["core"]["depth_mm"].get<double>() == Approx(20).epsilon(1e-6)); // the middle
}

TEST_CASE("numbers of the model that are set by flags are used and marked so", "[cli]") {
    const Folder folder;
    const Json object = answer(
        folder, quick + "--diffusivity 3e-10 m2/s --partition 1 --activation-energy 0 kJ/mol "
                        "--nitrite-ratio 1.1 --myoglobin 2 g/kg --ph 5.8 --threshold 12 ppm");
    std::map<std::string, Json> set;
    for (const Json& record : object["parameters"]) {
        if (record["source"] == "flag") {
            CHECK(record["mark"] == "U");
            set[record["key"]] = record["value"];
        }
    }
    CHECK(set["muscle.pork-loin.diffusivity"].get<double>() == Approx(3e-10).epsilon(1e-14));
    CHECK(set["solute.salt.partition"] == 1);
    CHECK(set["solute.nitrite.partition"] == 1);
    CHECK(set["diffusion.activation-energy"] == 0);
    CHECK(set["solute.nitrite.diffusivity-ratio"] == 1.1);
    CHECK(set["muscle.pork-loin.ph"] == 5.8);
    CHECK(object["target"]["arrived_nitrite_ppm"].get<double>() == Approx(12).epsilon(1e-12));
}

TEST_CASE("what the sources leave open is turned on and off by flags, and told", "[cli]") {
    const Folder folder;
    const std::string words = quick + "--ascorbate --draws 0 ";
    const auto day = [&](const std::string& more) {
        return all_but_commands(folder, words + more)["cured_day"].get<double>();
    };
    const double usual = day(""), still = day("--brine-loss '0 1/d'"),
                 spreads = day("--brine-loss '0 1/d' --ascorbate-spread 1"),
                 rising = day("--brine-loss '0 1/d' --salt-slope 3");
    CHECK(usual > 1.02 * still);   // a brine that loses nitrite keeps the core waiting
    CHECK(spreads < 0.99 * still); // loss begins where ascorbate has come
    CHECK(rising < 0.99 * still);
    const std::string more = folder.run(words + "--salt-slope 3 --more").out;
    CHECK_THAT(more, Contains("follows the salt"));
    CHECK_THAT(folder.run(words + "--more").out, !Contains("follows the salt"));
}

TEST_CASE("a cut is found by a cook's name, and a borrowed figure is told on the screen", "[cli]") {
    const Folder folder;
    const std::string rest = "--thickness 30mm --brine-salt 6% --brine-nitrite 150ppm --draws 0";
    const Ran lamb = folder.run("day --muscle leg of lamb " + rest);
    CHECK(lamb.code == 2); // words without quotes after a word that is no number
    const Ran quoted = folder.run("day --muscle 'leg of lamb' " + rest);
    CHECK(quoted.code == 0);
    CHECK_THAT(quoted.out, Contains("NOTE     lamb leg was not measured: beef round stands in, "
                                    "spread widened\n"));
    const Ran picnic = folder.run("day --muscle picnic " + rest);
    CHECK(picnic.code == 0);
    CHECK_THAT(picnic.out, StartsWith("picnic, "));
    CHECK_THAT(picnic.out, !Contains("was not measured"));
}

TEST_CASE("a printed half-time of a slab is met when its numbers are given as flags", "[cli]") {
    // Centre of a slab kept at one concentration on both faces: half of it is there at D t / l^2 =
    // 0.3787478 (l half the thickness), where 4/pi (exp(-z) - exp(-9 z)/3 + ...) = 1/2 and
    // z = pi^2/4 D t / l^2 (series from memory, summed for this test). With 1e-9 m2/s and 20 mm
    // that is 37874.78 s, known to 0.01 s, in which the centre gains 1e-7.
    const Folder folder;
    const Json object = all_but_commands(
        folder, "day --thickness 20mm --diffusivity 1e-9 m2/s --activation-energy 0 kJ/mol "
                "--partition 1 --brine-salt 3% --loss none --at 37874.78 s --cells 60");
    CHECK(object["core"]["share_of_equilibrium"].get<double>() == Approx(0.5).margin(1e-7));
}

TEST_CASE("--at shows the day asked for", "[cli]") {
    const Folder folder;
    const Json early = all_but_commands(folder, quick + "--at 36 h");
    CHECK(early["at_day"] == 1.5);
    CHECK(
        early["core"]["arrived_nitrite_ppm"].get<double>() <
        all_but_commands(folder, quick + "--at 3 d")["core"]["arrived_nitrite_ppm"].get<double>());
}

TEST_CASE("a core that is never cured is told with exit 0 and a null day", "[cli]") {
    const Folder folder;
    const std::string thick = "day --thickness 250mm --brine-salt 6% --brine-nitrite 100ppm";
    const Json object = all_but_commands(folder, thick);
    CHECK(object["cured_day"].is_null());
    CHECK_THAT(object["never_cured_because"].get<std::string>(), Contains("use needles"));
    const Ran ran = folder.run(thick);
    CHECK(ran.code == 0);
    CHECK_THAT(ran.out, Contains("\nNO DAY   No piece like this comes out right on any day: ") &&
                            Contains("\nTYPICAL  the core is not cured: "));
}

TEST_CASE("the range of days narrows with better measures, and --draws 0 leaves it out", "[cli]") {
    const Folder folder;
    const Json vague =
        all_but_commands(folder, quick + "--thickness-sd 8mm --cooler-sd 2C")["range"];
    const Json sure =
        all_but_commands(folder, quick + "--thickness-sd 0mm --cooler-sd 0.1 F")["range"];
    const auto width = [](const Json& range) {
        return range["cured_day"]["late_95_percent"].get<double>() /
               range["cured_day"]["early_5_percent"].get<double>();
    };
    CHECK(width(vague) > 1.1 * width(sure));
    CHECK(vague["draws"] == 4096);
    CHECK(sure["relative_error"].get<double>() < 0.01);
    for (const Json& share : sure["spread_from"]) {
        CHECK(share["input"] != "thickness");
    }
    CHECK(all_but_commands(folder, quick + "--draws 0")["range"].is_null());
    CHECK(all_but_commands(folder, quick + "--draws 500")["range"]["draws"] == 500);
    CHECK_THAT(folder.run(quick + "--draws 0").out, Contains("CURED    from day "));
    const Json object = all_but_commands(folder, quick + "--thickness-sd 8mm");
    const auto& records = object["parameters"];
    CHECK(std::any_of(records.begin(), records.end(), [](const Json& record) {
        return record["key"] == "uncertainty.thickness" && record["value"] == 8 &&
               record["mark"] == "U";
    }));
}

TEST_CASE("a spoon of salt is weighed by the records, with a warning", "[cli]") {
    const Folder folder;
    const std::string recipe = "day --thickness 40mm --weight 1kg --water 2 L --salt 0.5 cup";
    const Json fine = all_but_commands(folder, recipe),
               flake = all_but_commands(folder, recipe + " --salt-kind flake");
    // Half a cup is eight tablespoons of 18 g fine or 9.8 g flake salt (models/measures.ini); 2 L
    // of water at 20 C is 1996.4 g (models/brine.ini).
    CHECK(fine["brine_at_start"]["salt_percent"].get<double>() ==
          Approx(100 * 144 / (144 + 1996.4)).epsilon(1e-9));
    CHECK(flake["brine_at_start"]["salt_percent"].get<double>() ==
          Approx(100 * 78.4 / (78.4 + 1996.4)).epsilon(1e-9));
    CHECK_THAT(
        flake["warnings"].dump(),
        Contains("salt: 0.5 cup of flake salt is about 78.4 g (65.3 g to 94.1 g): weigh it"));
}

TEST_CASE("the CSV answer has one row of numbers per depth and day", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(quick + "--csv");
    REQUIRE(ran.code == 0);
    std::istringstream rows(ran.out);
    std::string row;
    std::getline(rows, row);
    CHECK(row == "time_days,depth_mm,tissue,salt_percent,arrived_nitrite_ppm,"
                 "residual_nitrite_ppm,dangers\r");
    int count = 0;
    for (; std::getline(rows, row); ++count) {
        CHECK(std::count(row.begin(), row.end(), ',') == 6);
    }
    CHECK(count > 50);
}

TEST_CASE("the figure is drawn in the form its ending names", "[cli]") {
    const Folder folder;
    for (const auto& [name, head] :
         {std::pair{"a.svg", "<?xml"}, {"b.PNG", "\x89PNG"}, {"c.pdf", "%PDF"}}) {
        const Ran ran = folder.run(quick + "--figure " + name);
        CAPTURE(name, ran.err);
        CHECK(ran.code == 0);
        CHECK(ran.err == "");
        CHECK_THAT(contents(folder / name), Catch::StartsWith(head));
    }
    CHECK(folder.files() == 3);
}

TEST_CASE("without gnuplot the answer is printed all the same, with one line and exit 1", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run(quick + "--figure a.png", "PATH=/nowhere");
    CHECK(ran.code == 1);
    CHECK_THAT(ran.out, Contains("\nBEST     day "));
    CHECK(ran.err == "tidemark: a.png was not drawn: gnuplot is not installed; name the figure "
                     "like ham.svg, which needs no gnuplot\n");
    CHECK(folder.files() == 0);
    CHECK(folder.run(quick + "--figure a.svg", "PATH=/nowhere").code == 0);
    CHECK_THAT(contents(folder / "a.svg"), Contains("<title>Best day "));
}

TEST_CASE("an answer that cannot be written is a failure", "[cli]") {
    const Folder folder;
    folder.run("numbers >/dev/full 2>/dev/null; echo $? >code; true");
    CHECK(contents(folder / "code") == "1\n");
}

} // namespace day_test
