// SPDX-License-Identifier: MIT
/// A drawn outline on the command line: what was moved is told by every command, flags beside it
/// are honoured or refused. The drawings are invented.
#include "run.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <map>

namespace test_outline {

using namespace tidemark::cli;

namespace {

/// 60 x 40 mm; the fat on top reaches 0.3 mm out of the outline at the right.
const std::string table =
    "part,kind,x [mm],y [mm]\no,outline,0,0\no,outline,60,0\no,outline,60,40\n"
    "o,outline,0,40\ncap,fat,0,35\ncap,fat,60,35\ncap,fat,60,40.3\ncap,fat,0,40\n";
const std::string note =
    "s.csv: fat 'cap' was moved by up to 0.3 mm (0.012 in) near x 60 mm, y 40.3 "
    "mm to make a drawing that can be cut into cells";

/// Runs of white space as one space, so that folded lines read as they were written.
std::string unfolded(const std::string& text) {
    std::string flat;
    for (const char c : text)
        if (const char next = c == '\n' ? ' ' : c; next != ' ' || !flat.ends_with(' '))
            flat += next;
    return flat;
}

nlohmann::json day(const Folder& folder, const std::string& words) {
    const Ran ran =
        folder.run("day --json --draws 0 --brine-salt 8% --brine-nitrite 150ppm " + words);
    CAPTURE(words, ran.err);
    REQUIRE(ran.code == 0);
    return nlohmann::json::parse(ran.out);
}

} // namespace

TEST_CASE("every command that takes a piece tells what was moved in its drawing", "[cli]") {
    const Folder folder;
    folder.write("s.csv", table);
    folder.write("p.ini", "outline = s.csv\nweight = 1 kg\n");
    const std::string brine = " --brine-salt 8% --brine-nitrite 150ppm ";
    const std::string commands[] = {
        "day --draws 0 --outline s.csv" + brine,
        "plan --draws 0 --outline s.csv" + brine + "--stage \"brine, 3 d\"",
        "choose --draws 0 --outline s.csv --weight 1kg",
        "bucket --outline s.csv --weight 1kg --brine 3kg --with p.ini" + brine,
        "bucket --thickness 40mm --weight 1kg --brine 3kg --with p.ini" + brine,
        "why --outline s.csv" + brine + "--day 3d --ring 8mm",
        "learn --notebook n.csv --outline s.csv" + brine + "--day 3d --ring 8mm",
    };
    for (const std::string& words : commands) {
        const Ran ran = folder.run(words);
        CAPTURE(words, ran.err);
        CHECK(ran.code == 0);
        CHECK_THAT(unfolded(ran.out), Catch::Contains(note));
    }
}

TEST_CASE("what the table of an outline states is refused beside it", "[cli]") {
    const Folder folder;
    folder.write("s.csv", table);
    const std::map<std::string, std::string> flags{{"thickness", "60mm"},    {"width", "90mm"},
                                                   {"fat-cap", "5mm"},       {"bones", "2"},
                                                   {"bone-diameter", "9mm"}, {"bone-depth", "3mm"}};
    for (const auto& [flag, value] : flags) {
        const Ran ran = folder.run("day --outline s.csv --brine-salt 6% --" + flag + " " + value);
        CAPTURE(flag);
        CHECK(ran.code == 2);
        CHECK(ran.out == "");
        CHECK(ran.err ==
              "tidemark: --" + flag + ": " + value +
                  ": is for a shape; an outline's table says it; leave it out, or put it "
                  "in the table\n");
    }
}

TEST_CASE("a drawn outline is sealed where it is asked for", "[cli]") {
    // Shut below, a slice cures as one twice as thick does from both sides: the core lies at the
    // bottom, 40 mm from the top.
    const Folder folder;
    folder.write("s.csv", "part,kind,x [mm],y [mm]\no,outline,0,0\no,outline,160,0\n"
                          "o,outline,160,40\no,outline,0,40\n");
    CHECK(day(folder, "--outline s.csv")["core"]["depth_mm"].get<double>() ==
          Approx(20).epsilon(1e-3));
    CHECK(day(folder, "--outline s.csv --seal bottom")["core"]["depth_mm"].get<double>() ==
          Approx(40).epsilon(1e-3));
    const Ran shut = folder.run("day --outline s.csv --brine-salt 6% --seal top,bottom,left,right");
    CHECK(shut.code == 2);
    CHECK(shut.out == "");
    CHECK(shut.err ==
          "tidemark: s.csv: seals: cover the whole outline, so nothing can get in; leave "
          "a stretch wet\n");
}

TEST_CASE("a ham of no bones has none, and one of unsaid bones has one", "[cli]") {
    const Folder folder;
    const std::string ham = "--shape ham --thickness 90mm ";
    const auto usual = day(folder, ham), one = day(folder, ham + "--bones 1"),
               none = day(folder, ham + "--bones 0");
    CHECK(usual["core"] == one["core"]);
    CHECK(usual["core"] != none["core"]);
}

} // namespace test_outline
