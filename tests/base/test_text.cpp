// SPDX-License-Identifier: MIT
/// Nearest words and rounded numbers.
#include "base/text.hpp"

#include <catch2/catch.hpp>

using namespace tidemark::base;

TEST_CASE("the nearest word is found within half the length of the word typed", "[base]") {
    const std::vector<std::string> words{"pork-loin", "pork-ham", "beef-round"};
    CHECK(nearest("porkloin", words) == "pork-loin");
    CHECK(nearest("prok-ham", words) == "pork-ham");
    CHECK(nearest("beef-round", words) == "beef-round");
    CHECK(nearest("zzzzz", words).empty());
    CHECK(nearest("", words).empty());
    CHECK(nearest("abcd", {"abxx"}) == "abxx"); // two of four letters: the last that counts
    CHECK(nearest("abcd", {"axxx"}).empty());
}

TEST_CASE("capitals do not count in the distance between words", "[base]") {
    CHECK(nearest("PORK-HAM", {"pork-loin", "pork-ham"}) == "pork-ham");
}

TEST_CASE("of words equally near the first is named", "[base]") {
    CHECK(nearest("cat", {"bat", "hat"}) == "bat");
}

TEST_CASE("numbers are rounded to significant digits without trailing zeros", "[base]") {
    CHECK(significant(3.14159, 3) == "3.14");
    CHECK(significant(2.5, 6) == "2.5");
    CHECK(significant(123456, 3) == "123000");
    CHECK(significant(0.00012345, 2) == "0.00012");
    CHECK(significant(999.6, 3) == "1000");
    CHECK(significant(-0.5, 3) == "-0.5");
}

TEST_CASE("an exponent is used only below 1e-4 and from 1e7 on", "[base]") {
    CHECK(significant(1e-4, 3) == "0.0001");
    CHECK(significant(2.4e-10, 3) == "2.4e-10");
    CHECK(significant(9999999, 7) == "9999999");
    CHECK(significant(1e7, 3) == "1e+07");
    CHECK(significant(9999999, 3) == "1e+07"); // the rounded number decides
}

TEST_CASE("zero has no sign", "[base]") {
    CHECK(significant(0.0, 3) == "0");
    CHECK(significant(-0.0, 3) == "0");
}

TEST_CASE("trim takes white space from both ends only", "[base]") {
    CHECK(trim(" \t a b \r\n") == "a b");
    CHECK(trim(" \n ").empty());
    CHECK(trim("").empty());
}

TEST_CASE("days are rounded to the safe side", "[unit]") {
    using tidemark::base::day_number;
    using tidemark::base::Rounding;
    CHECK(day_number(5.551 * 86400, Rounding::down) == "5.5");
    CHECK(day_number(5.551 * 86400, Rounding::up) == "5.6");
    CHECK(day_number(5.549 * 86400, Rounding::nearest) == "5.5");
    CHECK(day_number(3 * 86400 * (1 + 1e-12), Rounding::up) == "3");
    CHECK(day_number(3 * 86400 * (1 - 1e-12), Rounding::down) == "3");
}
