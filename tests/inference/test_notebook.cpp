// SPDX-License-Identifier: MIT
/// The notebook: what is written is read again, whatever happens to the file in between.
#include "inference/notebook.hpp"

#include "base/error.hpp"

#include "scratch.hpp"

#include <catch2/catch.hpp>

#include <signal.h>
#include <sys/file.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <boost/algorithm/string/replace.hpp>

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace test_notebook {

using namespace tidemark;
using namespace tidemark::inference;
namespace fs = std::filesystem;
using test::Scratch;

namespace {

/// Invented, as are all batches here.
Batch batch(const std::string& name, double ring) {
    Batch b;
    b.date = "2026-12-05";
    b.name = name;
    b.muscle = "pork-loin";
    b.shape = "round";
    b.thickness = 0.065;
    b.brine_salt = 0.06;
    b.brine_nitrite = 150e-6;
    b.cooler = 276.15;
    b.slice.time = 7 * 86400;
    b.slice.every = ring;
    b.half = 10.25 * 86400;
    b.command = "tidemark day --muscle pork-loin --thickness \"65 mm\" --brine-salt 6%";
    return b;
}

std::string message(const std::function<void()>& act) {
    try {
        act();
    } catch (const base::InputError& error) {
        return error.what();
    }
    return "no error";
}

} // namespace

TEST_CASE("a batch is read as it was written, quotes and commas included", "[inference]") {
    const Scratch file;
    Batch told = batch("left, \"the big one\"\nR\xC3\xA4ucher", 0.0125);
    told.slice.core_width = 0.031;
    told.slice.top = 0.011;
    told.slice.through = true;
    file.add(told);
    const Notebook book = file.read();
    CHECK(book.warnings.empty());
    REQUIRE(book.batches.size() == 1);
    const Batch& b = book.batches[0];
    CHECK(b.name == "left, \"the big one\" R\xC3\xA4ucher"); // a batch is one line
    CHECK(b.date == told.date);
    CHECK(b.muscle == told.muscle);
    CHECK(b.command == told.command);
    CHECK(b.line == 2);
    CHECK(b.slice.through);
    // Eight digits are written.
    CHECK(b.slice.time == Approx(told.slice.time).epsilon(1e-8));
    CHECK(*b.slice.every == Approx(0.0125).epsilon(1e-8));
    CHECK(*b.slice.top == Approx(0.011).epsilon(1e-8));
    CHECK(*b.slice.core_width == Approx(0.031).epsilon(1e-8));
    CHECK(*b.cooler == Approx(276.15).epsilon(1e-8));
    CHECK(*b.half == Approx(10.25 * 86400).epsilon(1e-8));
    CHECK_FALSE(b.late);
    CHECK_FALSE(b.slice.left);
    CHECK_FALSE(b.slice.core_height);
}

TEST_CASE("a notebook cut short at any byte loses no whole batch, and goes on", "[inference]") {
    const Scratch file;
    file.add(batch("one", 0.010));
    const std::size_t first = file.bytes().size();
    file.add(batch("two, torn", 0.012));
    const std::string all = file.bytes();
    REQUIRE(all.ends_with('\n'));
    for (std::size_t size = 0; size < all.size(); ++size) {
        CAPTURE(size, all.substr(0, size));
        file.put(all.substr(0, size));
        const bool second = size + 1 == all.size(); // but its line end
        const std::size_t whole = (size + 1 >= first ? 1 : 0) + (second ? 1 : 0);
        const std::size_t header = all.find('\n');
        const bool torn = size > header + 1 && size + 1 != first && size != first && !second;
        const Notebook before = file.read();
        CHECK(before.batches.size() == whole);
        CHECK(before.warnings.size() == (torn ? 1 : 0));
        file.add(batch("three", 0.014));
        const Notebook after = file.read();
        CHECK(after.warnings.size() == (torn ? 1 : 0));
        REQUIRE(after.batches.size() == whole + 1);
        CHECK(after.batches.back().name == "three");
    }
}

TEST_CASE("a changed line is named, and read as it stands if it can be", "[inference]") {
    const Scratch file;
    for (const char* name : {"one", "two", "three"}) {
        file.add(batch(name, 0.010));
    }
    const std::string all = file.bytes();
    file.put(boost::replace_first_copy(all, ",two,", ",twa,"));
    const Notebook book = file.read();
    REQUIRE(book.batches.size() == 3);
    CHECK(book.batches[1].name == "twa");
    REQUIRE(book.warnings.size() == 1);
    CHECK(book.warnings[0] ==
          file.path() +
              ":3: is not as written, as when a spreadsheet saved it; it is read as the "
              "table stands: hold that against your own notes, or take out what is wrong");
    // Rounded in every line: one warning for all.
    file.put(boost::replace_all_copy(all, ",10.25,", ",10.3,"));
    const Notebook rounded = file.read();
    CHECK(rounded.batches.size() == 3);
    CHECK(*rounded.batches[2].half == Approx(10.3 * 86400));
    file.add(batch("four", 0.010));
    file.put(boost::replace_all_copy(file.bytes(), ",10.25,", ",10.3,"));
    REQUIRE(file.read().warnings.size() == 1);
    CHECK(file.read().warnings[0].starts_with(file.path() + ":2: and 3 more lines are not as"));
    // What cannot be is passed over, with what is wrong.
    for (const auto& [was, is, why] :
         {std::array{",no,", ",maybe,", "has maybe for pink_through, not yes or no"},
          {",7,10,", ",7,x10,", "has x10 for ring_mm, which cannot be"},
          {",7,10,", ",7,-10,", "has -10 for ring_mm, which cannot be"},
          {",7,10,", ",7,4000,", "has 4000 for ring_mm, which cannot be"},
          {",7,10,", ",0,10,", "has 0 for day, which is no day"},
          {",7,10,", ",,10,", "has no day"}}) {
        file.put(boost::replace_first_copy(all, was, is));
        CAPTURE(is);
        CHECK(file.read().batches.size() == 2);
        REQUIRE(file.read().warnings.size() == 1);
        CHECK(file.read().warnings[0] ==
              file.path() + ":2: " + why + "; it is passed over: give that batch again");
    }
}

TEST_CASE("every single byte of a line is watched", "[inference]") {
    const Scratch file;
    file.add(batch("one", 0.010));
    const std::string all = file.bytes();
    const std::size_t begin = all.find('\n') + 1;
    for (std::size_t at = begin; at + 1 < all.size(); ++at) {
        if (all[at] == '"') {
            continue; // quotes are the table's, not the batch's
        }
        std::string changed = all;
        changed[at] = changed[at] == '7' ? '8' : '7';
        CAPTURE(at, changed);
        CHECK(notebook_from_text(changed, "shop.csv").warnings.size() == 1);
    }
}

TEST_CASE("a notebook that a spreadsheet has saved is read, and goes on as it is", "[inference]") {
    const Scratch file;
    Batch told = batch("one", 0.0125);
    told.slice.found[static_cast<std::size_t>(Look::core_salt)] = 0.0135;
    told.slice.found[static_cast<std::size_t>(Look::mean_salt)] = 0.021;
    file.add(told);
    file.add(batch("two", 0.0105));
    const std::string all = file.bytes();
    REQUIRE(all.find('"') != std::string::npos);
    /// The table with other separators and decimal commas, each number's own digits kept.
    const auto saved = [&](char separator, bool commas, const std::string& more) {
        std::string text;
        bool quoted = false;
        for (std::size_t i = 0; i < all.size(); ++i) {
            const char c = all[i];
            quoted = c == '"' ? !quoted : quoted;
            const bool decimal = commas && !quoted && c == '.' && i > 0 && isdigit(all[i - 1]);
            text += c == ',' && !quoted ? std::string(1, separator)
                    : decimal           ? std::string(",")
                    : c == '\n'         ? more + "\r\n"
                                        : std::string(1, c);
        }
        return text;
    };
    for (const auto& [text, separator] :
         {std::pair{saved(';', true, ""), ';'},
          {saved('\t', false, ""), '\t'},
          {"\xEF\xBB\xBF" + saved(';', true, ";mine"), ';'},
          {saved(',', false, ",\"my own, note\""), ','},
          {boost::replace_all_copy(saved(';', true, ""), ";no;", ";NO;"), ';'},
          {boost::replace_all_copy(saved(';', true, ""), ";7;", ";7,00;"), ';'}}) {
        file.put(text);
        CAPTURE(text);
        const Notebook book = file.read();
        CHECK(book.warnings.empty());
        REQUIRE(book.batches.size() == 2);
        CHECK(*book.batches[0].slice.every == Approx(0.0125).epsilon(1e-8));
        CHECK(*book.batches[0].slice.found[static_cast<std::size_t>(Look::core_salt)] ==
              Approx(0.0135).epsilon(1e-8));
        CHECK(book.batches[0].command == told.command);
        file.add(batch("three", 0.0115));
        CHECK(file.read().warnings.empty());
        REQUIRE(file.read().batches.size() == 3);
        CHECK(file.read().batches[2].name == "three");
        CHECK(std::ranges::count(file.bytes().substr(text.size()), separator) > 20);
    }
    // Commas in and between numbers cannot be told apart.
    file.put(saved(',', true, ""));
    CHECK(file.read().batches.empty());
    REQUIRE(file.read().warnings.size() == 2);
    CHECK(file.read().warnings[0] ==
          file.path() +
              ":2: has more fields than the first line has columns, as where commas stand "
              "both in and between numbers; it is passed over: give that batch again");
    file.put(boost::replace_first_copy(all, ",command,", ",order,"));
    CHECK(message([&] { file.read(); })
              .find("has no column command, without which nothing is "
                    "learnt; put that column back") != std::string::npos);
}

TEST_CASE("a notebook from before salt could be kept is read, and asks for its column",
          "[inference]") {
    const Scratch file;
    file.add(batch("one", 0.010));
    // The first lines had no columns of other looks, and so had the lines and their check.
    const std::string before =
        "date,batch,muscle,shape,thickness_mm,brine_salt_percent,brine_nitrite_ppm,cooler_C,day,"
        "ring_mm,ring_top_mm,ring_bottom_mm,ring_left_mm,ring_right_mm,grey_mm,grey_width_mm,"
        "pink_through,predicted_half_day,predicted_late_day,command,check\n";
    file.put(before);
    file.add(batch("one", 0.010));
    CHECK(file.read().warnings.empty());
    REQUIRE(file.read().batches.size() == 1);
    Batch salted = batch("two", 0.012);
    salted.slice.found[static_cast<std::size_t>(Look::core_salt)] = 0.0135;
    CHECK(
        message([&] { file.add(salted); }) ==
        "--notebook: check: is the last column of a notebook that has none for "
        "found_core_salt_percent; write ,found_core_salt_percent at the end of its first line, or "
        "begin another notebook");
    file.put(
        boost::replace_first_copy(file.bytes(), ",check\n", ",check,found_core_salt_percent\n"));
    file.add(salted);
    CHECK(file.read().warnings.empty());
    REQUIRE(file.read().batches.size() == 2);
    CHECK(*file.read().batches[1].slice.found[static_cast<std::size_t>(Look::core_salt)] ==
          Approx(0.0135));
}

TEST_CASE("line ends, a byte-order mark and needless quotes change nothing", "[inference]") {
    const Scratch file;
    file.add(batch("one", 0.010));
    file.add(batch("two", 0.012));
    std::string text = boost::replace_all_copy(file.bytes(), "\n", "\r\n");
    text = "\xEF\xBB\xBF" + boost::replace_all_copy(text, ",two,", ",\"two\",");
    file.put(text);
    CHECK(file.read().warnings.empty());
    CHECK(file.read().batches.size() == 2);
    file.add(batch("three", 0.014));
    CHECK(file.read().warnings.empty());
    CHECK(file.read().batches.size() == 3);
    file.put("\xEF\xBB\xBF");
    file.add(batch("one", 0.010));
    CHECK(file.read().batches.size() == 1);
}

TEST_CASE("bytes that are no text spoil their own line only", "[inference]") {
    const Scratch file;
    file.add(batch("one", 0.010));
    file.put(file.bytes() + "\xFF\xFE\xC3\n" + std::string(40, '\0'));
    file.add(batch("two", 0.012));
    CHECK(file.read().batches.size() == 2);
    CHECK(file.read().warnings.size() == 2);
}

TEST_CASE("an empty file is an empty notebook; another table or a folder is refused",
          "[inference]") {
    const Scratch file;
    CHECK(message([&] { file.read(); }) ==
          "--notebook: " + file.path() +
              ": is not a file; begin one: tidemark learn --notebook FILE "
              "with a batch");
    file.put("");
    CHECK(file.read().batches.empty());
    file.put("time,temperature [C]\n0,3\n");
    const std::string refusal = file.path() +
                                ":1: time,temperature [C]: is not the first line of a "
                                "notebook; name another file; a new one is begun as "
                                "needed";
    CHECK(message([&] { file.read(); }) == refusal);
    CHECK(message([&] { file.add(batch("one", 0.01)); }) == refusal);
    CHECK(file.bytes() == "time,temperature [C]\n0,3\n");
    const std::string folder = fs::path(file.path()).parent_path().string();
    CHECK(message([&] { append(folder, "--notebook", batch("one", 0.01)); }) ==
          "--notebook: " + folder + ": is a folder; name a file that can be written");
}

TEST_CASE("the same batch twice, and a name that is a formula, are refused", "[inference]") {
    const Scratch file;
    file.add(batch("one", 0.010));
    Batch again = batch("one", 0.010);
    again.half = 12 * 86400.0; // learnt since
    CHECK(message([&] { file.add(again); }) ==
          "--notebook: " + file.path() +
              ":2: holds this batch already; give --date or --batch if it is another one");
    CHECK(message([&] { file.add(batch("=1+1", 0.012)); }) ==
          "--batch: =1+1: begins as a formula of a spreadsheet does; begin it with a letter or a "
          "digit");
    for (const char* name : {" =1", "\t+1", "\r-1", "\n \t@x", "\u00A0=1", "\uFF0B1"}) {
        CHECK_THROWS_AS(file.add(batch(name, 0.012)), base::InputError);
    }
    CHECK_NOTHROW(file.add(batch("loin = 2", 0.013)));
    CHECK(file.read().batches.size() == 2);
}

TEST_CASE("several writers at once lose nothing", "[inference]") {
    const Scratch file;
    constexpr int writers = 4, each = 25;
    std::vector<pid_t> children;
    for (int w = 0; w < writers; ++w) {
        children.push_back(fork());
        REQUIRE(children.back() >= 0);
        if (children.back() == 0) {
            int code = 0;
            try {
                for (int k = 0; k < each; ++k) {
                    file.add(batch(std::to_string(w) + '-' + std::to_string(k), 0.01));
                }
            } catch (...) {
                code = 1;
            }
            _exit(code);
        }
    }
    for (const pid_t child : children) {
        int status = 0;
        REQUIRE(waitpid(child, &status, 0) == child);
        CHECK(status == 0);
    }
    CHECK(file.read().batches.size() == writers * each);
    CHECK(file.read().warnings.empty());
}

TEST_CASE("where no more fits on the disk a notebook stays as it was", "[inference]") {
    const Scratch file;
    file.add(batch("one", 0.010));
    const std::string before = file.bytes();
    rlimit old{};
    getrlimit(RLIMIT_FSIZE, &old);
    signal(SIGXFSZ, SIG_IGN);
    const rlimit small{before.size() + 20, old.rlim_max};
    setrlimit(RLIMIT_FSIZE, &small);
    CHECK_THROWS_AS(file.add(batch("two", 0.011)), base::RunError);
    setrlimit(RLIMIT_FSIZE, &old);
    CHECK(file.bytes() == before);
}

} // namespace test_notebook
