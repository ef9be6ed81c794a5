// SPDX-License-Identifier: MIT
/// Help, version and the list of numbers.
#include "run.hpp"

#include "base/record.hpp"
#include "base/text.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <sstream>

namespace help_test {

using namespace tidemark;
using namespace tidemark::cli;
using Catch::Contains;
using Catch::StartsWith;

TEST_CASE("every command explains itself on standard output", "[cli]") {
    const Folder folder;
    for (const char* words :
         {"--help", "-h", "help", "day --help", "day -h", "day --help-all", "brine --help",
          "numbers --help", "manual --help", "completion --help"}) {
        const Ran ran = folder.run(words);
        CAPTURE(words);
        CHECK(ran.code == 0);
        CHECK(ran.err == "");
        CHECK_THAT(ran.out, Contains("tidemark"));
        std::istringstream lines(ran.out);
        for (std::string line; std::getline(lines, line);) {
            CHECK(line.size() <= 100);
        }
    }
}

TEST_CASE("the help of day names every flag once, each on one line", "[cli]") {
    const Folder folder;
    const std::string all = folder.run("day --help-all").out;
    CHECK_THAT(all, Contains("\n  --thickness LENGTH"));
    CHECK_THAT(all, Contains("\n  --activation-energy VALUE"));
    std::istringstream lines(all);
    int flags = 0, rest = 0;
    for (std::string line; std::getline(lines, line);) {
        (line.starts_with("  --") ? flags : rest) += !line.empty();
    }
    CHECK(flags == 101);
    CHECK(rest == 14); // two ways of calling it, what it does, ten headings, one line that goes on
}

TEST_CASE("the defaults told by the help are those of the records", "[cli]") {
    const Folder folder;
    const std::string help = folder.run("day --help-all").out;
    const base::Records records = base::Records::built_in();
    const auto told = [&](const std::string& flag, const std::string& key) {
        const auto from = help.find("--" + flag);
        REQUIRE(from != std::string::npos);
        const std::string line = help.substr(from, help.find('\n', from) - from);
        const base::Record& record = *records.find(key);
        CHECK_THAT(line, Contains(base::significant(record.value, 3) +
                                  (record.unit == "1" ? "" : ' ' + record.unit)));
    };
    told("nitrite-ratio", "solute.nitrite.diffusivity-ratio");
    told("partition", "solute.salt.partition");
    told("loss", "kinetics.half-life");
    told("activation-energy", "diffusion.activation-energy");
    told("fibre-ratio", "diffusion.fibre-ratio");
    told("diffusivity", "muscle.pork-loin.diffusivity");
    told("myoglobin", "muscle.pork-loin.myoglobin");
    told("ph", "muscle.pork-loin.ph");
}

TEST_CASE("numbers lists every record with value, unit, mark and source", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run("numbers --more");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    const base::Records records = base::Records::built_in();
    for (const std::string& key : records.keys()) {
        CHECK_THAT('\n' + ran.out, Contains('\n' + key + " = "));
    }
    CHECK_THAT(folder.run("numbers diffusion.activation-energy").out,
               StartsWith("diffusion.activation-energy = 25 kJ/mol\n"
                          "    spread  sd 4\n"
                          "    range   temperature 0 .. 20 C\n"
                          "    source  tidemark, pooled, see note (our judgement)\n"
                          "    note    "));
}

TEST_CASE("numbers by itself, and the list of muscles, fit on a screen", "[cli]") {
    const Folder folder;
    const base::Records records = base::Records::built_in();
    const std::string heads = folder.run("numbers").out, muscles = folder.run("numbers muscle").out;
    for (const std::string& screen : {heads, muscles}) {
        CHECK(std::ranges::count(screen, '\n') <= 24);
        std::istringstream lines(screen);
        for (std::string line; std::getline(lines, line);) {
            CHECK(line.size() <= 80);
        }
    }
    CHECK_THAT(heads, Contains("kinetics (") && Contains("limit-rule ("));
    for (const std::string& muscle : records.group("muscle")) {
        CHECK_THAT('\n' + muscles, Contains('\n' + muscle + ' '));
    }
    CHECK_THAT(muscles, Contains("picnic, boston butt") && Contains("turkey-breast *"));
}

TEST_CASE("numbers of a prefix are those below it, not those that merely begin alike", "[cli]") {
    const Folder folder;
    const std::string loin = folder.run("numbers muscle.pork-loin").out;
    CHECK_THAT(loin, Contains("muscle.pork-loin.diffusivity = "));
    CHECK_THAT(loin, !Contains("muscle.pork-ham"));
    CHECK(folder.run("numbers muscle.pork").code == 2);
}

TEST_CASE("sources lists every work behind the numbers", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run("numbers --sources");
    CHECK(ran.code == 0);
    for (const std::string& key : base::Records::built_in().sources()) {
        CHECK_THAT('\n' + ran.out, Contains('\n' + key + '\n'));
    }
}

} // namespace help_test
