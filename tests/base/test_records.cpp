// SPDX-License-Identifier: MIT
/// The record reader on small invented texts, and the whole library on its promises: every number
/// has a source, every source is used. All keys and numbers of the small texts are invented.
#include "base/record.hpp"

#include "base/error.hpp"
#include "base/quantity.hpp"
#include "base/text.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>

using namespace tidemark::base;
namespace fs = std::filesystem;

namespace {

const std::string sample = R"(; a comment
# another
[wood.oak.diffusivity]
title = Sap in oak
value = 2.5e-10
unit = m2/s
spread = gsd 1.5
valid = temperature 0 .. 20 C; sap sugar 2 .. 28 %; pH 5.4 .. 6.4
source = smith1901
where = Table 2, a = b
mark = S
note = from 2.16e-5 m2/d

[wood.ash]
water = 12
dry = 0.5
unit = %
source = smith1901
mark = J

[smith1901]
citation = Smith A, Invented Journal 1901, 1:1
seen = never
note = invented
)";

Records sample_records() {
    Records records;
    records.read(sample, "wood.ini");
    return records;
}

std::string refusal(const std::string& text) {
    Records records = sample_records();
    const auto before = records.keys();
    try {
        records.read(text, "bad.ini");
    } catch (const InputError& error) {
        CHECK(records.keys() == before); // nothing of a bad text stays
        return error.what();
    }
    return "accepted";
}

/// All texts of a folder of the project, joined.
std::string texts_below(const std::string& folder) {
    std::string all;
    if (const fs::path root = fs::path(TIDEMARK_SOURCE_DIR) / folder; fs::exists(root)) {
        for (const auto& entry : fs::recursive_directory_iterator(root)) {
            if (entry.is_regular_file()) {
                std::ifstream in(entry.path());
                all.append(std::istreambuf_iterator<char>(in), {});
            }
        }
    }
    return all;
}

} // namespace

TEST_CASE("a section with `value` is one record under its own name", "[base]") {
    const Records records = sample_records();
    const Record* record = records.find("wood.oak.diffusivity");
    REQUIRE(record != nullptr);
    CHECK(record->value == 2.5e-10);
    CHECK(record->si() == 2.5e-10);
    CHECK(record->unit == "m2/s");
    CHECK(record->spread == "gsd 1.5");
    CHECK(record->source == "smith1901");
    CHECK(record->where == "Table 2, a = b");
    CHECK(record->mark == 'S');
    CHECK(record->note == "from 2.16e-5 m2/d");
}

TEST_CASE("every other name in a section is a value sharing its attributes", "[base]") {
    const Records records = sample_records();
    CHECK(records.keys() ==
          std::vector<std::string>{"wood.ash.dry", "wood.ash.water", "wood.oak.diffusivity"});
    const Record* water = records.find("wood.ash.water");
    REQUIRE(water != nullptr);
    CHECK(water->value == 12);
    CHECK(water->si() == Approx(0.12).epsilon(1e-14));
    CHECK(water->mark == 'J');
    CHECK(water->spread == "none stated");
    CHECK(water->valid.empty());
}

TEST_CASE("validity ranges are kept in SI and as written", "[base]") {
    const Records records = sample_records();
    const std::vector<Validity>& valid = records.find("wood.oak.diffusivity")->valid;
    REQUIRE(valid.size() == 3);
    CHECK(valid[0].quantity == "temperature");
    CHECK(valid[0].low == Approx(273.15).epsilon(1e-14));
    CHECK(valid[0].high == Approx(293.15).epsilon(1e-14));
    CHECK(valid[0].text == "temperature 0 .. 20 C");
    CHECK(valid[1].quantity == "sap sugar");
    CHECK(valid[1].low == Approx(0.02).epsilon(1e-14));
    CHECK(valid[1].high == Approx(0.28).epsilon(1e-14));
    CHECK(valid[2].quantity == "pH");
    CHECK(valid[2].high == 6.4);
}

TEST_CASE("a value outside the range of a record gives a warning, its ends do not", "[base]") {
    const Records records = sample_records();
    const std::string key = "wood.oak.diffusivity";
    CHECK(records.outside(key, "temperature", 298.15) ==
          "temperature 25 C is outside the range of wood.oak.diffusivity [smith1901], temperature "
          "0 .. 20 C");
    CHECK(records.outside(key, "pH", 5) ==
          "pH 5 is outside the range of wood.oak.diffusivity [smith1901], pH 5.4 .. 6.4");
    CHECK(records.outside(key, "temperature", parse("68 F", Dimension::temperature, "")).empty());
    CHECK(records.outside(key, "temperature", parse("32 F", Dimension::temperature, "")).empty());
    CHECK(records.outside(key, "sap sugar", 0.1).empty());
    CHECK(records.outside(key, "colour", 1e9).empty());
    CHECK(records.outside("wood.ash.water", "temperature", 1e9).empty());
    CHECK_THROWS_AS(records.outside("wood.ash.watre", "temperature", 0), InputError);
}

TEST_CASE("records used are listed in order of first use", "[base]") {
    Records records = sample_records();
    CHECK(records.used().empty());
    records.si("wood.oak.diffusivity");
    records.si("wood.ash.water");
    records.si("wood.oak.diffusivity");
    records.find("wood.ash.dry");
    const std::vector<Record> used = records.used();
    REQUIRE(used.size() == 2);
    CHECK(used[0].key == "wood.oak.diffusivity");
    CHECK(used[1].key == "wood.ash.water");
    Records copy = records;
    copy.use("wood.ash.dry");
    CHECK(records.used().size() == 2);
    CHECK(copy.used().size() == 3);
}

TEST_CASE("an unknown key names the nearest one", "[base]") {
    Records records = sample_records();
    CHECK_THROWS_WITH(records.use("wood.ash.watre"),
                      "wood.ash.watre: is not a known value; did you mean wood.ash.water?");
    CHECK_THROWS_WITH(records.set("wood.oka.diffusivity", "1 m2/s", "--set"),
                      "--set: wood.oka.diffusivity: is not a known value; did you mean "
                      "wood.oak.diffusivity?");
    CHECK(records.find("wood.ash.watre") == nullptr);
    CHECK(records.used().empty());
}

TEST_CASE("the user's value replaces the record's and is marked as such", "[base]") {
    Records records = sample_records();
    records.set("wood.oak.diffusivity", "17.28 mm2/d", "--set");
    const Record& record = records.use("wood.oak.diffusivity");
    CHECK(record.si() == Approx(2e-10).epsilon(1e-14));
    CHECK(record.unit == "m2/s");
    CHECK(record.mark == 'U');
    CHECK(record.source == "flag");
    CHECK(record.where == "--set");
    CHECK(record.note == "given by the user instead of 2.5e-10 m2/s [smith1901]");
    CHECK(record.valid.empty());
    CHECK(record.spread == "none stated");
}

TEST_CASE("a user's value must have a unit that fits", "[base]") {
    Records records = sample_records();
    CHECK_THROWS_WITH(
        records.set("wood.ash.water", "5 kg", "--set"),
        "--set wood.ash.water: 5 kg: is a mass, not a proportion; write it as 2.5 % or "
        "25 g/kg");
    CHECK_THROWS_WITH(records.set("wood.ash.water", "5", "--set"),
                      "--set wood.ash.water: 5: has no unit; write it as 2.5 % or 25 g/kg");
    CHECK(records.find("wood.ash.water")->value == 12);
    CHECK(records.find("wood.ash.water")->mark == 'J');
}

TEST_CASE("what a user may set is bounded by the first pattern that fits", "[base]") {
    Records records = sample_records();
    CHECK(records.allowed("wood.ash.water") == nullptr);
    CHECK_NOTHROW(records.check("wood.ash.water", "1e9 %", "--set")); // nothing is said of it
    records.read("[allowed]\nwood.*.water = 1 .. 60 %\nwood.* = 1e-12 .. 1e6\n"
                 "*.diffusivity = 1 .. 2 m2/s\n",
                 "allowed.ini");
    REQUIRE(records.allowed("wood.ash.water") != nullptr);
    CHECK(records.allowed("wood.ash.water")->high == 0.6);
    CHECK(records.allowed("wood.oak.diffusivity")->high == 1e6); // the first line that fits
    CHECK_NOTHROW(records.check("wood.ash.water", "1 %", "--set"));
    CHECK_NOTHROW(records.check("wood.ash.water", "600 g/kg", "--set"));
    CHECK_THROWS_WITH(records.check("wood.ash.water", " 0.99 % ", "a.ini:3: set"),
                      "a.ini:3: set: 0.99 %: must be from 1 % to 60 %; leave it out to use 12 %");
    CHECK_THROWS_WITH(records.check("wood.ash.water", "5 kg", "--set"),
                      "--set: 5 kg: is a mass, not a proportion; write it as 2.5 % or 25 g/kg");
    CHECK_THROWS_WITH(records.check("wood.ash.watre", "5 %", "--set"),
                      "--set: wood.ash.watre: is not a known value; did you mean wood.ash.water?");
    // The room at an end is of that end: a wide range does not let zero in.
    CHECK_THROWS_WITH(records.check("wood.oak.diffusivity", "0 m2/s", "--set"),
                      "--set: 0 m2/s: must be from 1e-12 to 1e6; leave it out to use 2.5e-10 m2/s");
    CHECK(records.find("wood.ash.water")->value == 12);
}

TEST_CASE("temperatures and pure numbers can be set", "[base]") {
    Records records;
    records.read("[a.temperature]\nvalue = 4\nunit = C\nsource = b\nmark = J\n"
                 "[a.ratio]\nvalue = 1\nunit = 1\nsource = b\nmark = J\n",
                 "a.ini");
    records.set("a.temperature", "41 F", "--set");
    CHECK(records.find("a.temperature")->value == Approx(5).epsilon(1e-12));
    records.set("a.ratio", "1.3", "--set");
    CHECK(records.si("a.ratio") == 1.3);
}

TEST_CASE("a later text overrides values and citations and keeps the rest", "[base]") {
    Records records = sample_records();
    records.read("[wood.ash]\nwater = 14\nunit = %\nsource = smith1901\nmark = S\n"
                 "[smith1901]\ncitation = Smith B\n",
                 "later.ini");
    CHECK(records.find("wood.ash.water")->value == 14);
    CHECK(records.find("wood.ash.water")->mark == 'S');
    CHECK(records.find("wood.ash.dry")->value == 0.5);
    CHECK(records.source("smith1901")->citation == "Smith B");
}

TEST_CASE("sections with a citation are the bibliography", "[base]") {
    const Records records = sample_records();
    CHECK(records.sources() == std::vector<std::string>{"smith1901"});
    REQUIRE(records.source("smith1901") != nullptr);
    CHECK(records.source("smith1901")->key == "smith1901");
    CHECK(records.source("smith1901")->citation == "Smith A, Invented Journal 1901, 1:1");
    CHECK(records.source("smith") == nullptr);
}

TEST_CASE("groups are the next parts of the keys below a prefix", "[base]") {
    const Records records = sample_records();
    CHECK(records.group("wood") == std::vector<std::string>{"ash", "oak"});
    CHECK(records.group("wood.ash") == std::vector<std::string>{"dry", "water"});
    CHECK(records.group("") == std::vector<std::string>{"wood"});
    CHECK(records.group("woo").empty());
    CHECK(records.group("wood.ash.dry").empty());
}

TEST_CASE("a text that breaks the format is refused with its file and line", "[base]") {
    const std::string rest = "unit = %\nsource = s\nmark = S\n";
    struct Row {
        std::string text;
        std::string message;
    };
    const Row row = GENERATE_COPY(values<Row>({
        {"[a]\nvalue = 1\nsource = s\nmark = S\n", "bad.ini:1: [a]: has no unit; add one"},
        {"[a]\nvalue = 1\nunit = %\nmark = S\n", "bad.ini:1: [a]: has no source; add one"},
        {"\n[a]\nvalue = 1\nunit = %\nsource = s\n", "bad.ini:2: [a]: has no mark; add one"},
        {"[a]\nvalue = 1\nunit = %\nsource = s\nmark = U\n",
         "bad.ini:1: [a]: U: is not a mark; use S, C, M or J"},
        {"[a]\nvalue = 1\nunit = %\nsource = s\nmark = SM\n",
         "bad.ini:1: [a]: SM: is not a mark; use S, C, M or J"},
        {"[a]\nvalue = 1\nunit = m2/z\nsource = s\nmark = S\n",
         "bad.ini:1: [a]: has an unknown unit \"m2/z\"; did you mean m2/s?"},
        {"[a]\nvalue = x\n" + rest,
         "bad.ini:2: a: x: does not begin with a number; write it as 1.5"},
        {"[a]\nvalue = 1 %\n" + rest,
         "bad.ini:2: a: 1 %: has text after the number; write the number alone"},
        {"[a]\nvalue = nan\n" + rest, "bad.ini:2: a: nan: is not a finite number; write it as 1.5"},
        {"[a]\nsorce = s\n" + rest,
         "bad.ini:2: a.sorce: s: does not begin with a number; write it as 1.5"},
        {"[a]\nvalue = 1\nvalid = temperature 0-20 C\n" + rest,
         "bad.ini:1: [a]: temperature 0-20 C: is not a range; write it as temperature 0 .. 20 C"},
        {"[a]\nvalue = 1\nvalid = temperature 20 .. 0 C\n" + rest,
         "bad.ini:1: [a]: temperature 20 .. 0 C: has its lower end above the upper"},
        {"[a]\nvalue = 1\nvalid = temperature 0 .. 20 Q\n" + rest,
         "bad.ini:1: [a]: has an unknown unit \"Q\""},
        {"[a]\nvalue = 1\nvalue = 2\n" + rest,
         "bad.ini:3: value: appears twice in this section; keep one"},
        {"[a]\nb.c = 1\n" + rest + "[a.b]\nc = 2\n" + rest,
         "bad.ini:7: a.b.c: appears twice in this file; keep one"},
        {"[a]\nb = 1\n" + rest + "[a]\nc = 2\n" + rest,
         "bad.ini:6: [a]: appears twice in this file; join the two"},
        {"value = 1\n", "bad.ini:1: value: stands outside a section; put it below a [section]"},
        {"[a\nvalue = 1\n", "bad.ini:1: [a: does not end with ]"},
        {"[a]\nvalue 1\n", "bad.ini:2: value 1: is not of the form name = value"},
        {"[a]\n= 1\n", "bad.ini:2: = 1: is not of the form name = value"},
        {"[allowed]\na.* = 1 - 2 %\n",
         "bad.ini:2: a.* 1 - 2 %: is not a range; write it as temperature 0 .. 20 C"},
        {"[allowed]\na.* = 2 .. 1 %\n",
         "bad.ini:2: a.* 2 .. 1 %: has its lower end above the upper"},
        {"[a]\ncitation = A\nvalue = 1\n",
         "bad.ini:1: [a]: value: has no place in a bibliography entry; use citation, seen or note"},
    }));
    CHECK(refusal(row.text) == row.message);
}

TEST_CASE("a heading without values and a text without line end are accepted", "[base]") {
    CHECK(refusal("[a]\ntitle = only a heading\n") == "accepted");
    CHECK(refusal("[a]\nvalue = 1\nunit = %\nsource = s\nmark = S") == "accepted");
    CHECK(refusal("") == "accepted");
}

TEST_CASE("every number of the library has a source, a mark and a unit that converts", "[base]") {
    const Records records = Records::built_in();
    REQUIRE(records.keys().size() > 100);
    for (const std::string& key : records.keys()) {
        const Record& record = *records.find(key);
        CAPTURE(key, record.source, record.mark, record.spread);
        CHECK(record.key == key);
        CHECK(records.source(record.source) != nullptr);
        CHECK(std::string("SCMJ").find(record.mark) != std::string::npos);
        CHECK(std::isfinite(record.si()));
        CHECK(std::regex_match(record.spread,
                               std::regex("none stated|(gsd|sd) [0-9.e-]+|range .+ \\.\\. .+")));
    }
}

TEST_CASE("every number of the library has a range it may be set in, and lies in it", "[base]") {
    const Records records = Records::built_in();
    std::set<std::string> patterns;
    for (const std::string& key : records.keys()) {
        CAPTURE(key);
        const Validity* range = records.allowed(key);
        REQUIRE(range != nullptr);
        patterns.insert(range->text);
        const Record& record = *records.find(key);
        CHECK_NOTHROW(records.check(
            key, significant(record.value, 17) + (record.unit == "1" ? "" : ' ' + record.unit),
            "--set"));
        CHECK(range->low < range->high);
        const auto last = range->text.rfind(' '); // a pure number ends with its upper end
        const std::string unit =
            range->text.substr(0, last).ends_with("..") ? "1" : range->text.substr(last + 1);
        CHECK(dimension_of(unit) == dimension_of(record.unit));
    }
    // No line is idle, or hidden behind an earlier one.
    std::ifstream in(fs::path(TIDEMARK_SOURCE_DIR) / "models" / "allowed.ini");
    std::size_t lines = 0;
    for (std::string line; std::getline(in, line);) {
        lines += !line.starts_with(';') && line.find(" = ") != std::string::npos;
    }
    CHECK(patterns.size() == lines);
}

TEST_CASE("every entry of the bibliography is used by a number or cited in the project", "[base]") {
    const Records records = Records::built_in();
    std::set<std::string> used;
    std::string notes;
    for (const std::string& key : records.keys()) {
        used.insert(records.find(key)->source);
        notes += records.find(key)->note + ' ' + records.find(key)->where + ' ';
    }
    const std::string texts = texts_below("src") + texts_below("tests") + texts_below("validation");
    for (const std::string& key : records.sources()) {
        CAPTURE(key);
        CHECK((used.contains(key) || texts.find('[' + key + ']') != std::string::npos ||
               std::regex_search(notes, std::regex("\\b" + key + "\\b"))));
        CHECK(!records.source(key)->citation.empty());
    }
}
