// SPDX-License-Identifier: MIT
/// The batch sheet as far as a program can judge it: what stands on it, well-formed, and nothing in
/// it but text whatever the texts say. That it can be read and prints on a page was judged by eye.
#include "output/sheet.hpp"

#include "output/html_page.hpp"

#include "sample.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

namespace sheet_test {

using namespace tidemark;
using Catch::Contains;

namespace {

std::string sheet(const inference::Answer& answer, const output::Lines& lines) {
    output::Document document = output::view(answer, {}, lines);
    output::add_sheet(document, answer, {{output::sample_picture()}}, lines,
                      base::Records::built_in());
    return output::page(document);
}

/// The first tag that is not closed as it should be; empty: there is none.
std::string unbalanced(const std::string& html) {
    static const std::vector<std::string> alone = {"meta", "input", "!DOCTYPE"};
    std::vector<std::string> open;
    for (std::size_t at = html.find('<'); at != std::string::npos; at = html.find('<', at + 1)) {
        const std::size_t end = html.find('>', at);
        const std::string tag = html.substr(at + 1, end - at - 1);
        const bool closing = tag.starts_with('/');
        const std::string name = tag.substr(closing, tag.find_first_of(" /\n", closing) - closing);
        if (closing) {
            if (open.empty() || open.back() != name)
                return tag;
            open.pop_back();
        } else if (!tag.ends_with('/') && std::ranges::count(alone, name) == 0) {
            open.push_back(name);
        }
    }
    return open.empty() ? "" : open.back();
}

} // namespace

TEST_CASE("the sheet says the answer first, then what to do, and leaves room to write",
          "[output]") {
    cure::Outcome o = output::sample_prediction();
    o.question.start = std::chrono::local_days{std::chrono::year{2026} / 12 / 5};
    const inference::Answer answer = output::sample_answer(o, output::sample_ranges());
    const std::string html = sheet(answer, {"", "tidemark why ...", "tidemark learn ..."});
    CHECK(unbalanced(html).empty());
    std::size_t at = 0; // in this order
    for (const char* text :
         {"<html lang=\"en\">", "<h1>Invented block of pork loin</h1>", "<h2>Answer</h2>",
          "Best: day 12 (Thu 17 Dec 2026 00:00): 93 in 100 pieces like this are then right<",
          "4 are still grey in the middle, 2 too salty, 1 not salty enough. From day 11 to 13 at "
          "least 90 are.",
          "<h2>Calendar</h2>", "aria-label=\"Done: Take it out of the brine\"", "<h2>Recipe</h2>",
          "<h2>Still grey in the middle?</h2>", "tidemark why ...",
          "<title>How far the cure has come", "<title>The chance of each day",
          "<h2>The slice, cut through the middle</h2>", "tidemark learn ...", "<h2>Mind this</h2>",
          "an invented caution", "<summary>", "muscle.pork-loin.diffusivity"}) {
        const std::size_t found = html.find(text, at);
        CAPTURE(text);
        REQUIRE(found != std::string::npos);
        at = found;
    }
    CHECK_THAT(html, !Contains("<script") && !Contains("src=") && !Contains("@import"));
}

TEST_CASE("whatever the texts say, the sheet shows them and does not obey", "[output]") {
    const std::string harm = "</h1><script>alert(1)</script><img src=x onerror='a'> \" & \u202e";
    cure::Outcome o = output::sample_prediction();
    o.title = harm;
    o.findings.danger("harm", harm + " danger");
    o.findings.warn("harm", harm + " warning");
    o.first().never = harm;
    o.parameters.front().source = harm;
    o.parameters.front().key = harm;
    inference::Ranges ranges = output::sample_ranges();
    inference::Changes changes;
    changes.best = inference::Change{harm, {}, output::day, 0.95, {}, true};
    for (const bool drawn : {true, false}) {
        inference::Answer answer = output::sample_answer(o, {}, changes);
        if (drawn)
            answer.ranges = ranges;
        const std::string html = sheet(answer, {harm, harm, harm, harm});
        CHECK(unbalanced(html).empty());
        CHECK_THAT(html, !Contains("<script") && !Contains("<img") && !Contains("\u202e"));
        CHECK_THAT(html, Contains("&lt;script&gt;alert(1)&lt;/script&gt;&lt;img src=x "
                                  "onerror=&#39;a&#39;&gt; &quot; &amp;"));
    }
}

} // namespace sheet_test
