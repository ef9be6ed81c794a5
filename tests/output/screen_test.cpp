// SPDX-License-Identifier: MIT
/// Screens of any width, and the quiet ones. All texts are invented.
#include "output/screen.hpp"

#include <catch2/catch.hpp>

namespace screen_test {

using namespace tidemark;
using namespace tidemark::output;

namespace {

Shown of(std::size_t columns, bool quiet = false) {
    Shown shown;
    shown.columns = columns;
    shown.quiet = quiet;
    return shown;
}

judge::Findings findings() {
    judge::Findings f;
    f.danger("a", "it is dangerous");
    f.warn("b", "it may be");
    f.tell("c", "it is worth knowing");
    return f;
}

const std::vector<Column> columns{
    {"", "stage", 10, ""}, {"salt", "mean", 8, "mean salt"}, {"", "of", 4, "of", true}};

} // namespace

TEST_CASE("a quiet screen has the answer and what can hurt people", "[output]") {
    const auto shown = [](bool quiet) {
        Document d;
        d.dangers(findings());
        d.line("a title");
        d.paragraph("BEST", "day 9");
        d.paragraph("", "or day 10");
        d.paragraph("NEXT", "something else");
        d.table("state", columns, {{"rest", "2.0", "b"}});
        d.remarks(findings());
        return screen(d, of(60, quiet));
    };
    CHECK(shown(true) == "DANGER   it is dangerous\nBEST     day 9\n         or day 10\n"
                         "WARNING  it may be\n");
    CHECK(shown(false) == "DANGER   it is dangerous\n\na title\nBEST     day 9\n"
                          "         or day 10\nNEXT     something else\n"
                          "              salt\nstage         meanof\nrest           2.0b\n"
                          "WARNING  it may be\nNOTE     it is worth knowing\n");
    Screen recipe(of(60, true));
    recipe.answer("RECIPE   salt  300 g");
    recipe.paragraph("BRINE", "6 %");
    CHECK(recipe.text() == "RECIPE   salt  300 g\n");
}

TEST_CASE("a table that is too wide becomes lines that name their numbers", "[output]") {
    Screen s(of(20));
    s.table(columns, {{"1 brine", "2.05", "b"}, {"2 rest", "", "c"}});
    CHECK(s.text() == "1 brine:\n  mean salt 2.05; of\n  b\n2 rest:\n  of c\n");
}

TEST_CASE("long lines are broken at spaces, and go on below what they belong to", "[output]") {
    CHECK(folded("  --day TIME  when it came out of the brine\n", 30) ==
          "  --day TIME  when it came out\n              of the brine\n");
    CHECK(folded("one two three four", 9) == "one two\n  three\n  four\n");
    CHECK(folded("a_word_that_cannot_be_broken b\n\nc", 10) ==
          "a_word_that_cannot_be_broken\n  b\n\nc\n");
    CHECK(folded("°°°° °°°°", 9) == "°°°° °°°°\n"); // characters, not bytes
    CHECK(folded("", 9).empty());
    Screen s(of(12));
    s.line("one two three four");
    s.paragraph("A", "one");
    CHECK(s.text() == "one two\n  three four\nA        one\n");
}

TEST_CASE("a line to type is broken where a shell lets it be broken", "[output]") {
    const std::string line =
        "tidemark day --case \"my cut, and more of it.ini\" --more --salt '2 k''g'";
    const auto shown = [&](std::size_t columns) {
        output::Shown s;
        s.columns = columns;
        output::Screen screen(s);
        screen.command(line);
        return screen.text();
    };
    CHECK(shown(100) == "         " + line + '\n');
    CHECK(shown(62) == "         tidemark day --case \"my cut, and more of it.ini\" \\\n"
                       "             --more --salt '2 k''g'\n");
    // Too narrow for a flag beside its value; what is quoted stays whole.
    CHECK(shown(34) == "tidemark day --case \\\n"
                       "    \"my cut, and more of it.ini\" \\\n"
                       "    --more --salt '2 k''g'\n");
}

} // namespace screen_test
