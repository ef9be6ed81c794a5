// SPDX-License-Identifier: MIT
/// One piece of a bucket, asked of by its number: as the same piece told by hand with its share of
/// the brine. Pieces are invented.
#include "json.hpp"
#include "one_line.hpp"

#include <catch2/catch.hpp>

#include <string>

namespace test_one_piece {

using namespace tidemark::cli;
using Catch::Contains;

namespace {

/// 2 kg of pork and two times 800 g of beef: one of these has 800 of 3600 g, two ninths of 5.4 L.
struct Bucket : Folder {
    Bucket() {
        write("beef.ini", "muscle = beef-round\nshape = block\nthickness = 40 mm\nwidth = 90 mm\n"
                          "weight = 800 g\npieces = 2\nseal = bottom\nout = 6 d\n");
        write("pork.ini", "muscle = pork-loin\nshape = block\nthickness = 65 mm\nwidth = 110 mm\n"
                          "weight = 2 kg\nfat-cap = 4 mm\nwith = beef.ini\nbrine-salt = 6 %\n"
                          "brine-nitrite = 210 ppm\nbrine = 5.4 L\ncooler = 3 C\n");
    }
};

const std::string by_hand = "--muscle beef-round --shape block --thickness 40mm --width 90mm "
                            "--weight 800g --seal bottom --brine-salt 6% --brine-nitrite 210ppm "
                            "--brine 1.2L --cooler 3C ";

/// Every number of an object, but for the share's last digit.
void same(const Json& a, const Json& b) {
    REQUIRE(a.size() == b.size());
    for (const auto& [key, value] : b.items()) {
        CAPTURE(key, a, b);
        if (value.is_number())
            CHECK(a[key].get<double>() == Approx(value.get<double>()).epsilon(1e-4).margin(1e-9));
    }
}

} // namespace

TEST_CASE("a day asked of one piece of a bucket is that of the piece in its share", "[cli]") {
    const Bucket kitchen;
    const Json one = answer(kitchen, "day --case pork.ini --piece 2" + few),
               hand = answer(kitchen, "day " + by_hand + few),
               all = answer(kitchen, "bucket --case pork.ini" + few);
    CHECK(one["piece"] == hand["piece"]);
    CHECK(one["best_day"] == hand["best_day"]);
    same(one["range"]["cured_day"], hand["range"]["cured_day"]);
    same(one["range"]["last_good_day"], hand["range"]["last_good_day"]);
    // And near what the bucket says of it, where the others take of the brine at their own pace.
    CHECK(one["best_day"].get<double>() ==
          Approx(all["pieces"][1]["best_day"].get<double>()).margin(1));
    CHECK_THAT(joined(kitchen, "day --case pork.ini --piece 2" + few),
               Contains("this piece has 22.2 % of the brine told, its share by weight"));
    // The first piece is of the first case, and alone; the line wins over a piece's own file.
    CHECK(answer(kitchen, "day --case pork.ini --piece 1" + few)["piece"]["muscle"] == "pork-loin");
    const Json thick = answer(kitchen, "day --case pork.ini --piece 2 --thickness 60mm" + few);
    CHECK(thick["piece"]["thickness_mm"].get<double>() == Approx(60));
    CHECK(thick["best_day"].get<double>() > one["best_day"].get<double>());
}

TEST_CASE("a schedule asked of one piece shares out every bath of it", "[cli]") {
    const Bucket kitchen;
    const std::string stages =
        "--stage 'brine, 4 d' --stage 'soak, 1 d, 1.8 L' --draws 0 --cells 8 ";
    const Json one = answer(kitchen, "plan --case pork.ini --piece 2 " + stages),
               hand = answer(kitchen, "plan " + by_hand +
                                          "--stage 'brine, 4 d' --stage 'soak, 1 d, 0.4 L' "
                                          "--draws 0 --cells 8");
    CHECK(one["stages"].size() == 2);
    same(one["course"].back(), hand["course"].back());
    CHECK(one["course"].size() == hand["course"].size());
}

TEST_CASE("why and learn take the slice of one piece of a bucket", "[cli]") {
    const Bucket kitchen;
    const std::string slice = "--day 2d --ring 8mm ";
    const Json one = answer(kitchen, "why --case pork.ini --piece 2 " + slice + few),
               hand = answer(kitchen, "why " + by_hand + slice + few);
    for (std::size_t k = 0; k < hand["causes"].size(); ++k)
        CHECK(one["causes"][k]["cause"] == hand["causes"][k]["cause"]);
    CHECK(one["best_day"] == hand["best_day"]);
    const Json seen = answer(kitchen, "day --case pork.ini --piece 2 " + slice + few);
    CHECK(seen["best_day"].get<double>() == Approx(one["best_day"].get<double>()).margin(1));

    const std::string learn = "learn --notebook shop.csv ";
    const Json taught = answer(kitchen, learn + "--case pork.ini --piece 2 " + slice);
    CHECK(taught["muscle"] == "beef-round");
    const std::string command = taught["batches"][0]["command"];
    CHECK_THAT(command, Contains("--share \"22.2222 %\"") && Contains("--seal \"bottom\"") &&
                            !Contains("--with") && !Contains("--piece") && !Contains("--pieces"));
    // The line stands by itself: the files may change or go.
    kitchen.write("beef.ini", "");
    const Json again = answer(kitchen, learn);
    CHECK(again["cured_day_by_shop"] == taught["cured_day_by_shop"]);
    // Pork was not sliced, so the bucket's pork has nothing of it.
    CHECK(again["batches"].size() == 1);
}

TEST_CASE("the sheet of a bucket's file has the lines for a slice of one of its pieces", "[cli]") {
    const Bucket kitchen;
    REQUIRE(kitchen.run("sheet --case pork.ini --sheet a.html" + few).code == 0);
    const std::string page = contents(kitchen / "a.html");
    for (const std::string command : {"why", "learn"}) {
        const auto line = page.find("<span>tidemark " + command);
        REQUIRE(line != std::string::npos);
        CHECK_THAT(page.substr(line, page.find("</code>", line) - line),
                   Contains("--case pork.ini") && Contains("--piece &quot;...&quot;"));
    }
}

} // namespace test_one_piece
