// SPDX-License-Identifier: MIT
/// What a cook does without is told by no change. All cuts and brines are invented.
#include "json.hpp"
#include "one_line.hpp"

#include <catch2/catch.hpp>

namespace test_without {

using namespace tidemark::cli;
using Catch::Contains;

namespace {

/// All that was tried, and what is advised, a line each.
std::string tried(const Json& j) {
    std::string list = j["change"].is_object() ? j["change"]["what"].get<std::string>() : "";
    for (const Json& one : j["changes_tried"])
        list += '\n' + one["what"].get<std::string>();
    return list;
}

const std::string loin = "muscle = pork-loin\nshape = loin\nthickness = 110 mm\nwidth = 160 mm\n"
                         "weight = 4 kg\nfat-cap = 10 mm\nbones = 4\nbone-diameter = 14 mm\n"
                         "water = 6 L\nsalt = 500 g\npremix = 30 g\ncooler = 38 F\n";

} // namespace

TEST_CASE("a cook without needles is not told needles", "[cli]") {
    const Folder folder;
    folder.write("loin.ini", loin);
    folder.write("file.ini", loin + "without = needles\n"); // says it as well as the line
    const std::string without = "day --case loin.ini --without needles" + few;
    const Json told = answer(folder, "day --case loin.ini" + few), j = answer(folder, without),
               by_file = answer(folder, "day --case file.ini" + few);
    REQUIRE_THAT(told["change"]["what"].get<std::string>(), Contains("needles"));
    CHECK(told["changes_left_out"].empty());
    CHECK(j["changes_left_out"] == Json{"needles", "needles and brine"});
    CHECK_THAT(tried(j), !Contains("needles"));
    REQUIRE(!j["changes_tried"].empty()); // the others are tried
    CHECK(by_file["changes_tried"] == j["changes_tried"]);
    const std::string left_out = "left out, as you asked: needles, needles and brine";
    CHECK_THAT(joined(folder, without), !Contains("left out"));
    CHECK_THAT(joined(folder, without + " --more"), Contains(left_out));
}

TEST_CASE("every change goes by one name, in a schedule and a bucket too", "[cli]") {
    const Folder folder;
    folder.write("second.ini", "muscle = beef-round\nshape = round\nthickness = 40 mm\n"
                               "weight = 0.6 kg\n");
    const std::string lies = " --shape block --thickness 90mm --width 140mm --weight 2kg --cooler "
                             "3C --seal bottom --confidence '99 %' --brine-nitrite 60ppm ",
                      weak = lies + "--brine 8L --brine-salt '4 %'",
                      others = "stronger brine, weaker brine, needles",
                      plan = "plan" + weak + " --stage 'brine, 6 d' --stage 'rest, 1 d'";
    const struct {
        std::string words, without, name, what;
    } asked[] = {
        {"day" + weak, others, "brine on all faces", "no face shut"},
        {"day" + weak, others, "less brine", "of the same brine"},
        {"day" + weak, others, "soak", "of fresh water after it"},
        {"day" + weak, others, "rest", "days of rest after it"},
        {"day" + weak, others, "thinner", "a piece cut"},
        {"day" + lies + "--brine 2L --brine-salt '6 %'", "thinner", "weaker brine",
         "% salt in the brine"},
        {"day" + lies + "--brine 2L --brine-salt '6 %'", "thinner", "needles", "by needles"},
        {"day" + lies + "--brine 4L --brine-salt '3 %'", "thinner, needles", "stronger brine",
         "% salt in the brine"},
        {"day" + lies + "--brine 4L --brine-salt '3 %'", "thinner, needles", "more brine",
         "of the same brine"},
        {plan, "weaker brine", "brine on all faces", "no face shut"},
        {"bucket" + weak + " --with second.ini", "weaker brine", "brine on all faces",
         "no face shut"}};
    for (const auto& a : asked) {
        CAPTURE(a.words, a.name);
        const std::string words = a.words + " --cells 8 --draws 512 --without '" + a.without;
        CHECK_THAT(tried(answer(folder, words + "'")), Contains(a.what));
        CHECK_THAT(tried(answer(folder, words + ", " + a.name + "'")), !Contains(a.what));
    }
}

} // namespace test_without
