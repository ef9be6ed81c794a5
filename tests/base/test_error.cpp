// SPDX-License-Identifier: MIT
/// The shape of messages.
#include "base/error.hpp"

#include <catch2/catch.hpp>

using tidemark::base::InputError;

TEST_CASE("an input error is one line of place, value, rule and remedy", "[base]") {
    CHECK(std::string(InputError("--salt", "40 %", "is above 30 %", "give less").what()) ==
          "--salt: 40 %: is above 30 %; give less");
}

TEST_CASE("empty parts of an input error leave no punctuation behind", "[base]") {
    CHECK(std::string(InputError("", "40 %", "is above 30 %", "").what()) == "40 %: is above 30 %");
    CHECK(std::string(InputError("--salt", "", "is empty", "give one").what()) ==
          "--salt: is empty; give one");
    CHECK(std::string(InputError("", "", "is empty", "").what()) == "is empty");
}

TEST_CASE("line breaks and escape codes in a value do not reach the message", "[base]") {
    CHECK(std::string(InputError("f", "a\nb\033[1m", "is odd", "").what()) == "f: a b [1m: is odd");
    CHECK(std::string(InputError("f", "½ in", "is odd", "").what()) == "f: ½ in: is odd");
}

TEST_CASE("a value of a thousand characters does not fill the screen", "[base]") {
    const std::string line = InputError("f", std::string(1000, 'x'), "is odd", "").what();
    CHECK(line == "f: " + std::string(197, 'x') + "...: is odd");
}
