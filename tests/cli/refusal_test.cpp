// SPDX-License-Identifier: MIT
/// Bad input: exit 2, nothing on standard output, no file, and one line word for word.
#include "run.hpp"

#include <catch2/catch.hpp>

namespace refusal_test {

using namespace tidemark::cli;

TEST_CASE("a value that no kitchen sees is refused with its range", "[cli]") {
    const Folder folder;
    const std::string thick = "must be from 2 mm to 600 mm; measure the piece where it is thickest";
    refused(folder, "day --thickness 3m", "--thickness: 3m: " + thick);
    refused(folder, "day --thickness 0mm", "--thickness: 0mm: " + thick);
    refused(folder, "day --thickness -65mm", "--thickness: -65mm: " + thick);
    refused(folder, quick + "--cooler 400C",
            "--cooler: 400C: must be from 0 C to 15 C; meat must be kept cold: give the cooler's "
            "temperature");
    refused(
        folder, "day --thickness 65mm --brine-salt 60%",
        "--brine-salt: 60%: must be from 0 % to 26 %; no cold brine holds more: check the number");
    refused(folder, quick + "--at 0d",
            "--at: 0d: must be from 1 min to 1000 d; check the number and its unit");
    refused(folder, quick + "--draws 2000000",
            "--draws: 2000000: must be from 0 to 1000000; 4096 is enough; 0 leaves the range out");
    refused(folder, quick + "--draws 1.5", "--draws: 1.5: is not a whole number; round it");
    refused(folder, quick + "--cooler-sd 9C",
            "--cooler-sd: 9C: must be from 0 C to 5 C; give what two thermometers differ by");
    refused(folder, quick + "--thickness-sd 70mm",
            "--thickness-sd: 70mm: must be from 0 mm to 50 mm; give what two measurements differ "
            "by");
    refused(folder, quick + "--pieces 1.5", "--pieces: 1.5: is not a whole number; round it");
    refused(folder, quick + "--premix-nitrite 100%",
            "--premix-nitrite: 100%: must be from 0.1 % to 10 %; read the label of the premix; do "
            "not weigh out pure nitrite at home");
}

TEST_CASE("a value that is no number, or has no unit or a wrong one, is refused", "[cli]") {
    const Folder folder;
    const std::string length = "write it as 65 mm or 2.5 in";
    refused(folder, "day --thickness nan", "--thickness: nan: is not a finite number; " + length);
    refused(folder, "day --thickness infmm",
            "--thickness: infmm: is not a finite number; " + length);
    refused(folder, "day --thickness 65", "--thickness: 65: has no unit; " + length);
    refused(folder, "day --thickness 65kg",
            "--thickness: 65kg: is a mass, not a length; " + length);
    refused(folder, "day --thickness '65 mmm'",
            "--thickness: 65 mmm: has an unknown unit \"mmm\"; did you mean mm?");
    refused(folder, "day --thickness ''", "--thickness: is empty; " + length);
    refused(folder, quick + "--loss 9kg",
            "--loss: 9kg: is a mass, not a duration or a rate; write "
            "it as 5 d or 36 h or 1e-6 1/s or 0.08 1/d");
}

TEST_CASE("a misspelt flag, name or command is met with the nearest one", "[cli]") {
    const Folder folder;
    refused(folder, "day --thicknes 65mm", "--thicknes: is not a flag; did you mean --thickness?");
    refused(folder, "day --muscel=pork-loin", "--muscel: is not a flag; did you mean --muscle?");
    refused(folder, quick + "-x", "-x: is not a flag; see tidemark day --help");
    refused(folder, quick + "--muscle pork-lion",
            "--muscle: pork-lion: is not a muscle or cut in the tables; did you mean pork-loin?");
    refused(folder, quick + "--shape rond",
            "--shape: rond: is not a known name; did you mean round?");
    refused(folder, quick + "--seal top,botom",
            "--seal: top,botom: is not a known name; did you mean bottom?");
    refused(folder, quick + "--set diffusion.fiber-ratio=1.1",
            "--set: diffusion.fiber-ratio: is not a known value; did you mean "
            "diffusion.fibre-ratio?");
    refused(folder, "days", "days: is not a command; did you mean day?");
    refused(folder, "", "no command was given; see tidemark --help");
    refused(folder, "numbers picnic",
            "numbers: picnic: is not the head of any key; did you mean muscle.pork-shoulder?");
    refused(
        folder, "numbers muscle.pork-lion",
        "numbers: muscle.pork-lion: is not the head of any key; did you mean muscle.pork-loin?");
}

TEST_CASE("words that belong to no flag, flags without a value and flags given twice are refused",
          "[cli]") {
    const Folder folder;
    refused(folder, "day loin --thickness 65mm",
            "loin: is a stray word; write a flag and its value, with quotes around a value that "
            "holds spaces: --thickness \"65 mm\"");
    refused(folder, quick + "--muscle pork loin",
            "loin: is a stray word; write a flag and its value, with quotes around a value that "
            "holds spaces: --thickness \"65 mm\"");
    refused(folder, "day --thickness", "--thickness: has no value; see tidemark day --help");
    refused(folder, "day --thickness --brine-salt 6%",
            "--thickness: has no value; see tidemark day --help");
    refused(folder, "day --thickness=", "--thickness: has no value; see tidemark day --help");
    refused(folder, quick + "--json=yes", "--json: takes no value; see tidemark day --help");
    refused(folder, "day --thickness 65mm --thickness 66mm",
            "--thickness: 66mm: is given twice; keep one");
    refused(folder, quick + "--json --csv", "--csv: does not go with --json; ask for one of them");
    refused(folder, quick + "--set x",
            "--set: x: is not of the form KEY=VALUE; see tidemark "
            "numbers for the keys");
}

TEST_CASE("a piece or a brine that is not described is asked for", "[cli]") {
    const Folder folder;
    refused(folder, "day --brine-salt 6%",
            "--thickness: is missing; give it as --thickness \"65 mm\"");
    refused(folder, "day --thickness 65mm",
            "--brine-salt: is missing; give --brine-salt \"6 %\", or a recipe: --water \"6 L\" "
            "--salt \"400 g\"; for a rub or a bag ask tidemark plan, or brine --way bag");
    refused(folder, "day --thickness 65mm --salt 400g",
            "--water: is missing from the recipe; give it as --water \"6 L\"");
    refused(folder, quick + "--shape outline",
            "--shape: outline: needs the outline; give "
            "--outline FILE");
}

TEST_CASE("a case file that cannot be used is refused with its line", "[cli]") {
    const Folder folder;
    const auto with = [&](const std::string& text, const std::string& message) {
        folder.write("a.ini", text);
        refused(folder, "day --case a.ini", message);
    };
    with("", "--case: a.ini: is empty; name another file, or fill this one");
    with(std::string("thick\0ness", 10),
         "--case: a.ini: holds NUL bytes; save it as plain UTF-8 text");
    with("\xff\xfe", "--case: a.ini: is not UTF-8; save it as plain UTF-8 text");
    with("# a loin\nthicknes = 65 mm\n",
         "a.ini:2: thicknes: is not a name a case file may hold; did you mean thickness?");
    with("thickness = 65 mm\n\nbrine-salt = 6\n",
         "a.ini:3: brine-salt: 6: has no unit; write it as 2.5 % or 25 g/kg");
    with("thickness = 65 mm\nthickness = 60 mm\n", "a.ini:2: thickness: is given twice; keep one");
    with("thickness 65 mm\n", "a.ini:1: thickness 65 mm: is not of the form name = value; begin "
                              "comments with #");
    with("[piece]\n",
         "a.ini:1: [piece]: is a heading, and a case file has none; take the line out");
    with("case = b.ini\n", "a.ini:1: case: cannot stand in a case file; take the line out");
    with("frozen = maybe\nthickness = 65 mm\n",
         "a.ini:1: frozen: maybe: is neither yes nor no; write yes or no");
    refused(folder, "day --case none.ini", "--case: none.ini: cannot be read; no such file");
}

TEST_CASE("a section that makes no sense is refused", "[cli]") {
    const Folder folder;
    const std::string brine = " --brine-salt 6%";
    const auto outline = [&](const std::string& rows) {
        folder.write("s.csv", "part,kind,x [mm],y [mm]\n" + rows);
        const std::size_t before = folder.files();
        const Ran ran = folder.run("day --outline s.csv" + brine);
        CAPTURE(rows, ran.err);
        CHECK(ran.code == 2);
        CHECK(ran.out == "");
        CHECK(std::count(ran.err.begin(), ran.err.end(), '\n') == 1);
        CHECK(folder.files() == before);
        return ran.err;
    };
    const std::string square = "o,outline,0,0\no,outline,60,0\no,outline,60,60\no,outline,0,60\n";
    using Catch::Contains;
    CHECK_THAT(outline("o,outline,0,0\no,outline,60,60\no,outline,60,0\no,outline,0,60\n"),
               Contains("crosses or touches itself"));
    CHECK_THAT(outline(square + "b,bone,50,50\nb,bone,90,50\nb,bone,90,90\nb,bone,50,90\n"),
               Contains("outside"));
    CHECK_THAT(outline(square + "b,bone,0,0\nb,bone,60,0\nb,bone,60,60\nb,bone,0,60\n"),
               Contains("bone"));
    CHECK_THAT(outline(square + "s,sealed,-9,-9\ns,sealed,90,-9\ns,sealed,90,90\ns,sealed,-9,90\n"),
               Contains("wet"));
    refused(folder, quick + "--seal top,bottom",
            "--seal: top, bottom: leaves no wet face, so nothing can enter; leave one face wet");
}

TEST_CASE("more cells than can be solved are refused with the number that would fit", "[cli]") {
    const Folder folder;
    const std::string loin =
        "day --thickness 80mm --width 140mm --shape loin --brine-salt 6% --draws "
        "0 --cells ";
    refused(folder, loin + "400",
            "--cells: 400: makes some 1100000 cells of this section, too many to be solved; 295 "
            "would fit; give at most 295, or a narrower width");
    CHECK(folder
              .run("day --thickness 2mm --width 2m --shape block --brine-salt 6% --draws 0 --cells "
                   "11")
              .code == 0); // what such a refusal says would fit
}

TEST_CASE("a place that cannot be written to is refused before any work", "[cli]") {
    const Folder folder;
    refused(folder, quick + "--figure none/a.svg",
            "--figure: none/a.svg: is in a folder that does not exist; name a file that can be "
            "written");
    refused(folder, quick + "--figure a.gif",
            "--figure: a.gif: does not end in .svg, .png or "
            ".pdf; name the figure like ham.svg");
}

} // namespace refusal_test
