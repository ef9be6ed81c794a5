// SPDX-License-Identifier: MIT
/// Names, files and surroundings that mean harm or are broken: nothing runs that was not asked for,
/// no file is spoiled, no terminal is commanded, and every answer comes to an end.
#include "notebook.hpp"
#include "run.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <chrono>
#include <vector>

namespace test_hostile {

using namespace tidemark::cli;
using Catch::Contains;
namespace fs = std::filesystem;

namespace {

const std::string program = "'" TIDEMARK_BINARY_DIR "/tidemark' ";
const std::string schedule = "plan --thickness 40mm --brine-salt 6% --brine-nitrite 150ppm --draws "
                             "0 --stage 'brine, 3 d' --stage 'rest, 2 d' --start 2026-12-05 ";
const std::string rule = ": holds a control character, or one that is not UTF-8; write it with "
                         "letters, digits and signs that can be seen";

std::size_t lines(const std::string& text) {
    return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

/// A shell line in the folder, without the program's own redirections.
int shell(const Folder& folder, const std::string& line) {
    const int status = std::system(("cd '" + (folder / "").string() + "' && " + line).c_str());
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

/// A program called gnuplot, found before the true one: `body` in the shell's language.
std::string with_gnuplot(const Folder& folder, const std::string& body) {
    fs::create_directory(folder / "bin");
    folder.write("bin/gnuplot", "#!/bin/sh\n" + body + '\n');
    fs::permissions(folder / "bin/gnuplot", fs::perms::owner_all);
    return "PATH=\"$PWD/bin:$PATH\"";
}

} // namespace

TEST_CASE("a control character in any name or path is refused in one line", "[cli]") {
    const Folder folder;
    const std::string harm = "'x\n!touch harm\n.svg'", shown = "x !touch harm .svg";
    refused(folder, quick + "--figure " + harm, "--figure: " + shown + rule);
    refused(folder, schedule + "--calendar " + harm, "--calendar: " + shown + rule);
    for (const std::string flag : {"case", "outline", "notebook", "batch", "muscle", "law"}) {
        const std::string command =
            flag == "batch" ? "learn --notebook n.csv " + quick.substr(4) : quick;
        refused(folder, command + "--" + flag + ' ' + harm, "--" + flag + ": " + shown + rule);
    }
    refused(folder, "bucket --with " + harm, "--with: " + shown + rule);
    refused(folder, schedule + "--stage 'rest, log a\nb'", "--stage: rest, log a b" + rule);
    // DEL, C1 in UTF-8 and as one byte, a byte that is never UTF-8, an override of direction.
    for (const std::string sign : {"\x7f", "\u009b", "\x9b", "\xff", "\u202e"}) {
        const Ran ran = folder.run(quick + "--figure 'a" + sign + "b.svg'");
        CHECK(ran.code == 2);
        CHECK_THAT(ran.err, !Contains(sign) && Contains(rule));
    }
    folder.write("a.ini", "thickness = 40 mm\nmuscle = pork\x1b[31m-loin\n");
    refused(folder, "day --case a.ini", "a.ini:2: muscle: pork [31m-loin" + rule);
    CHECK(folder.files() == 1);
}

TEST_CASE("a figure's name is a name, whatever a shell or a script would make of it", "[cli]") {
    const Folder folder;
    const std::string name = "it's $(touch harm) `touch harm` \\\"; !touch harm.svg";
    folder.write("name", name);
    const Ran ran = folder.run(quick + "--draws 0 --figure \"$(cat name)\"");
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    CHECK(contents(folder / name).starts_with("<?xml"));
    CHECK(folder.files() == 2);
}

TEST_CASE("what is drawn depends on no settings of the user's and no locale", "[cli]") {
    const Folder folder;
    const std::string drawn = quick + "--draws 0 --figure ";
    REQUIRE(folder.run(drawn + "plain.png").code == 0);
    folder.write(".gnuplot", "system 'touch harm'\nset title 'harm'\n");
    folder.write("gnuplotrc", "set title 'harm'\n");
    const Ran ran =
        folder.run(drawn + "other.png", "HOME=\"$PWD\" XDG_CONFIG_HOME=\"$PWD\" GNUTERM=dumb "
                                        "LC_ALL=xx_YY.UTF-8 LANG=xx_YY.UTF-8");
    CHECK(ran.err == "");
    CHECK(ran.code == 0);
    CHECK(contents(folder / "other.png") == contents(folder / "plain.png"));
    CHECK_FALSE(fs::exists(folder / "harm"));
}

TEST_CASE("a plotting program that fails or stands still costs the figure only", "[cli]") {
    const Folder folder;
    folder.write("a.png", "old");
    const std::string answer = folder.run(quick + "--draws 0").out;
    struct Row {
        std::string body, why;
    };
    const Row row = GENERATE(values<Row>({
        {"cat >/dev/null; echo '<svg>'; exit 1", "gnuplot failed"},
        {"kill -9 $$", "gnuplot failed"},
        {"exit 0", "gnuplot drew nothing"},
        {"echo begun; exec sleep 60", "gnuplot did not come to an end"},
        {"while :; do echo more; sleep 1; done", "gnuplot did not come to an end"},
    }));
    const auto start = std::chrono::steady_clock::now();
    const Ran ran = folder.run(quick + "--draws 0 --figure a.png", with_gnuplot(folder, row.body));
    CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(40));
    CHECK(ran.code == 1);
    CHECK(ran.err == "tidemark: a.png was not drawn: " + row.why +
                         "; name the figure like ham.svg, which needs no gnuplot\n");
    CHECK(ran.out == answer);
    CHECK(contents(folder / "a.png") == "old");
    CHECK(folder.files() == 2); // it and bin
}

TEST_CASE("a schedule's calendar is written even if its figure cannot be drawn", "[cli]") {
    const Folder folder;
    const Ran ran =
        folder.run(schedule + "--calendar a.ics --figure a.png", with_gnuplot(folder, "exit 1"));
    CHECK(ran.code == 1);
    CHECK(lines(ran.err) == 1);
    CHECK_THAT(contents(folder / "a.ics"), Contains("END:VCALENDAR"));
}

TEST_CASE("where the disk is full the old calendar, figure and notebook stay", "[cli]") {
    const Folder folder;
    // So many half kilobytes for each file.
    const auto full = [&](const std::string& words, int blocks = 1) {
        shell(folder, "{ (ulimit -f " + std::to_string(blocks) + "; " + program + words +
                          " 2>.err; echo $? >.code) | cat; } "
                          ">.out");
        return Ran{std::stoi(contents(folder / ".code")), contents(folder / ".out"),
                   contents(folder / ".err")};
    };
    folder.write("a.ics", "old");
    Ran ran = full(schedule + "--calendar a.ics");
    CHECK(ran.code == 1);
    CHECK(ran.err == "tidemark: a.ics: could not be written: File too large\n");
    CHECK_THAT(ran.out, Contains("brine"));
    CHECK(contents(folder / "a.ics") == "old");

    folder.write("a.svg", "old");
    ran = full(quick + "--draws 0 --figure a.svg");
    CHECK(ran.code == 1);
    CHECK(ran.err == "tidemark: a.svg: could not be written: File too large\n");
    CHECK_THAT(ran.out, Contains("cured"));
    CHECK(contents(folder / "a.svg") == "old");

    const std::string learn = "learn --notebook shop.csv " + quick.substr(4) + "--day 3d ";
    REQUIRE(folder.run(learn + "--ring 9mm").code == 0);
    const std::string book = contents(folder / "shop.csv");
    REQUIRE(book.size() < 1024);
    ran = full(learn + "--ring 10mm --batch " + std::string(600, 'x'), 2);
    CHECK(ran.code == 1);
    CHECK(ran.err == "tidemark: shop.csv: could not be written: File too large\n");
    CHECK(contents(folder / "shop.csv") == book);
    CHECK(full("learn --notebook new.csv " + quick.substr(4) + "--day 3d --ring 9mm --batch " +
               std::string(300, 'x'))
              .code == 1);
    CHECK(folder.files() == 3); // no new.csv
}

TEST_CASE("an answer that cannot be written is a failed run; one nobody reads on is none",
          "[cli]") {
    const Folder folder;
    const std::string why = "tidemark: the answer could not be written to standard output: ";
    for (const std::string& words : {quick, std::string("numbers"), std::string("day --help")}) {
        CHECK(shell(folder, program + words + " >/dev/full 2>.err") == 1);
        CHECK(contents(folder / ".err") == why + "No space left on device\n");
        CHECK(shell(folder, program + words + " >&- 2>.err") == 1);
        CHECK(contents(folder / ".err") == why + "Bad file descriptor\n");
        shell(folder, "{ sleep 0.2; " + program + words + " 2>.err; echo $? >.code; } | true");
        CHECK(contents(folder / ".code") == "0\n");
        CHECK(contents(folder / ".err") == "");
    }
}

TEST_CASE("no text of a file commands the terminal", "[cli]") {
    const Folder folder;
    const std::string harm = "a\x1b[2J\x1b]0;b\x07\u009b31m\u202Ec\x7f";
    Line line;
    line.batch = harm;
    folder.write("shop.csv", Line::header + line.text());
    folder.write("s.csv", "part,kind,x [mm],y [mm]\n" + harm + ",fat,0,0\n");
    folder.write("log.csv", "time,temperature [C]\n" + harm + ",3\n");
    folder.write("a.ini", harm + " = 3\n");
    for (const std::string words :
         {"learn --notebook shop.csv", "learn --notebook shop.csv --json",
          "day --outline s.csv --brine-salt 6%", "day --case a.ini", "learn --notebook s.csv",
          "plan --thickness 40mm --brine-salt 6% --stage 'brine, 2 d, log log.csv'"}) {
        const Ran ran = folder.run(words);
        CAPTURE(words, ran.err);
        for (const char* sign : {"\x1b", "\x07", "\x7f", "\u009b", "\u202E"}) {
            CHECK_THAT(ran.out + ran.err, !Contains(sign));
        }
        CHECK((ran.code == 0 || lines(ran.err) == 1));
    }
    CHECK_THAT(folder.run("learn --notebook shop.csv").out, Contains("2026-12-05"));
    refused(folder, quick + "--notebook 'no\x1b[2J.csv'", "--notebook: no [2J.csv" + rule);
}

TEST_CASE("files without an end, or far too long, are refused at once", "[cli]") {
    const Folder folder;
    REQUIRE(shell(folder, "mkfifo pipe && truncate -s 1G big && yes '# a comment' | head -n 200000 "
                          ">long && yes 'thickness = 40 mm' | head -n 200000 >same && "
                          "yes '' | head -n 15000 >blank") == 0);
    const std::string brine = " --brine-salt 6%";
    for (const std::string& file :
         {std::string("pipe"), std::string("/dev/zero"), std::string("/dev/urandom"),
          std::string("."), std::string("big"), std::string("long"), std::string("same"),
          std::string("blank")}) {
        for (const std::string& words :
             {"day --case " + file, "day --outline " + file + brine,
              "bucket --thickness 40mm --weight 1kg --brine 5L --with " + file + brine,
              "plan --thickness 40mm --stage 'brine, 2 d, log " + file + "'" + brine,
              "learn --notebook " + file, quick + "--notebook " + file,
              "learn --day 3d --ring 9mm --notebook " + file + ' ' + quick.substr(4)}) {
            CAPTURE(words);
            const auto start = std::chrono::steady_clock::now();
            const Ran ran = folder.run(words);
            CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(5));
            CHECK(ran.code == 2);
            CHECK(ran.out == "");
            CHECK(lines(ran.err) == 1);
            CHECK(ran.err.size() < 400);
        }
    }
    refused(folder, "day --case pipe", "--case: pipe: is not an ordinary file; name a file");
    refused(folder, "day --case long",
            "--case: long: is larger than 16 kB; is it the right file? if so, keep the part that "
            "counts");
}

TEST_CASE("a name with signs of HTML, gnuplot, a shell and calendars is only a name", "[cli]") {
    const Folder folder;
    const std::string name = "<img src=x onerror=alert(1)>'\"; !touch harm; `touch harm`, $(touch "
                             "harm) \\nBEGIN:VEVENT {a}@b_c^d.ini";
    folder.write(name, "thickness = 40 mm\nweight = 1 kg\nbrine = 5 L\nbrine-salt = 6 %\n");
    folder.write("name", name);
    const Ran ran = folder.run("day --draws 0 --start 2026-12-05 --case \"$(cat name)\" --sheet "
                               "a.html --calendar a.ics --figure a.png");
    CHECK(ran.err == "");
    CHECK(ran.code == 0);
    CHECK(folder.files() == 5); // the two written, three answers, and no harm
    const std::string sheet = contents(folder / "a.html"), dates = contents(folder / "a.ics");
    CHECK_THAT(sheet, !Contains("<img"));
    CHECK_THAT(sheet, Contains("&lt;img src=x")); // in the line to type
    CHECK_THAT(contents(folder / "a.png"), Catch::StartsWith("\x89PNG"));
    const auto events = [&dates](const std::string& what) {
        std::size_t count = 0;
        for (auto at = dates.find(what); at != std::string::npos; at = dates.find(what, at + 1))
            ++count;
        return count;
    };
    CHECK(events("\r\nBEGIN:VEVENT\r\n") > 0);
    CHECK(events("BEGIN:VEVENT") == events("\r\nBEGIN:VEVENT\r\n")); // none of the name's
}

TEST_CASE("a figure on standard output fails as the screen does", "[cli]") {
    const Folder folder;
    const std::string words = quick + "--draws 0 --figure -";
    CHECK(shell(folder, program + words + " >/dev/full 2>.err") == 1);
    CHECK(contents(folder / ".err") ==
          "tidemark: standard output: could not be written: No space left on device\n");
    shell(folder, "{ sleep 0.2; " + program + words + " 2>.err; echo $? >.code; } | true");
    CHECK(contents(folder / ".code") == "0\n");
    CHECK(contents(folder / ".err") == "");
}

} // namespace test_hostile
