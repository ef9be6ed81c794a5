// SPDX-License-Identifier: MIT
/// A disk that fills up, and a program that is killed, while each file is written (tests/broken):
/// what stood there before is whole, what is said is one line, and the next run puts all right.
#include "run.hpp"

#include <catch2/catch.hpp>

#include <csignal>

namespace test_broken_disk {

using namespace tidemark::cli;
using Catch::Contains;

namespace {

const std::string schedule = "plan --thickness 40mm --brine-salt 6% --brine-nitrite 150ppm --draws "
                             "0 --stage 'brine, 3 d' --start 2026-12-05 ";
const std::string learn = "learn --notebook shop.csv --thickness 40mm --brine-salt 6% "
                          "--brine-nitrite 150ppm --day 3d ";

/// The program with one step of writing broken: "fsync full", "rename kill".
Ran broken(const Folder& folder, const std::string& words, const std::string& how) {
    return folder.run(words, "ASAN_OPTIONS=verify_asan_link_order=0 LD_PRELOAD='" TIDEMARK_BREAKS
                             "' TIDEMARK_BREAK='" +
                                 how + "'");
}

} // namespace

TEST_CASE("a disk that fills up leaves the old file and no other, and says so", "[cli]") {
    const Folder folder;
    const std::string file = GENERATE("a.ics", "a.svg", "a.html");
    const std::string step = GENERATE("write", "fsync", "rename");
    const std::string flag = file == "a.ics"   ? "--calendar "
                             : file == "a.svg" ? "--figure "
                                               : "--sheet ";
    folder.write(file, "old");
    const Ran ran = broken(folder, schedule + flag + file, step + " full");
    CAPTURE(file, step);
    CHECK(ran.code == 1);
    CHECK(ran.err == "tidemark: " + file + ": could not be written: No space left on device\n");
    CHECK_THAT(ran.out, Contains("brine"));
    CHECK(contents(folder / file) == "old");
    CHECK(folder.all_files() == 3); // it, and .out and .err of the run
}

TEST_CASE("a program killed while it writes leaves the old file; the next run writes it", "[cli]") {
    const Folder folder;
    const std::string step = GENERATE("write", "fsync", "rename");
    folder.write("a.ics", "old");
    CHECK(broken(folder, schedule + "--calendar a.ics", step + " kill").code == 128 + SIGKILL);
    CHECK(contents(folder / "a.ics") == "old");
    CHECK(folder.run(schedule + "--calendar a.ics").code == 0);
    CHECK_THAT(contents(folder / "a.ics"), Contains("END:VCALENDAR\r\n"));
}

TEST_CASE("a notebook keeps every whole line, whatever breaks while one is added", "[cli]") {
    const Folder folder;
    REQUIRE(folder.run(learn + "--ring 9mm").code == 0);
    const std::string book = contents(folder / "shop.csv");
    for (const std::string step : {"write", "fsync"}) {
        const Ran ran = broken(folder, learn + "--ring 10mm", step + " full");
        CHECK(ran.code == 1);
        CHECK(ran.err == "tidemark: shop.csv: could not be written: No space left on device\n");
        CHECK(contents(folder / "shop.csv") == book);
    }
    CHECK(broken(folder, learn + "--ring 10mm", "write kill").code == 128 + SIGKILL);
    CHECK_THAT(contents(folder / "shop.csv"), Catch::StartsWith(book));
    const Ran after = folder.run(learn + "--ring 11mm");
    CHECK(after.code == 0);
    CHECK_THAT(after.out, Contains("shop.csv:3: was cut short") && Contains("2 batches"));
}

} // namespace test_broken_disk
