// SPDX-License-Identifier: MIT
/// tidemark bucket as typed into a shell: the screen, the object, and the words of every refusal.
/// All scenarios are invented.
#include "one_line.hpp"
#include "run.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <sstream>

namespace test_bucket {

using namespace tidemark::cli;
using Catch::Contains;
using Catch::StartsWith;

namespace {

const std::string first =
    "thickness = 60 mm\nweight = 2 kg\nbrine-salt = 6 %\nbrine-nitrite = 180 ppm\nbrine = 5 L\n";
const std::string second = "muscle = beef-round\nthickness = 30 mm\nweight = 500 g\npieces = 2\n";

} // namespace

TEST_CASE("what comes out first heads the screen, and lines fit it", "[cli]") {
    const Folder folder;
    folder.write("a.ini", first);
    folder.write("b.ini", second);
    folder.write("c.ini", "thickness = 45 mm\nweight = 1 kg\nseal = bottom\n");
    const Ran ran =
        folder.run("bucket --case a.ini --brine-nitrite 215ppm --with b.ini --with c.ini");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    CHECK_THAT(ran.out, StartsWith("TAKE OUT 2 of piece 2 (beef round, 30 mm): "));
    CHECK_THAT(ran.out,
               Contains("\n         piece 1 (pork loin, 60 mm): day ") &&
                   Contains("\nTYPICAL  the last to be cured is piece 3 (pork loin, 45 mm), "
                            "on day ") &&
                   Contains(" falls from 6.00 to ") && Contains("(us, cured)\n"));
    CHECK(std::ranges::count(ran.out, '\n') <= 24);
    const Ran more = folder.run("bucket --case a.ini --with b.ini --with c.ini --more");
    CHECK_THAT(more.out, Contains("\npiece 1 (pork loin, 60 mm) ") &&
                             Contains("\n2 of piece 2 (beef round, 30 mm) ") &&
                             Contains("\nBrine on day") &&
                             Contains("\nTAKE OUT piece 2 (beef round, 30 mm): after day "));
    std::istringstream lines(ran.out);
    for (std::string line; std::getline(lines, line);) {
        CAPTURE(line);
        CHECK(line.size() <= 82); // 80 characters, some of two bytes
    }
}

TEST_CASE("the object of a bucket has its pieces, its brine and the law's arithmetic over all meat",
          "[cli]") {
    const Folder folder;
    folder.write("a.ini", first);
    folder.write("b.ini", second);
    const Ran ran = folder.run("bucket --case a.ini --with b.ini --json --brine '5 kg'");
    REQUIRE(ran.code == 0);
    const auto object = nlohmann::json::parse(ran.out);
    CHECK(object["slowest"] == "piece 1 (pork loin, 60 mm)");
    CHECK(object["all_cured_day"] == object["pieces"][0]["cured_day"]);
    CHECK(object["pieces"].size() == 2);
    for (const auto& piece : object["pieces"]) {
        CHECK(piece["best_day"].is_number());
        CHECK(piece["chance"].get<double>() <= 1);
    }
    CHECK(object["meat_kg"] == 3.0);
    // 180 ppm of 5 kg over 3 kg of meat and 5 kg of brine.
    CHECK(object["ingoing_nitrite"]["whole_system_ppm"].get<double>() ==
          Approx(180. * 5 / 8).epsilon(1e-12)); // roundoff
    CHECK(object["brine_by_day"].front()["salt_percent"] == 6.0);
    CHECK(object["brine_by_day"].back()["day"] == object["at_day"]);
    CHECK(object["brine_by_day"].back()["salt_percent"].get<double>() < 6);
    CHECK(object["mass_balance_error"].get<double>() < 1e-10); // the project's own requirement
}

TEST_CASE("the example bucket runs, its second file found beside it", "[cli]") {
    const Ran ran = Folder().run("bucket --case '" TIDEMARK_SOURCE_DIR "/examples/bucket.ini'");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    CHECK_THAT(
        ran.out,
        StartsWith("TAKE OUT piece 1 (pork loin, 65 mm): day ") &&
            Contains("\nTYPICAL  the last to be cured is piece 2 (beef round, 40 mm), on day "));
}

TEST_CASE("a bucket that cannot be used is refused with its file and line", "[cli]") {
    const Folder folder;
    folder.write("a.ini", first);
    const auto with = [&](const std::string& text, const std::string& message) {
        folder.write("b.ini", text);
        refused(folder, "bucket --case a.ini --with b.ini", message);
    };
    const std::string not_piece =
        ": is not of the piece; brine, cooler and numbers of the model are those of the first "
        "case; take the line out";
    with("thickness = 30 mm\nbrine-salt = 5 %\n", "b.ini:2: brine-salt" + not_piece);
    with("cooler = 2 C\nthickness = 30 mm\n", "b.ini:1: cooler" + not_piece);
    with("thickness = 30 mm\n\nset = diffusion.fibre-ratio=1.1\n", "b.ini:3: set" + not_piece);
    with("with = c.ini\n", "b.ini:1: with" + not_piece);
    with("case = c.ini\n", "b.ini:1: case: cannot stand in a case file; take the line out");
    with("thicknes = 30 mm\n",
         "b.ini:1: thicknes: is not a name a case file may hold; did you mean thickness?");
    with("thickness = 3 m\n", "b.ini:1: thickness: 3 m: must be from 2 mm to 600 mm; measure the "
                              "piece where it is thickest");
    with("weight = 1 kg\n", "b.ini: --thickness: is missing; give it as --thickness \"65 mm\"");
    with("thickness = 30 mm\nweight = 1 kg\nfat-cap = 40 mm\n",
         "b.ini: --fat-cap: 40 mm (1.6 in): leaves no lean in a piece of 30 mm (1.2 in); give the "
         "fat's own thickness; "
         "the thickness is lean and fat together");
    refused(folder, "bucket --case a.ini --with none.ini",
            "--with: none.ini: cannot be read; no such file");
    refused(folder, "day --case a.ini --with b.ini",
            "--with: is not a flag; did you mean --width?");
}

TEST_CASE("a piece that is not cured within the time looked at is the slowest, and told why",
          "[cli]") {
    const Folder folder;
    folder.write("a.ini", first);
    folder.write("b.ini", second);
    const Ran ran = folder.run("bucket --case a.ini --with b.ini --horizon '2 d'");
    CHECK(ran.code == 0);
    CHECK_THAT(ran.out, Contains("\n         piece 1 (pork loin, 60 mm): no day is right.\n"
                                 "NEVER    piece 1 (pork loin, 60 mm): the core has "));
    CHECK_THAT(ran.out, !Contains("ALL  "));
    CHECK_THAT(
        ran.out,
        Contains("\nTYPICAL  not all are cured; the slowest is piece 1 (pork loin, 60 mm); "));
}

TEST_CASE("the bucket explains itself", "[cli]") {
    const Ran ran = Folder().run("bucket --help");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    CHECK_THAT(ran.out, Contains("\n  --with FILE") && Contains("\n  --seal FACES"));
}

TEST_CASE("a bucket goes through stages and a cooler's log, and keeps its salt", "[cli]") {
    const Folder folder;
    folder.write("a.ini", first);
    folder.write("b.ini", second);
    folder.write("log.csv", "hours,temperature [C]\n0,3\n24,5\n48,2\n96,4\n");
    const std::string words = "bucket --json --case a.ini --with b.ini ";
    const auto salt = [](const nlohmann::json& o) { // in the meat [kg], of the raw weight
        double sum = 0;
        for (const auto& p : o["pieces"]) {
            const double share = p["mean"]["salt_percent"].get<double>() / 100;
            sum += p["piece"]["weight_kg"].get<double>() * p["piece"]["pieces"].get<double>() *
                   share / (1 - share);
        }
        return sum;
    };
    const auto answer = [&](const std::string& stages) {
        const Ran ran = folder.run(words + stages);
        CAPTURE(ran.err);
        REQUIRE(ran.code == 0);
        return nlohmann::json::parse(ran.out);
    };
    for (const char* log : {"", ", log log.csv"}) {
        CAPTURE(log);
        const auto in_brine = answer(std::string("--stage 'brine, 4 d") + log + "' --draws 0");
        const auto& bath = in_brine["brine"];
        // What all pieces hold is what the brine of 5 L lost; its weight is told at its start. Read
        // off two meshes, the brine like the meat.
        const auto& made = in_brine["brine_at_start"];
        const double lost = (made["salt_percent"].get<double>() * made["mass_kg"].get<double>() -
                             bath["salt_percent"].get<double>() * bath["mass_kg"].get<double>()) /
                            100;
        CHECK(salt(in_brine) == Approx(lost).epsilon(2e-3));
        CHECK(in_brine["mass_balance_error"].get<double>() < 1e-10);
        // Fresh water for all of them takes salt out of each.
        const auto soaked = answer(std::string("--stage 'brine, 4 d") + log +
                                   "' --stage 'soak, 6 h, 10 L, changes 1" + log + "' --draws 0");
        CHECK(salt(soaked) < 0.97 * salt(in_brine));
        // The beef is cured before the soak begins.
        CHECK(soaked["pieces"][1]["cured_day"].get<double>() ==
              Approx(in_brine["pieces"][1]["cured_day"].get<double>()).epsilon(1e-9)); // roundoff
    }
    // With draws each piece has its own chances, of ending the stage that cures.
    const auto chances = answer("--stage 'brine, 4 d' --stage 'rest, 1 d' --draws 256");
    for (const auto& p : chances["pieces"]) {
        CHECK(p["best_day"].is_number());
        CHECK(p["chance_by_day"].size() > 3);
    }
}

TEST_CASE("a piece taken out before the others keeps what it has, and the brine is theirs",
          "[cli]") {
    const Folder folder;
    folder.write("a.ini", first);
    const auto answer = [&](const std::string& piece, const std::string& days) {
        folder.write("b.ini", piece);
        const Ran ran = folder.run("bucket --json --draws 0 --case a.ini --with b.ini --stage "
                                   "'brine, " +
                                   days + "'");
        CAPTURE(ran.err);
        REQUIRE(ran.code == 0);
        return nlohmann::json::parse(ran.out);
    };
    const auto salt = [](const nlohmann::json& piece) {
        return piece["mean"]["salt_percent"].get<double>() / 100;
    };
    const auto then = answer(second, "2 d"), out = answer(second + "out = 2 d\n", "8 d"),
               stays = answer(second, "8 d");
    // Kept shut, the mean of the lean stays; both are read off two meshes, the time to 1e-6.
    CHECK(salt(out["pieces"][1]) == Approx(salt(then["pieces"][1])).epsilon(1e-5));
    CHECK(salt(out["pieces"][0]) > 1.005 * salt(stays["pieces"][0]));
    // What all hold is what the brine lost: 1 kg, two times 500 g and 2 kg, of the raw weight.
    const auto held = [&](const nlohmann::json& o) {
        const double a = salt(o["pieces"][0]), b = salt(o["pieces"][1]);
        return 2 * a / (1 - a) + 1 * b / (1 - b);
    };
    const auto in_brine = [](const nlohmann::json& b) {
        return b["salt_percent"].get<double>() / 100 * b["mass_kg"].get<double>();
    };
    CHECK(held(out) ==
          Approx(in_brine(out["brine_at_start"]) - in_brine(out["brine"])).epsilon(2e-3));
    CHECK(out["mass_balance_error"].get<double>() < 1e-10);
    refused(folder, "bucket --case a.ini --out '2 d'",
            "--out: 2 d: is for one piece among several, and this is alone; end the stage then: "
            "tidemark plan --stage \"brine, 5 d\"");
}

TEST_CASE("in a last stage without a length each piece of a bucket has its own end", "[cli]") {
    const Folder folder;
    folder.write("thin.ini", "muscle = beef-round\nshape = block\nthickness = 35 mm\n"
                             "width = 90 mm\nweight = 700 g\n");
    const std::string bucket = "bucket --shape block --thickness 65mm --width 110mm --weight 2kg "
                               "--brine-salt 4.5% --brine-nitrite 300ppm --brine 8L --cooler 3C "
                               "--with thin.ini --start 2026-12-05 --stage 'brine, 2 d' " +
                               few;
    const auto entries = [&](const std::string& stage) { return joined(folder, bucket + stage); };
    const std::string waits = "--stage 'brine, at 2 C, until cured'";
    // As BEST has them: the thin one on day 4, the thick one on day 15.
    CHECK_THAT(entries(waits),
               Contains("BEST piece 2 (beef round, 35 mm): day 4:") &&
                   Contains("piece 1 (pork loin, 65 mm): day 15:") &&
                   Contains("Wed 9 Dec 2026 08:00 Take out piece 2 (beef round, 35 mm)") &&
                   Contains("Sun 20 Dec 2026 08:00 Take out piece 1 (pork loin, 65 mm)") &&
                   !Contains("Take it out of the brine"));
    // A length is the cook's, for all that he has not set another time for.
    CHECK_THAT(entries("--stage 'brine, at 2 C, 12 d'"),
               Contains("Sat 19 Dec 2026 08:00 Take it out of the brine") &&
                   !Contains("Take out piece"));
    folder.write("thin.ini", contents(folder / "thin.ini") + "out = 3 d\n");
    CHECK_THAT(entries(waits), Contains("Tue 8 Dec 2026 08:00 Take out piece 2") &&
                                   Contains("Sun 20 Dec 2026 08:00 Take out piece 1"));
    // To be ready, the last of them counts.
    CHECK_THAT(joined(folder, std::string(bucket).replace(bucket.find("--start 2026-12-05"), 18,
                                                          "--ready 2026-12-20") +
                                  waits),
               Contains("BEGIN on Sat 5 Dec 2026 08:00"));
}

} // namespace test_bucket
