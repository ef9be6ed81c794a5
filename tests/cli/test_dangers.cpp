// SPDX-License-Identifier: MIT
/// Every danger in every command and every output. Whether a cure is dangerous is settled by what
/// was weighed and how warm it stands, so no command may know better than another.
///
/// Limits: 200 ppm by immersion, 120 ppm in bacon (fsis1995), 4.4 C (40 F) for a cooler; a fatal
/// dose of 22 mg of nitrite per kg (gras1972); the arithmetic stands beside each.
#include "commands.hpp"

#include <boost/algorithm/string/predicate.hpp>
#include <boost/algorithm/string/replace.hpp>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <regex>

namespace test_dangers {

using namespace tidemark::cli;
using Catch::Contains;
using Json = nlohmann::json;

namespace {

/// What makes a cure dangerous: flags of the brine and the cooler, and the words that must be told.
struct Danger {
    const char* name;
    std::string flags;
    const char* words;
};
const std::vector<Danger> dangers{
    // 450 g of a 6.25 % premix in 5 L and 2 kg: 28.1 g of nitrite over 7.45 kg, 3775 ppm
    {"premix taken for salt", "--water 5L --premix 450g", "was it taken for table salt?"},
    {"far above the limit", "--water 5L --premix 450g", "times the limit"},
    {"above the limit", "--brine-salt 5% --brine-nitrite 500ppm --brine 2L",
     "is above the us limit of 200 ppm"},
    // ten times the premix of a recipe, 300 g of salt beside it
    {"ten times under the eu", "--water 5L --salt 300g --premix 450g --law eu",
     "is above the eu limit of 120 ppm"},
    {"ten times in bacon", "--water 5L --salt 300g --premix 450g --product bacon",
     "is above the us limit of 120 ppm for bacon"},
    {"ten times under codex", "--water 5L --salt 300g --premix 450g --law codex",
     "is more than any code in this program's list lets in"},
    {"a rind under bacon",
     "--brine-salt 5% --brine-nitrite 230ppm --brine 2L --product bacon --rind",
     "is above the us limit of 108 ppm for bacon"},
    {"a home mix", "--brine-salt 5% --brine-nitrite 500ppm --brine 2L --product home",
     "above the us limit of 200 ppm"},
    {"nitrate in a brine", "--water 5L --salt 300g --premix 30g --premix-kind us-no2",
     "the premix holds nitrate"},
    {"nitrate in bacon", "--water 5L --salt 300g --premix 10g --premix-kind us-no2 --product bacon",
     "no nitrate is allowed in bacon"},
    {"a warm cooler", "--brine-salt 5% --brine-nitrite 250ppm --brine 2L --cooler 9C",
     "is warmer than a cure may be kept"},
    {"a limit that was set",
     "--brine-salt 5% --brine-nitrite 500ppm --brine 2L "
     "--set limit.us.cured.immersion.nitrite='9999 ppm'",
     "is above the us limit of 200 ppm"},
    {"a cooler's limit that was set",
     "--brine-salt 5% --brine-nitrite 250ppm --brine 2L --cooler 9C "
     "--set cooler.limit='12 C'",
     "is warmer than a cure may be kept"},
};

/// One space between words, as they stood before they were set in lines.
std::string unwrapped(const std::string& text) {
    return std::regex_replace(text, std::regex("\\s+"), " ");
}

} // namespace

TEST_CASE("every danger is in the first line of every command's screen, and in its JSON", "[cli]") {
    for (const Command& c : commands)
        for (const Danger& d : dangers) {
            // What is dangerous is settled by what was weighed, on whatever cells.
            const std::string coarse = c.name == std::string("brine") ? "" : " --cells 8";
            const std::string words = line(c, d.flags) + coarse;
            CAPTURE(c.name, d.name, words);
            const Ran screen = kitchen().run(words);
            CAPTURE(screen.err);
            CHECK(screen.code == 0);
            const std::string text = unwrapped(screen.out);
            CHECK_THAT(text, Catch::StartsWith("DANGER "));
            // Above everything that is not a danger.
            const std::string head = screen.out.substr(0, screen.out.find("\n\n"));
            CHECK_THAT(unwrapped(head), Contains(d.words));

            const Ran json = kitchen().run(words + " --json");
            REQUIRE(json.code == 0);
            CHECK_THAT(Json::parse(json.out).at("dangers").dump(), Contains(d.words));
        }
}

TEST_CASE("a danger is told before a recipe is refused for want of the meat's weight", "[cli]") {
    const std::string lacks = ": cannot be shared out without knowing how much meat is in it; add "
                              "--weight \"2.5 kg\" (of one piece)";
    for (const Command& c : commands) {
        const bool answers = c.name == std::string("brine"); // without it
        for (const Danger& d :
             {Danger{"premix taken for salt", "--water 5L --premix 450g", "taken for table salt?"},
              // 28.1 g of nitrite in 4.991 kg of water at 20 C, 300 g and 450 g
              Danger{"ten times the premix", "--water 5L --salt 300g --premix 450g",
                     "the brine holds 4900 ppm of nitrite"},
              Danger{"nitrate", "--water 5L --salt 300g --premix 30g --premix-kind us-no2",
                     "the premix holds nitrate"},
              Danger{"warm", "--water 5L --salt 300g --premix 30g --cooler 9C",
                     "is warmer than a cure may be kept"}}) {
            const std::string words = c.words + (c.piece ? " --thickness 50mm " : " ") + d.flags;
            CAPTURE(words);
            Folder& folder = kitchen();
            const std::size_t before = folder.files();
            const Ran ran = folder.run(words);
            CHECK(ran.code == (answers ? 0 : 2));
            CHECK_THAT(ran.out, Catch::StartsWith("DANGER "));
            CHECK_THAT(unwrapped(ran.out), Contains(d.words));
            if (!answers)
                CHECK_THAT(ran.err, Catch::StartsWith("tidemark: --brine: 5.") &&
                                        Catch::EndsWith(lacks + '\n'));
            CHECK(folder.files() == before);
            const Ran json = folder.run(words + " --json");
            CHECK(json.code == ran.code);
            CHECK_THAT(Json::parse(json.out).at("dangers").dump(), Contains(d.words));
        }
        if (!answers) // and without a danger nothing but the line
            refused(kitchen(), c.words + " --thickness 50mm --water 5L --salt 300g --premix 20g",
                    "--brine: 5.31 kg (11 lb 11 oz)" + lacks);
    }
}

TEST_CASE("a cure without a danger has none in any command", "[cli]") {
    // 250 ppm in 2 L around 2 kg: 127 ppm, between the 120 and the 200 of the US
    const std::string none = "--brine-salt 5% --brine-nitrite 250ppm --brine 2L";
    for (const Command& c : commands) {
        CAPTURE(c.name);
        const Ran screen = kitchen().run(line(c, none));
        CHECK(screen.code == 0);
        CHECK_THAT(screen.out, !Contains("DANGER"));
        CHECK(Json::parse(kitchen().run(line(c, none) + " --json").out).at("dangers").empty());
    }
}

TEST_CASE("a limit set by the user is marked in every command, and by a case file too", "[cli]") {
    const std::string set = "limit.us.cured.immersion.nitrite = 9999 ppm";
    const std::string quiet = "--brine-salt 5% --brine-nitrite 250ppm --brine 2L";
    for (const Command& c : commands) {
        CAPTURE(c.name);
        Folder& folder = kitchen();
        folder.write("set.ini", "set = " + set + "\n");
        for (const std::string& how : {" --set '" + boost::replace_all_copy(set, " = ", "=") + "'",
                                       std::string(" --case set.ini")}) {
            const Ran ran = folder.run(line(c, quiet) + how);
            CAPTURE(how, ran.err);
            CHECK(ran.code == 0);
            CHECK_THAT(unwrapped(ran.out),
                       Contains("limit set by you: limit.us.cured.immersion.nitrite = 9999 ppm, "
                                "where the record has 200 ppm [fsis1995]"));
            CHECK_THAT(Json::parse(kitchen()
                                       .run(line(c, quiet) + " --json --set '" +
                                            boost::replace_all_copy(set, " = ", "=") + "'")
                                       .out)
                           .at("warnings")
                           .dump(),
                       Contains("limit set by you"));
        }
    }
}

TEST_CASE("below the legal least is told alike in every command", "[cli]") {
    // 150 ppm in 2 L around 2 kg: 76 ppm, below the 120 the US asks for (fsis1995)
    const std::string little = "--brine-salt 5% --brine-nitrite 150ppm --brine 2L";
    for (const Command& c : commands) {
        CAPTURE(c.name);
        const bool of_ways = std::string(c.name) == "choose"; // of those not taken only with --more
        CHECK_THAT(unwrapped(kitchen().run(line(c, little) + (of_ways ? " --more" : "")).out),
                   Contains("ingoing nitrite 76") && Contains("is below the 120 ppm the us code"));
    }
}

TEST_CASE("tables, figures and calendars carry the dangers", "[cli]") {
    Folder& folder = kitchen();
    const std::string bad = " --draws 0 --thickness 50mm --weight 2kg --water 5L --premix 450g ";
    const std::string words = "was it taken for table salt?";

    const Ran csv = folder.run("day --csv" + bad);
    REQUIRE(csv.code == 0);
    std::istringstream rows(csv.out);
    std::string row;
    std::getline(rows, row);
    CHECK_THAT(row, Contains(",dangers"));
    int count = 0;
    while (std::getline(rows, row) && ++count)
        CHECK_THAT(row, Contains(words));
    CHECK(count > 10);

    for (const char* command : {"day", "plan --stage 'brine, 4 d'", "choose"}) {
        CAPTURE(command);
        REQUIRE(folder.run(command + bad + "--figure f.svg --sheet f.html").code == 0);
        const std::string svg = contents(folder / "f.svg"), html = contents(folder / "f.html");
        CHECK_THAT(svg, Contains("DANGER: "));
        CHECK_THAT(svg, Contains("the premix is 100 %"));
        CHECK(html.find("<h2>Danger</h2>") < html.find("<h2>Answer</h2>"));
        CHECK_THAT(html, Contains("the premix is 100 %"));
    }

    REQUIRE(folder
                .run("plan --stage 'brine, 12 h' --stage 'brine, 12 h' --stage 'soak, 4 L, 2 h'" +
                     bad + "--start '2026-12-05 18:00' --calendar c.ics")
                .code == 0);
    const std::string ics =
        boost::replace_all_copy(contents(folder / "c.ics"), "\r\n ", ""); // unfolded
    const auto first = ics.find("SUMMARY:");
    CHECK(ics.substr(first, 24) == "SUMMARY:DANGER: read thi");
    // Each thing to do by hand rings, and says it again.
    std::size_t alarms = 0, told = 0;
    for (auto at = ics.find("BEGIN:VEVENT"); at != std::string::npos;
         at = ics.find("BEGIN:VEVENT", at + 1)) {
        const std::string event = ics.substr(at, ics.find("END:VEVENT", at) - at);
        if (event.find("BEGIN:VALARM") != std::string::npos) {
            ++alarms;
            told += event.find("table salt") != std::string::npos;
        }
    }
    CHECK(alarms == 5); // the danger, two times in brine, the soak, the end of it
    CHECK(told == alarms);
}

TEST_CASE("a schedule that leaves the core grey is never called ready", "[cli]") {
    Folder& folder = kitchen();
    const std::string words = "plan --draws 0 --thickness 90mm --weight 2kg --brine-salt 5% "
                              "--brine-nitrite 250ppm --brine 2L --stage 'brine, 1 d' "
                              "--start '2026-12-05 18:00' --calendar c.ics";
    const Ran ran = folder.run(words);
    REQUIRE(ran.code == 0);
    for (const std::string& text : {ran.out, contents(folder / "c.ics")}) {
        CHECK_THAT(text, !Contains("Ready"));
        CHECK_THAT(text, Contains("the core is not cured"));
    }
}

TEST_CASE("a cooler below freezing is refused where it is typed", "[cli]") {
    for (const char* words :
         {"day --thickness 50mm --brine-salt 5% --cooler -1C", "brine --brine-salt 5% --cooler -1C",
          "choose --thickness 50mm --weight 2kg --cooler -1C"}) {
        const Ran ran = kitchen().run(words);
        CAPTURE(words);
        CHECK(ran.code == 2);
        CHECK(ran.out == "");
        CHECK_THAT(ran.err, Catch::StartsWith("tidemark: --cooler: -1C: must be from 0 C to 15 C"));
    }
}

TEST_CASE("weeks at the upper end of the cooler are set against the days to toxin", "[cli]") {
    // graham1997: toxin after 21 days at 4 C, 35 at 3 C, where only cold held it back
    const auto plan = [&](const std::string& stage, const std::string& more) {
        return unwrapped(kitchen()
                             .run("plan --draws 0 --thickness 50mm --weight 2kg --brine-salt 5% " +
                                  more + " --stage '" + stage + "'")
                             .out);
    };
    const std::string nitrite = "--brine-nitrite 250ppm --brine 2L";
    CHECK_THAT(plan("brine, 20 d, at 4 C", nitrite), !Contains("Clostridium"));
    CHECK_THAT(plan("brine, 22 d, at 4 C", nitrite),
               Contains("WARNING 22 days at up to 4 °C (39 °F)") &&
                   Contains("made toxin there in 21 days") && Contains("(Graham 1997; ") &&
                   !Contains("yersinia") && Contains("your local code decides"));
    CHECK_THAT(plan("brine, 22 d, at 4 C", nitrite + " --more"), Contains("yersinia"));
    CHECK_THAT(plan("brine, 60 d, at 2 C", nitrite), !Contains("Clostridium"));
    CHECK_THAT(plan("brine, 22 d, at 4 C", ""),
               Catch::StartsWith("DANGER 22 days at up to 4 °C (39 °F)") &&
                   Contains(" without nitrite"));
    // The times add up over the stages.
    CHECK_THAT(
        unwrapped(kitchen()
                      .run("plan --draws 0 --thickness 50mm --weight 2kg --brine-salt 5% " +
                           nitrite + " --stage 'brine, 11 d, at 4 C' --stage 'rest, 11 d, at 4 C'")
                      .out),
        Contains("Clostridium"));
}

TEST_CASE("a day advised later than the schedule is judged by that day, in every command",
          "[cli]") {
    // Without nitrite at 4 C: what grows cold made toxin there in 21 days where only cold held it
    // back (graham1997, models/safety.ini), a danger from there on, however short the cook's
    // schedule is.
    const Folder folder;
    const std::string piece = "shape = block\nthickness = 90 mm\nwidth = 150 mm\nweight = 4 kg\n";
    folder.write("a.ini", piece + "brine-salt = 3.5 %\nbrine = 8 kg\ncooler = 4 C\n");
    folder.write("b.ini", "shape = block\nthickness = 60 mm\nwidth = 100 mm\nweight = 1 kg\n");
    const auto told = [](const nlohmann::json& object) {
        const std::string all = object["dangers"].dump();
        return all.find("made toxin there in") != std::string::npos;
    };
    const auto answer = [&](const std::string& words) {
        const Ran ran = folder.run(words + " --json");
        CAPTURE(words, ran.err);
        REQUIRE(ran.code == 0);
        return nlohmann::json::parse(ran.out);
    };
    const auto day = answer("day --case a.ini");
    REQUIRE(day["best_day"].get<double>() > 21);
    CHECK(told(day));
    CHECK_FALSE(told(answer("plan --case a.ini --stage 'brine, 4 d' --draws 0")));
    for (const char* stages :
         {"--stage 'brine, 4 d'", "--stage 'brine, 9 d' --stage 'rest, 1 d'"}) {
        const auto plan = answer(std::string("plan --case a.ini ") + stages);
        CAPTURE(stages);
        REQUIRE(plan["best_day"].get<double>() > 21);
        CHECK(told(plan));
    }
    CHECK(told(answer("bucket --case a.ini --with b.ini")));
}

} // namespace test_dangers
