// SPDX-License-Identifier: MIT
/// The whole job with one file: the way that choose finds, kept, weighed out, hung on the door and
/// asked of a slice. The cut is invented.
#include "json.hpp"
#include "one_line.hpp"
#include "run.hpp"

#include <catch2/catch.hpp>

namespace test_save {

using Catch::Contains;
using namespace tidemark::cli;

namespace {

void loin(const Folder& folder) {
    folder.write("cut.ini", "muscle = pork-loin\nshape = loin\nthickness = 60 mm\nwidth = 110 mm\n"
                            "weight = 2 kg\nfat-cap = 6 mm\nbrine = 6 L\ncooler = 3 C\n");
}

} // namespace

TEST_CASE("what choose saves answers as it promised, without another flag", "[cli]") {
    const Folder folder;
    loin(folder);
    const Ran chosen = folder.run("choose --case cut.ini --ready '2026-12-19 18:00' --draws 256 "
                                  "--save mine.ini");
    CAPTURE(chosen.err);
    REQUIRE(chosen.code == 0);
    CHECK_THAT(chosen.out, Contains("tidemark sheet --case mine.ini --start \"2026-12-1"));
    const std::string kept = contents(folder / "mine.ini");
    CHECK_THAT(kept, Catch::StartsWith("# needles, by tidemark choose\n") &&
                         Contains("thickness = 60 mm\n") && Contains("pump = 10 %\n") &&
                         Contains("stage = rest, "));
    CHECK_THAT(kept, !Contains("brine = ") && !Contains("ready")); // of a way without a brine

    const Json promised = answer(folder, "choose --case cut.ini --draws 256"),
               plan = answer(folder, "plan --case mine.ini --draws 256");
    double day = 0;
    for (const Json& way : promised["methods"])
        if (way["method"] == "needles")
            day = way["best_day"];
    CHECK(plan["at_day"].get<double>() == Approx(day).margin(0.01));
    for (const char* command :
         {"why --day 2d --grey 20mm --draws 128", "brine", "choose --draws 128",
          "learn --day 2d --grey 20mm --notebook shop.csv"}) {
        const Ran ran = folder.run(std::string(command) + " --case mine.ini");
        CAPTURE(command, ran.err);
        CHECK(ran.code == 0);
    }
}

TEST_CASE("brine weighs out what the needles take, not what fills the bucket", "[cli]") {
    // By hand: 10 % of 2 kg is 200 g; 1500 ppm of it is 0.3 g of nitrite, 4.8 g of a premix of
    // 6.25 %.
    const Folder folder;
    loin(folder);
    for (const char* asked : {"--pump '10 %' --pump-salt '20 %' --pump-nitrite '1500 ppm'",
                              "--pump '10 %' --target-salt '2 %' --target-nitrite '150 ppm'"}) {
        const Json brine = answer(folder, std::string("brine --case cut.ini ") + asked);
        CAPTURE(asked, brine.dump(1));
        CHECK(brine["brine"]["mass"]["value"].get<double>() == Approx(0.2).epsilon(0.005));
    }
    CHECK_THAT(joined(folder, "brine --case cut.ini --pump '10 %' --pump-salt '20 %' "
                              "--pump-nitrite '1500 ppm'"),
               Contains("premix 4.8 g"));
    // On the line an amount is one, and a cover brine beside the needles' is named.
    CHECK(answer(folder, "brine --case cut.ini --pump '10 %' --pump-salt '20 %' --brine 1kg")
              ["brine"]["mass"]["value"]
                  .get<double>() == Approx(1));
    CHECK_THAT(joined(folder, "brine --case cut.ini --brine-salt '5 %' --pump '10 %' "
                              "--pump-salt '20 %'"),
               Contains("this is the brine for the needles; leave out --pump and --pump-salt"));
}

TEST_CASE("no line that choose prints is above the limit that it kept to", "[cli]") {
    // The digits of a line were rounded up: 120.26 ppm of at most 120 (regulation (EU) 2023/2108).
    const Folder folder;
    folder.write("cut.ini", "muscle = brisket\nshape = block\nthickness = 60 mm\nwidth = 200 mm\n"
                            "weight = 3 kg\nlaw = eu\npremix-kind = eu\npremix-nitrite = 0.6 %\n"
                            "cooler = 3 C\nafterwards = simmered\n");
    const Json choice = answer(folder, "choose --case cut.ini --draws 0 --cells 12");
    for (const Json& way : choice["methods"]) {
        const std::string line = way["schedule"];
        const Json plan = answer(folder, "plan --case cut.ini --draws 0 --cells 12 " + line);
        CAPTURE(line, plan["dangers"]);
        CHECK(plan["dangers"].empty());
    }
}

TEST_CASE("what cannot be saved is refused before any work", "[cli]") {
    const Folder folder;
    loin(folder);
    refused(folder, "choose --case cut.ini --save cut.ini",
            "--save: cut.ini: is the case file that is read; give another name");
    refused(folder, "choose --case cut.ini --save none/mine.ini",
            "--save: none/mine.ini: is in a folder that does not exist; name a file that can be "
            "written");
    CHECK_THAT(contents(folder / "cut.ini"), Catch::StartsWith("muscle = pork-loin\n"));
}

TEST_CASE("of a pumped piece no face is shut, and the needles may have left little", "[cli]") {
    const Folder folder;
    loin(folder);
    const std::string pumped = "why --case cut.ini --pump '10 %' --pump-salt '20 %' "
                               "--pump-nitrite '1200 ppm' --draws 256 --day 3d --grey 25mm ";
    const auto names = [&](const std::string& words) {
        std::string all;
        const Json told = answer(folder, words);
        for (const Json& cause : told["causes"])
            all += cause["cause"].get<std::string>() + ' ';
        return all;
    };
    const std::string rest = names(pumped + "--stage 'rest, 3 d'");
    CHECK_THAT(rest, Contains("little-pump") && !Contains("shut") && !Contains("fat "));
    CHECK_THAT(names(pumped + "--brine-salt '5 %' --brine-nitrite '150 ppm' --stage 'brine, 3 d'"),
               Contains("little-pump") && Contains("bottom-shut"));
    CHECK_THAT(joined(folder, pumped + "--stage 'rest, 3 d'"),
               !Contains("put brine in by needles") && !Contains("every face"));
}

TEST_CASE("learn says that a pumped slice points to the needles, and how to put it right",
          "[cli]") {
    const Folder folder;
    loin(folder);
    const std::string pumped = "learn --case cut.ini --pump '10 %' --pump-salt '20 %' "
                               "--pump-nitrite '1200 ppm' --stage 'rest, 3 d' --day 3d "
                               "--grey 10mm --notebook shop.csv ";
    CHECK_THAT(joined(folder, pumped + "--found-mean-salt '1.1 %'"), // of 1.8 as told
               Contains("little from the needles is ") &&
                   Contains(" learn it again with the right --pump and --replace"));
}

TEST_CASE("a way that is longer than cold alone keeps meat safe is no plain choice", "[cli]") {
    // graham1997: toxin after 21 days at 4 C; a weaker brine takes this piece some twelve weeks.
    const Folder folder;
    folder.write("ham.ini", "muscle = ham\nshape = round\nthickness = 110 mm\nweight = 4 kg\n"
                            "cooler = 4 C\nbrine-salt = 6 %\nbrine-nitrite = 150 ppm\n"
                            "brine = 5 L\nwithout = needles, rub, bag\n");
    CHECK_THAT(joined(folder, "choose --case ham.ini --draws 512 --cells 12"),
               Contains("CHOICE none is sure in the days for which cold alone keeps it safe. Of "
                        "the others: weaker brine, ") &&
                   Contains(" days at up to 4 °C") && Contains("made toxin there in 21 days") &&
                   !Contains("yersinia")); // what is behind it comes with --more
}

} // namespace test_save
