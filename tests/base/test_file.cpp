// SPDX-License-Identifier: MIT
/// Reading and writing whole files, in a folder of its own that is taken away again.
#include "base/file.hpp"

#include "base/error.hpp"

#include <catch2/catch.hpp>

#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <iterator>

using namespace tidemark::base;
namespace fs = std::filesystem;

namespace {

constexpr std::size_t most = 64 * kilobyte;

class Folder {
public:
    Folder() { fs::create_directories(path_); }
    ~Folder() { fs::remove_all(path_); }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;

    std::string path(const std::string& name) const { return (path_ / name).string(); }
    std::string with(const std::string& name, const std::string& bytes) const {
        std::ofstream(path(name), std::ios::binary) << bytes;
        return path(name);
    }
    /// The names of what is in it.
    std::vector<std::string> names() const {
        std::vector<std::string> list;
        for (const auto& entry : fs::directory_iterator(path_)) {
            list.push_back(entry.path().filename().string());
        }
        return list;
    }

private:
    fs::path path_ = fs::path(TIDEMARK_BINARY_DIR) / ("test-base-" + std::to_string(getpid()));
};

std::string bytes_of(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

} // namespace

TEST_CASE("a text is read without byte-order mark and carriage returns", "[base]") {
    const Folder folder;
    CHECK(read_text(folder.with("a", "\xEF\xBB\xBF"
                                     "one\r\ntwo\rthree ½\n"),
                    "--case", most) == "one\ntwo\nthree ½\n");
}

TEST_CASE("a file that is not a text is refused, naming it and the flag", "[base]") {
    using namespace std::string_literals;
    const Folder folder;
    struct Row {
        std::string bytes;
        std::string rule;
    };
    const Row row = GENERATE(values<Row>({
        {"", "is empty; name another file, or fill this one"},
        {" \n\t\r\n", "is empty; name another file, or fill this one"},
        {"\xEF\xBB\xBF", "is empty; name another file, or fill this one"},
        {"a\0b"s, "holds NUL bytes; save it as plain UTF-8 text"},
        {"a\xE9t\xE9", "is not UTF-8; save it as plain UTF-8 text"},       // Latin-1
        {"ok \xC3", "is not UTF-8; save it as plain UTF-8 text"},          // cut short
        {"\xC0\xAF", "is not UTF-8; save it as plain UTF-8 text"},         // overlong
        {"\xED\xA0\x80", "is not UTF-8; save it as plain UTF-8 text"},     // surrogate
        {"\xF4\x90\x80\x80", "is not UTF-8; save it as plain UTF-8 text"}, // above U+10FFFF
    }));
    const std::string path = folder.with("bad", row.bytes);
    CHECK_THROWS_AS(read_text(path, "--case", most), InputError);
    CHECK_THROWS_WITH(read_text(path, "--case", most), "--case: " + path + ": " + row.rule);
}

TEST_CASE("a missing file and a folder are told apart", "[base]") {
    const Folder folder;
    const std::string missing = folder.path("none");
    CHECK_THROWS_WITH(read_text(missing, "--case", most),
                      "--case: " + missing + ": cannot be read; no such file");
    const std::string itself = folder.path("");
    CHECK_THROWS_WITH(read_text(itself, "--case", most),
                      "--case: " + itself + ": is a folder; name a file");
}

TEST_CASE("whether a file can be written is known before any work", "[base]") {
    const Folder folder;
    const std::string old = folder.with("old.csv", "kept");
    CHECK_NOTHROW(check_writable(folder.path("new.csv"), "--csv"));
    CHECK_NOTHROW(check_writable(old, "--csv"));
    CHECK(bytes_of(old) == "kept");
    CHECK(folder.names() == std::vector<std::string>{"old.csv"});

    const std::string remedy = "; name a file that can be written";
    CHECK_THROWS_WITH(check_writable("", "--csv"), "--csv: names no file; give a file name");
    const std::string lost = folder.path("nowhere/new.csv");
    CHECK_THROWS_WITH(check_writable(lost, "--csv"),
                      "--csv: " + lost + ": is in a folder that does not exist" + remedy);
    CHECK_THROWS_WITH(check_writable(old + "/new.csv", "--csv"),
                      "--csv: " + old + "/new.csv: is in a folder that does not exist" + remedy);
    fs::create_directory(folder.path("sub"));
    CHECK_THROWS_WITH(check_writable(folder.path("sub"), "--csv"),
                      "--csv: " + folder.path("sub") + ": is a folder" + remedy);
    CHECK_THROWS_WITH(check_writable("/dev/null", "--csv"),
                      "--csv: /dev/null: is not an ordinary file" + remedy);
}

TEST_CASE("a write-protected file or folder is refused", "[base]") {
    if (geteuid() == 0) {
        WARN("not tested: nothing is write-protected for the superuser");
        return;
    }
    const Folder folder;
    const std::string file = folder.with("old.csv", "kept");
    fs::permissions(file, fs::perms::owner_read);
    CHECK_THROWS_WITH(check_writable(file, "--csv"), Catch::Contains("is write-protected"));
    fs::create_directory(folder.path("sub"));
    fs::permissions(folder.path("sub"), fs::perms::owner_read | fs::perms::owner_exec);
    CHECK_THROWS_WITH(check_writable(folder.path("sub/a"), "--csv"),
                      Catch::Contains("is in a folder that cannot be written to"));
}

TEST_CASE("a file appears whole, in place of the old one", "[base]") {
    const Folder folder;
    const std::string path = folder.with("plot.svg", "old");
    write_file(path, "new");
    CHECK(bytes_of(path) == "new");
    CHECK(folder.names() == std::vector<std::string>{"plot.svg"});
}

TEST_CASE("a link stays a link when the file behind it is replaced", "[base]") {
    const Folder folder;
    const std::string target = folder.with("real.csv", "old");
    fs::create_symlink(target, folder.path("link.csv"));
    write_file(folder.path("link.csv"), "new");
    CHECK(fs::is_symlink(folder.path("link.csv")));
    CHECK(bytes_of(target) == "new");
}

TEST_CASE("where no more fits on the disk, the old file stays and nothing else is left", "[base]") {
    const Folder folder;
    const std::string path = folder.with("a.csv", "old");
    rlimit before{};
    getrlimit(RLIMIT_FSIZE, &before);
    signal(SIGXFSZ, SIG_IGN);
    const rlimit small{1000, before.rlim_max};
    setrlimit(RLIMIT_FSIZE, &small);
    std::string said;
    try {
        write_file(path, std::string(5000, 'x'));
    } catch (const RunError& error) {
        said = error.what();
    }
    setrlimit(RLIMIT_FSIZE, &before);
    CHECK(said == path + ": could not be written: File too large");
    CHECK(bytes_of(path) == "old");
    CHECK(folder.names() == std::vector<std::string>{"a.csv"});
}

TEST_CASE("a file that cannot be put in place is a failed run and leaves nothing", "[base]") {
    const Folder folder;
    CHECK_THROWS_WITH(write_file("/dev/null", "new"), "/dev/null: is not an ordinary file");
    CHECK_THROWS_AS(write_file(folder.path(std::string(300, 'x')), "new"), RunError);
    CHECK(folder.names().empty());
}

TEST_CASE("reading comes to an end, whatever the file is", "[base]") {
    const Folder folder;
    const std::string pipe = folder.path("pipe");
    REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
    for (const std::string& path : {pipe, std::string("/dev/zero"), std::string("/dev/tty")}) {
        if (fs::exists(path)) { // opened without waiting for a writer
            CHECK_THROWS_WITH(read_text(path, "--case", most),
                              Catch::Contains("is not an ordinary file; name a file") ||
                                  Catch::Contains("cannot be read"));
        }
    }
    const std::string large = "is larger than 64 kB; is it the right file? if so, keep the part "
                              "that counts";
    const std::string path = folder.with("long", std::string(most, 'x'));
    CHECK(read_text(path, "--case", most).size() == most);
    CHECK_THROWS_WITH(read_text(folder.with("long", std::string(most + 1, 'x')), "--case", most),
                      "--case: " + path + ": " + large);
    const std::string gap = folder.with("gap", "x"); // told by its length, not read
    fs::resize_file(gap, 1'000'000'000'000);
    CHECK_THROWS_WITH(read_bytes(gap, "--case", most), "--case: " + gap + ": " + large);
}

TEST_CASE("a name with a control character is refused wherever a file is named", "[base]") {
    const std::string rule = ": holds a control character, or one that is not UTF-8; write it with "
                             "letters, digits and signs that can be seen";
    CHECK_THROWS_WITH(read_bytes("a\nb", "--case", most), "--case: a b" + rule);
    CHECK_THROWS_WITH(check_writable("a\x1b[31m.svg", "--figure"), "--figure: a [31m.svg" + rule);
}
