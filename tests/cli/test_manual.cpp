// SPDX-License-Identifier: MIT
/// The manual page, the completion of words and the version: by the shells and the typesetter that
/// read them, where they are installed, and against the help.
#include "run.hpp"

#include <catch2/catch.hpp>

#include <regex>
#include <set>
#include <sstream>

namespace test_manual {

using namespace tidemark::cli;
using Catch::Contains;
using Catch::StartsWith;

namespace {

/// What a line prints when a shell runs it in the folder; `tidemark` is the built program.
Ran shell(const Folder& folder, const std::string& line) {
    const std::string all = "cd '" + std::string(folder / "") +
                            "' && PATH='" TIDEMARK_BINARY_DIR "':$PATH && { " + line +
                            "; } >.out 2>.err </dev/null";
    const int status = std::system(all.c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, contents(folder / ".out"),
            contents(folder / ".err")};
}

bool installed(const Folder& folder, const std::string& program) {
    const bool found = shell(folder, "command -v " + program).code == 0;
    if (!found)
        WARN(program + " is not installed: NOT CHECKED");
    return found;
}

std::set<std::string> commands(const Folder& folder) {
    std::set<std::string> names;
    const std::string help = folder.run("--help").out;
    const std::regex name("\n  tidemark ([a-z]+) ");
    for (std::sregex_iterator it(help.begin(), help.end(), name), end; it != end; ++it)
        names.insert((*it)[1]);
    return names;
}

/// The flags a command's help tells, at the beginning of lines.
std::set<std::string> flags(const Folder& folder, const std::string& command) {
    std::set<std::string> names;
    for (const char* how : {" --help-all", " --help"}) {
        const std::string help = folder.run(command + how).out;
        const std::regex name("\n  --([a-z-]+)");
        for (std::sregex_iterator it(help.begin(), help.end(), name), end; it != end; ++it)
            names.insert((*it)[1]);
    }
    return names;
}

/// What bash makes of a line typed up to its end.
std::string completed(const Folder& folder, const std::string& words) {
    folder.write("complete.sh", "source <(tidemark completion bash)\n"
                                "COMP_WORDS=(" +
                                    words +
                                    ")\n"
                                    "COMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n_tidemark\n"
                                    "echo \"${COMPREPLY[*]}\"\ncomplete -p tidemark\n");
    const Ran ran = shell(folder, "bash complete.sh");
    CHECK(ran.err == "");
    CHECK_THAT(ran.out, Contains("-F _tidemark tidemark\n"));
    return ran.out.substr(0, ran.out.find('\n'));
}

} // namespace

TEST_CASE("bash completes commands, flags, files and names of muscles", "[cli]") {
    const Folder folder;
    if (!installed(folder, "bash"))
        return;
    CHECK(completed(folder, "tidemark buc") == "bucket");
    CHECK(completed(folder, "tidemark day --thick") == "--thickness --thickness-sd");
    CHECK(completed(folder, "tidemark brine --targ") == "--target-salt --target-nitrite");
    CHECK(completed(folder, "tidemark numbers --mus") == "");
    CHECK(completed(folder, "tidemark day --muscle beef-rou") == "beef-round");
    CHECK(completed(folder, "tidemark completion f") == "fish");
    folder.write("loin.ini", "");
    CHECK(completed(folder, "tidemark day --case loi") == "loin.ini");
    const std::string all = ' ' + completed(folder, "tidemark ''") + ' ';
    for (const std::string& command : commands(folder)) {
        CHECK_THAT(all, Contains(' ' + command + ' '));
        const std::string told = ' ' + completed(folder, "tidemark " + command + " --") + ' ';
        for (const std::string& flag : flags(folder, command))
            CHECK_THAT(told, Contains(" --" + flag + ' '));
    }
}

TEST_CASE("zsh and fish read their completions", "[cli]") {
    const Folder folder;
    if (installed(folder, "zsh")) {
        const Ran ran = shell(folder, "tidemark completion zsh >_tidemark && zsh -n _tidemark");
        CHECK(ran.code == 0);
        CHECK(ran.err == "");
    }
    if (installed(folder, "fish")) {
        const Ran ran = shell(folder, "HOME=$PWD fish -c 'tidemark completion fish | source; "
                                      "complete -C \"tidemark day --thickness-\"; "
                                      "complete -C \"tidemark buc\"'");
        CHECK(ran.err == "");
        CHECK_THAT(ran.out, Contains("--thickness-sd\thow sure the thickness is") &&
                                Contains("bucket\tdifferent pieces in one brine"));
    }
}

TEST_CASE("a completion is for a shell it knows", "[cli]") {
    const Folder folder;
    refused(folder, "completion tcsh",
            "tcsh: is no shell it knows; type tidemark completion bash, zsh or fish");
    refused(folder, "completion", "no shell was named; type tidemark completion bash, zsh or fish");
    refused(folder, "manual 7",
            "7: is more than tidemark manual takes; see tidemark manual --help");
}

TEST_CASE("the manual page names every command and every flag, and sets without a warning",
          "[cli]") {
    const Folder folder;
    const std::string page = folder.run("manual").out;
    CHECK_THAT(page, StartsWith(".TH TIDEMARK 1 "));
    int count = 0;
    for (const std::string& command : commands(folder)) {
        CHECK_THAT(page, Contains("\n.B " + command + '\n'));
        for (std::string flag : flags(folder, command)) {
            flag = std::regex_replace(flag, std::regex("-"), "\\-");
            CHECK_THAT(page, Contains("\n.B \\-\\-" + flag + '\n') ||
                                 Contains("\n.B \\-\\-" + flag + " \\fI"));
            ++count;
        }
    }
    CHECK(count > 500);
    folder.write("tidemark.1", page);
    if (installed(folder, "groff")) {
        const Ran ran = shell(folder, "groff -man -ww -z tidemark.1");
        CHECK(ran.code == 0);
        CHECK(ran.err == "");
    }
    if (installed(folder, "man")) {
        const Ran ran = shell(
            folder, "MANROFFSEQ= LC_ALL=C.UTF-8 man --warnings -l -Tutf8 tidemark.1 | col -b");
        CHECK(ran.err == "");
        CHECK_THAT(ran.out, Contains("--needle-spacing LENGTH"));
    }
}

TEST_CASE("the version tells the commit and when the models were weighed", "[cli]") {
    const Folder folder;
    const Ran ran = folder.run("--version");
    CHECK(ran.out == folder.run("-V").out);
    std::istringstream lines(ran.out);
    std::string version, commit, models;
    std::getline(lines, version);
    std::getline(lines, commit);
    std::getline(lines, models);
    CHECK(version == "tidemark " TIDEMARK_VERSION);
    CHECK(std::regex_match(commit, std::regex("commit ([0-9a-f]{12}(\\+changes)?|unknown)")));
    // One that git knows; not the newest, which may come after the build.
    if (commit != "commit unknown")
        CHECK(shell(folder, "git -C '" TIDEMARK_SOURCE_DIR "' cat-file -e " + commit.substr(7, 12))
                  .code == 0);
    // The date in the priors that the weighing copies.
    const std::string priors = contents(TIDEMARK_SOURCE_DIR "/validation/posterior/priors.ini");
    const std::string date = priors.substr(priors.find("\ndate = ") + 8, 10);
    CHECK_THAT(models, StartsWith("models " + date + ','));
}

TEST_CASE("without git the commit is unknown, and an equal file is not written again", "[cli]") {
    const Folder folder;
    const std::string script =
        "cmake -DOUT=v.cpp -DROOT=. -P '" TIDEMARK_SOURCE_DIR "/src/cli/version.cmake'";
    CHECK(shell(folder, script).code == 0);
    CHECK_THAT(contents(folder / "v.cpp"), Contains("built_from = \"unknown\";\n"));
    const auto before = std::filesystem::last_write_time(folder / "v.cpp");
    CHECK(shell(folder, "sleep 0.05; " + script).code == 0);
    CHECK(std::filesystem::last_write_time(folder / "v.cpp") == before);
}

TEST_CASE("what is installed: the program, its manual page, three completions", "[cli]") {
    const Folder folder;
    const Ran ran = shell(folder, "cmake --install '" TIDEMARK_BINARY_DIR "' --prefix there");
    CHECK(ran.code == 0);
    for (const auto& [file, words] :
         {std::pair{"share/man/man1/tidemark.1", "manual"},
          {"share/bash-completion/completions/tidemark", "completion bash"},
          {"share/zsh/site-functions/_tidemark", "completion zsh"},
          {"share/fish/vendor_completions.d/tidemark.fish", "completion fish"}})
        CHECK(contents(folder / (std::string("there/") + file)) == folder.run(words).out);
    CHECK(shell(folder, "there/bin/tidemark --version").out == folder.run("--version").out);
}

} // namespace test_manual
