// SPDX-License-Identifier: MIT
#include "output/html_page.hpp"

#include <algorithm>

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

} // namespace

HtmlPage::HtmlPage(const std::string& title, const std::string& heading) {
    html_ = "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
            "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>" +
            escaped(title) + "</title>\n<style>" + style +
            "</style>\n</head>\n<body>\n<main>\n<h1>" + escaped(heading) + "</h1>\n";
}

HtmlPage& HtmlPage::open(const std::string& heading, const std::string& kind) {
    return markup("<section" + (kind.empty() ? "" : " class=\"" + kind + '"') + ">\n<h2>" +
                  escaped(heading) + "</h2>\n");
}

HtmlPage& HtmlPage::p(const std::string& text, const std::string& kind) {
    return text.empty() ? *this
                        : markup("<p" + (kind.empty() ? "" : " class=\"" + kind + '"') + '>' +
                                 escaped(text) + "</p>\n");
}

HtmlPage& HtmlPage::line_to_type(const std::string& say, const std::string& line) {
    if (line.empty())
        return *this;
    std::string parts; // a flag stays with its value, where both fit
    for (std::size_t from = 0; from < line.size();) {
        const std::size_t to = std::min(line.find(" --", from + 1), line.size());
        parts += "<span>" + escaped(line.substr(from, to - from)) + "</span>";
        from = to;
    }
    return p(say).markup("<code>" + parts + "</code>\n");
}

HtmlPage& HtmlPage::list(const std::vector<std::string>& items) {
    markup("<ul>\n");
    for (const std::string& item : items)
        markup("<li>" + escaped(item) + "</li>\n");
    return markup("</ul>\n");
}

HtmlPage& HtmlPage::fields(const std::vector<std::string>& names) {
    markup("<div class=\"room\">\n");
    for (const std::string& name : names)
        markup("<label>" + escaped(name) + " <input type=\"text\"></label>\n");
    return markup("</div>\n");
}

void HtmlPage::dangers(const judge::Findings& findings) {
    if (!findings.dangers().empty())
        open("Danger", "danger").list(findings.dangers()).close();
}

void HtmlPage::cautions(const judge::Findings& findings) {
    using enum judge::Severity;
    std::vector<std::string> all;
    for (const judge::Severity severity : {warning, caution, note})
        for (const judge::Finding& f : findings.all())
            if (f.severity == severity && !f.aside) // the screen has those with --more
                all.push_back((severity == note ? "" : "WARNING: ") + f.text);
    if (!all.empty())
        open("Mind this").list(all).close();
}

std::string HtmlPage::done() const {
    return html_ + "</main>\n<footer>Made by tidemark " TIDEMARK_VERSION
                   ". It predicts colour and taste; it is no food-safety rule. Keep to your local "
                   "code.</footer>\n</body>\n</html>\n";
}

} // namespace tidemark::output
