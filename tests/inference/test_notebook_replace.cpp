// SPDX-License-Identifier: MIT
/// A line of a notebook taken out or put right: the others stay as they are, whoever else writes.
/// All batches are invented.
#include "inference/notebook.hpp"

#include "base/error.hpp"

#include "scratch.hpp"

#include <catch2/catch.hpp>

#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <boost/algorithm/string/replace.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>

namespace test_notebook_replace {

using namespace tidemark;
using namespace tidemark::inference;
namespace fs = std::filesystem;
using Catch::Contains;
using test::Scratch;

namespace {

Batch batch(const std::string& name, double ring) {
    Batch b;
    b.name = name;
    b.muscle = "pork-loin";
    b.shape = "round";
    b.slice.time = 7 * 86400;
    b.slice.every = ring;
    b.command = "tidemark day --muscle pork-loin --thickness \"65 mm\" --brine-salt 6%";
    return b;
}

} // namespace

TEST_CASE("a line is taken out or put right in its place, and every other byte stays",
          "[inference]") {
    const Scratch file;
    for (const char* name : {"one", "two", "three"})
        file.add(batch(name, 0.010));
    const std::string plain = file.bytes();
    for (const std::string end : {"\n", "\r\n", "\r"})
        for (const std::string mark : {"", "\xEF\xBB\xBF"}) {
            const std::string all = mark + boost::replace_all_copy(plain, "\n", end);
            file.put(all);
            const Notebook book = file.read();
            REQUIRE(book.batches.size() == 3);
            const auto two = all.find(",two,"), three = all.find(",three,");
            file.change(book.batches[1]);
            CHECK(file.bytes() == all.substr(0, two) + all.substr(three));
            CHECK(file.read().warnings.empty());
            file.put(all);
            const Batch better = batch("two", 0.014);
            file.change(book.batches[1], &better);
            const Notebook now = file.read();
            CHECK(now.warnings.empty());
            REQUIRE(now.batches.size() == 3);
            CHECK(*now.batches[1].slice.every == Approx(0.014));
            CHECK(file.bytes().starts_with(all.substr(0, two)));
            CHECK(file.bytes().ends_with(all.substr(three)));
        }
    // Without a line's end behind it, the last can go too.
    file.put(plain.substr(0, plain.size() - 1));
    file.change(file.read().batches[2]);
    CHECK(file.bytes() == plain.substr(0, plain.find(",three,")));
}

TEST_CASE("the batch a slice corrects is found by muscle, day, name and date, then by its case",
          "[inference]") {
    Notebook book;
    for (const char* name : {"", "a", "a"}) {
        book.batches.push_back(batch(name, 0.01));
        book.batches.back().line = static_cast<int>(book.batches.size()) + 1;
    }
    Batch again = batch("", 0.02);
    CHECK(earlier(book, again, "--replace").line == 2);
    again.command = "tidemark day --seal bottom";
    CHECK(earlier(book, again, "--replace").line == 2); // the case was wrong
    again.name = "a";
    CHECK_THROWS_WITH(earlier(book, again, "--replace"), Contains("more than one line"));
    book.batches[1].command = again.command;
    CHECK(earlier(book, again, "--replace").line == 3);
    book.batches[1].command = book.batches[2].command;
    book.batches[1].date = "2026-12-05";
    book.batches[2].date = again.date = "2026-12-06";
    CHECK(earlier(book, again, "--replace").line == 4);
    again.slice.time *= 2;
    CHECK_THROWS_WITH(earlier(book, again, "--replace"), Contains("no line of the notebook"));
}

TEST_CASE("a line that changed since it was read is let be, and so is all where the disk is full",
          "[inference]") {
    const Scratch file;
    file.add(batch("one", 0.010));
    file.add(batch("two", 0.011));
    Notebook book = file.read();
    file.change(book.batches[0]);
    const std::string left = file.bytes();
    CHECK_THROWS_WITH(file.change(book.batches[0]),
                      Contains("is no longer the line that was read"));
    CHECK_THROWS_WITH(file.change(book.batches[1]),
                      Contains("is no longer the line that was read"));
    const Batch formula = batch("=1", 0.01);
    book = file.read();
    CHECK_THROWS_AS(file.change(book.batches[0], &formula), base::InputError);
    rlimit old{};
    getrlimit(RLIMIT_FSIZE, &old);
    signal(SIGXFSZ, SIG_IGN);
    const rlimit small{20, old.rlim_max};
    setrlimit(RLIMIT_FSIZE, &small);
    const Batch better = batch("two", 0.014);
    CHECK_THROWS_AS(file.change(book.batches[0], &better), base::RunError);
    setrlimit(RLIMIT_FSIZE, &old);
    CHECK(file.bytes() == left);
}

TEST_CASE("lines added while others are taken out are not lost", "[inference]") {
    const Scratch file;
    constexpr int each = 25;
    for (int k = 0; k < each; ++k)
        file.add(batch("old" + std::to_string(k), 0.01));
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        int code = 0;
        try {
            for (int k = 0; k < each; ++k)
                file.add(batch("new" + std::to_string(k), 0.01));
        } catch (...) {
            code = 1;
        }
        _exit(code);
    }
    for (int k = 0; k < each; ++k) // the first is always an old one
        file.change(file.read().batches.front());
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    CHECK(status == 0);
    const Notebook book = file.read();
    CHECK(book.warnings.empty());
    REQUIRE(book.batches.size() == each);
    for (const Batch& b : book.batches)
        CHECK_THAT(b.name, Contains("new"));
}

} // namespace test_notebook_replace
