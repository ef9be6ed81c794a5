// SPDX-License-Identifier: MIT
/// What goes in as markup is ours; every text from outside goes through escaped().
#include "output/html_page.hpp"

#include "base/calendar.hpp"
#include "base/text.hpp"
#include "output/best_view.hpp"
#include "output/chart.hpp"
#include "output/drawing.hpp"
#include "output/figure.hpp"

#include <boost/algorithm/string.hpp>

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

constexpr const char* style = R"(
:root { color-scheme: light; --ink: #1a1a1a; --rule: #9aa3b2; --deep: #14213d; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 62rem; padding: .7rem; background: #fff; color: var(--ink);
  font: 1rem/1.4 system-ui, sans-serif; }
h1 { font-size: 1.25rem; line-height: 1.25; margin: 0 0 .3rem; }
h2 { font-size: 1.05rem; color: var(--deep); margin: .9rem 0 .25rem;
  border-bottom: 2px solid var(--deep); }
p, ul, dl, table { margin: .3rem 0; }
ul { padding-left: 1.1rem; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .05rem .8rem; }
dd { margin: 0; font-weight: 600; }
table { border-collapse: collapse; width: 100%; }
th, td { border: 1px solid var(--rule); padding: .2rem .35rem; text-align: left;
  vertical-align: top; }
th { background: #eef1f6; }
td small { display: block; font-size: .85rem; }
code { font: .85rem/1.35 ui-monospace, monospace; overflow-wrap: anywhere; background: #eef1f6;
  display: block; padding: .3rem .4rem; }
code span { display: inline-block; max-width: 100%; white-space: pre-wrap; }
svg { display: block; width: 100%; height: auto; max-width: 34rem; margin: .2rem auto; }
.answer { border: 3px solid var(--deep); padding: .4rem .7rem; margin: .5rem 0; }
.answer h2, .danger h2 { border: 0; margin: 0; }
.best { font-size: 1.35rem; font-weight: 700; line-height: 1.25; margin: .1rem 0; }
.danger { border: 3px solid #9c1006; background: #fff1ef; color: #7d0d05; padding: .4rem .7rem;
  margin: .5rem 0; font-weight: 600; }
.danger h2 { color: inherit; }
.room { display: grid; grid-template-columns: repeat(auto-fit, minmax(9rem, 1fr));
  gap: .3rem .8rem; }
label { display: flex; align-items: baseline; gap: .4rem; white-space: nowrap; }
input { font: inherit; color: inherit; }
input[type=text] { border: 0; border-bottom: 1.5px solid #555; border-radius: 0; width: 100%;
  min-width: 3rem; background: transparent; }
input[type=checkbox] { width: 1.4rem; height: 1.4rem; margin: .1rem; }
td.by { width: 4.5rem; }
summary { cursor: pointer; font-weight: 600; padding: .4rem 0; }
footer { font-size: .85rem; margin-top: .6rem; }
.wide { overflow-x: auto; }
.wide table { min-width: 38rem; }
@media (max-width: 30rem) {
  .days thead { display: none; }
  .days tr { display: grid; grid-template-columns: 2.4rem 1fr 4.5rem;
    border-top: 1px solid var(--rule); }
  .days td { border: 0; }
  .days td:nth-child(1) { grid-row: 1 / 3; }
  .days td:nth-child(2) { grid-column: 2 / 4; font-weight: 600; padding-bottom: 0; }
  .days td:nth-child(3) { grid-column: 2; padding-top: 0; }
  dl { grid-template-columns: minmax(6rem, 38%) 1fr; }
}
@media (min-width: 50rem), print {
  .two { display: grid; grid-template-columns: 1fr 1fr; gap: 0 1.4rem; align-items: start; }
}
@media print {
  @page { margin: 9mm; }
  html { font-size: 7.6pt; }
  body { max-width: none; padding: 0; }
  h2 { margin-top: .6rem; break-after: avoid; }
  tr, svg, .answer, .danger { break-inside: avoid; }
  svg { max-width: 22rem; }
  details { display: none; }
}
)";

using Blocks = std::vector<const Block*>;

/// A part of the page: the blocks of these names, in this order. It is left out where there is
/// none.
struct Part {
    std::string heading, kind; ///< its class
    int column;                ///< of two; 0: over both
    std::vector<std::string> names;
};
const Part parts[] = {
    {"", "", 0, {"batch"}},
    {"Danger", "danger", 0, {"danger"}},
    {"Answer", "answer", 0, {"begin", "best", "as set", "seen", "at", "never", "change"}},
    {"Calendar", "", 1, {"calendar"}},
    {"Recipe", "", 1, {"recipe", "law"}},
    {"Still grey in the middle?", "", 1, {"grey"}},
    {sections_heading, "", 2, {"sections"}},
    {chance_heading, "", 2, {"chance"}},
    {"The ways", "", 0, {"ways", "out", "made"}},
    {"The slice, cut through the middle", "", 0, {"slice"}},
    {"Decided", "", 0, {"decided"}},
    {"Mind this", "", 0, {"warning", "note"}},
    {"The numbers used, and their sources", "folded", 0, {"numbers"}}};

std::string tag(const std::string& name, const std::string& inside) {
    return '<' + name + '>' + inside + "</" + name.substr(0, name.find(' ')) + ">";
}

std::string dated(double seconds, const Block& b) {
    return base::show_moment(base::minute_after(*b.start, seconds));
}

/// What the answer is stands in large letters, as far as its first stop.
std::string paragraph(const Block& b) {
    std::string text = b.text;
    if (b.moment && b.start) {
        const std::string day = kept_day(*b.moment);
        boost::replace_first(text, day, day + " (" + dated(*b.moment, b) + ')');
    }
    if (!b.heading.empty())
        text = capital(boost::to_lower_copy(b.heading)) + ": " + text;
    if (b.name != "best" || (b.heading.empty() && !b.moment))
        return tag("p", escaped(text)) + '\n';
    const std::size_t stop = std::min({text.find("; "), text.find(". "), text.size()});
    return tag("p class=\"best\"", escaped(text.substr(0, stop))) + '\n' +
           (stop < text.size() ? tag("p", escaped(capital(text.substr(stop + 2)))) + '\n' : "");
}

std::string line_to_type(const std::string& line) {
    std::string html; // a flag stays with its value, where both fit
    for (std::size_t from = 0; from < line.size();) {
        const std::size_t to = std::min(line.find(" --", from + 1), line.size());
        html += tag("span", escaped(line.substr(from, to - from)));
        from = to;
    }
    return tag("code", html) + '\n';
}

std::string table(const Block& b, const std::string& label) {
    std::string html = "<section class=\"wide\" tabindex=\"0\" aria-label=\"" + escaped(label) +
                       "\">\n<table>\n<thead><tr>";
    for (const Column& column : b.columns)
        html += tag("th scope=\"col\"", escaped(capital(column.label)));
    html += "</tr></thead>\n<tbody>\n";
    for (const auto& row : b.rows) {
        std::string cells;
        for (const std::string& cell : row)
            cells += tag(cells.empty() ? "th scope=\"row\"" : "td", escaped(cell));
        html += tag("tr", cells) + '\n';
    }
    return html + "</tbody>\n</table>\n</section>\n";
}

std::string calendar(const Block& b) {
    std::string html =
        "<table class=\"days\">\n<thead><tr><th scope=\"col\">Done</th><th scope=\"col\">When</th>"
        "<th scope=\"col\">What</th><th scope=\"col\">Initials</th></tr></thead>\n<tbody>\n";
    for (const CalendarEntry& e : b.entries) {
        const auto hours = std::lround(e.time / 3600);
        const std::string title = escaped(e.title), detail = escaped(e.whole_detail()),
                          when = b.start
                                     ? dated(e.time, b)
                                     : "day " + std::to_string(hours / 24) +
                                           (hours % 24 ? ", " + std::to_string(hours % 24) + " h"
                                                       : "");
        html += "<tr><td><input type=\"checkbox\" aria-label=\"Done: " + title + "\"></td>" +
                tag("td", escaped(when)) +
                tag("td", title + (detail.empty() ? "" : tag("small", detail))) +
                "<td class=\"by\"><input type=\"text\" aria-label=\"Initials: " + title +
                "\"></td></tr>\n";
    }
    return html + "</tbody>\n</table>\n";
}

std::string shown(const Block& b, const std::string& label) {
    std::string html;
    switch (b.form) {
    case Block::Form::command:
        return line_to_type(b.text);
    case Block::Form::table:
        return table(b, label);
    case Block::Form::calendar:
        return calendar(b);
    case Block::Form::drawing:
        return b.text;
    case Block::Form::amounts:
        for (const auto& row : b.rows)
            html += tag("dt", escaped(row[0])) + tag("dd", escaped(row[1])) + '\n';
        return tag("dl", '\n' + html) + '\n';
    case Block::Form::room:
        for (const auto& row : b.rows)
            html += tag("label", escaped(row[0]) + " <input type=\"text\">") + '\n';
        return tag("div class=\"room\"", '\n' + html) + '\n';
    case Block::Form::line:
    case Block::Form::wide:
    case Block::Form::text:
        return paragraph(b);
    case Block::Form::finding:
    case Block::Form::list:
    case Block::Form::map:
        break; // of a list, or of a screen
    }
    return "";
}

std::string shown(const Part& part, const Blocks& blocks) {
    std::string html;
    for (const Block* b : blocks)
        html += part.names.back() == "note" || b->form == Block::Form::finding
                    ? tag("li", escaped((b->name == "warning" ? "WARNING: " : "") + b->text)) + '\n'
                    : shown(*b, part.heading);
    if (html.starts_with("<li>"))
        html = tag("ul", '\n' + html) + '\n';
    if (part.heading.empty())
        return html;
    const Block& first = *blocks.front();
    const std::string of = first.form == Block::Form::drawing ? escaped(first.heading) : "";
    if (part.kind == "folded")
        return tag("details", '\n' + tag("summary", part.heading) + '\n' + html) + '\n';
    return tag("section" + (part.kind.empty() ? "" : " class=\"" + part.kind + '"'),
               '\n' + tag("h2", part.heading + of) + '\n' + html) +
           '\n';
}

} // namespace

std::string page(const Document& document) {
    const auto named = [&](const Part& part) {
        Blocks blocks;
        for (const std::string& name : part.names)
            for (const Block& b : document.blocks)
                if ((b.on & On::page) && b.name == name && !b.gap())
                    blocks.push_back(&b);
        return blocks;
    };
    const Blocks titles = named({"", "", 0, {"title"}});
    const std::string heading = titles.empty() ? "" : capital(titles.front()->text);
    std::string html =
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n" +
        tag("title", escaped(base::shortened(heading, 60))) + "\n<style>" + style +
        "</style>\n</head>\n<body>\n<main>\n" + tag("h1", escaped(heading)) + '\n';
    int column = 0;
    for (const Part& part : parts) {
        const Blocks blocks = named(part);
        if (blocks.empty())
            continue;
        if (part.column != column)
            html += part.column == 0 ? "</div>\n</div>\n"
                    : column == 0    ? "<div class=\"two\">\n<div>\n"
                                     : "</div>\n<div>\n";
        column = part.column;
        html += shown(part, blocks);
    }
    return html + "</main>\n<footer>Made by tidemark " TIDEMARK_VERSION
                  ". It predicts colour and taste; it is no food-safety rule. Keep to your local "
                  "code.</footer>\n</body>\n</html>\n";
}

} // namespace tidemark::output
