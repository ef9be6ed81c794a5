// SPDX-License-Identifier: MIT
/// One question, whichever command asks it: the same numbers, words and dangers. All scenarios are
/// invented.
#include "json.hpp"

#include <catch2/catch.hpp>

namespace test_agree {

using namespace tidemark::cli;

namespace {

/// Asked for by the project: one engine, so what differs is roundoff of the days that are typed.
constexpr double same = 1e-6;

Json undrawn(const Folder& folder, const std::string& words) {
    return answer(folder, words + " --draws 0");
}

void agree(const Json& a, const Json& b) {
    for (const char* of : {"core", "mean", "brine"})
        for (const auto& [key, value] : a[of].items()) {
            CAPTURE(of, key);
            if (key == "share_of_equilibrium") // told of a brine without end alone
                continue;
            if (value.is_number())
                CHECK(b[of][key].get<double>() ==
                      Approx(value.get<double>()).epsilon(same).margin(1e-9));
            else
                CHECK(b[of][key] == value);
        }
    for (const char* key : {"ingoing_nitrite", "target", "piece", "dangers", "cautions"})
        CHECK(a[key] == b[key]);
}

} // namespace

TEST_CASE("day, plan and a bucket of one tell the same of the same piece", "[cli]") {
    const Folder folder;
    for (const char* piece :
         {"--shape sheet --thickness 40mm --weight 1kg --brine 3L",
          "--shape round --thickness 60mm --weight 1.5kg --brine 4L",
          "--shape ball --thickness 80mm --brine 2L",
          "--shape block --thickness 50mm --width 80mm --weight 1kg --brine 2kg",
          "--shape loin --thickness 65mm --weight 2kg --brine 5L",
          "--shape loin --thickness 70mm --bones 1 --fat-cap 6mm --weight 2.5kg --brine 6L",
          "--shape ham --thickness 110mm --weight 4kg --brine 8L --bones 0",
          "--shape sheet --thickness 30mm --seal bottom",
          "--shape block --thickness 45mm --width 90mm --seal left",
          "--shape round --thickness 55mm --muscle beef-round --pieces 2 --weight 1kg "
          "--brine 5L --cooler 6C"}) {
        const std::string words = std::string(piece) + " --brine-salt 5.5% --brine-nitrite 180ppm";
        CAPTURE(piece);
        const Json day = undrawn(folder, "day --at 9d " + words),
                   plan = undrawn(folder, "plan --stage 'brine, 9 d' " + words),
                   bucket = undrawn(folder, "bucket --stage 'brine, 9 d' " + words),
                   open = undrawn(folder, "bucket " + words);
        agree(day, plan);
        agree(plan, bucket);
        for (const char* key : {"cured_day", "lasting_colour_day", "salted_day", "last_good_day"})
            if (day[key].is_number() && day[key].get<double>() < 9) {
                CAPTURE(key);
                CHECK(plan[key].get<double>() == Approx(day[key].get<double>()).epsilon(same));
                CHECK(open[key].get<double>() == Approx(day[key].get<double>()).epsilon(same));
            }
    }
}

TEST_CASE("what choose tells of its brine is what day tells of it", "[cli]") {
    const Folder folder;
    const std::string words = "--shape loin --thickness 55mm --weight 1.5kg --brine 4L "
                              "--brine-salt 5% --brine-nitrite 200ppm ";
    const Json choice = undrawn(folder, "choose " + words);
    const Json& row = choice["methods"][0];
    REQUIRE(row["method"] == "brine");
    const std::string at = std::to_string(row["out_of_cure_from_day"].get<double>());
    const Json day = undrawn(folder, "day " + words + "--at '" + at + " d'");
    // The day is typed with six decimals, 0.1 s.
    CHECK(row["mean_salt_percent"].get<double>() ==
          Approx(day["mean"]["salt_percent"].get<double>()).epsilon(same));
    CHECK(row["core_salt_percent"].get<double>() ==
          Approx(day["core"]["salt_percent"].get<double>()).epsilon(same));
    CHECK(row["core_arrived_ppm"].get<double>() ==
          Approx(day["core"]["arrived_nitrite_ppm"].get<double>()).epsilon(same));
    CHECK(row["ingoing_nitrite"]["whole_system_ppm"].get<double>() ==
          Approx(day["ingoing_nitrite"]["whole_system_ppm"].get<double>()).epsilon(same));
}

} // namespace test_agree
