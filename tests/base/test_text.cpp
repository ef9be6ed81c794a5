// SPDX-License-Identifier: MIT
/// Nearest words and rounded numbers.
#include "base/text.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

using namespace tidemark::base;

TEST_CASE("the nearest word is found within one slip for three letters", "[base]") {
    const std::vector<std::string> words{"pork-loin", "pork-ham", "beef-round"};
    CHECK(nearest("porkloin", words) == "pork-loin");
    CHECK(nearest("prok-ham", words) == "pork-ham");
    CHECK(nearest("beef-round", words) == "beef-round");
    CHECK(nearest("zzzzz", words).empty());
    CHECK(nearest("", words).empty());
    CHECK(nearest("abcdef", {"abcdxx"}) == "abcdxx"); // two of six letters: the last that counts
    CHECK(nearest("abcde", {"abcxx"}).empty());
    CHECK(nearest("x", {"y"}).empty());
}

TEST_CASE("letters in the wrong order are one slip, and only the parts that differ count",
          "[base]") {
    CHECK(nearest("pork-lion", {"pork-ham", "pork-loin"}) == "pork-loin");
    CHECK(nearest("muscel", {"muscle"}) == "muscle");
    CHECK(nearest("muscle.pork-lion.ph", {"muscle.pork-loin.ph"}) == "muscle.pork-loin.ph");
    CHECK(nearest("pork-picnic", {"pork-loin", "pork-belly"}).empty());
    CHECK(nearest("pork-lamb", {"pork-loin", "pork-ham"}).empty());
    CHECK(nearest("lamb loin", {"pork loin"}).empty());
}

TEST_CASE("capitals do not count in the distance between words", "[base]") {
    CHECK(nearest("PORK-HAM", {"pork-loin", "pork-ham"}) == "pork-ham");
}

TEST_CASE("of words equally near none is named: a guess may be the wrong premix", "[base]") {
    CHECK(nearest("us-no3", {"us-no1", "us-no2"}).empty());
    CHECK(nearest("cat", {"bat", "hat"}).empty());
    CHECK(nearest("catt", {"cat", "cat"}) == "cat"); // one word twice is one
    CHECK(nearest("caat", {"bat", "hat", "cat"}) == "cat");
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

TEST_CASE("what commands a terminal is not shown; all else is", "[base]") {
    CHECK(showable("½ in, 塩漬け, сало, 🍖") == "½ in, 塩漬け, сало, 🍖");
    CHECK(showable("a\x1b[2Jb\x7f") == "a [2Jb ");     // escape, delete
    CHECK(showable("a\u009b31mb\u0085") == "a 31mb "); // C1
    CHECK(showable("\u202Eabc\u2066d\u2069\u200F\u061C") == " abc d   ");
    CHECK(showable("a\u2028b\u2029") == "a b ");
    CHECK(showable("a\x9b\xC3(b\xC3") == "a\uFFFD\uFFFD(b\uFFFD"); // not UTF-8: C1 as one byte
    CHECK(showable("a\tb\nc\r\nd\re") == "a b c  d e");
    CHECK(showable("a\tb\nc\r\nd\re", true) == "a b\nc\r\nd e");
}

TEST_CASE("a name is refused if it would not be shown as it is", "[base]") {
    CHECK_NOTHROW(check_showable("Schinken für Österreich, 2 °C", "--batch"));
    for (const char* text : {"a\nb", "a\tb", "\x1b[0m", "\u202Ex", "\u0090", "\xff"}) {
        CHECK_THROWS_AS(check_showable(text, "--batch"), InputError);
    }
}

TEST_CASE("a long text is shortened between characters", "[base]") {
    CHECK(shortened("½½½½½", 5) == "½½½½½");
    CHECK(shortened("½½½½½½", 5) == "½½...");
    CHECK(shortened("", 5).empty());
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
