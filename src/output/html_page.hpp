// SPDX-License-Identifier: MIT
/// A page of HTML that needs nothing else: its style is in it, there are no scripts, it prints on
/// A4 and Letter, and a screen reader finds its headings, tables and fields named.
#pragma once

#include "judge/finding.hpp"
#include "output/drawing.hpp"

#include <string>
#include <vector>

namespace tidemark::output {

/// Grows from top to bottom. Text is escaped here; only markup() takes what is HTML already.
class HtmlPage {
public:
    HtmlPage(const std::string& title, const std::string& heading);
    HtmlPage& markup(const std::string& html) {
        html_ += html;
        return *this;
    }
    /// A section with its heading; `kind` is its class.
    HtmlPage& open(const std::string& heading, const std::string& kind = "");
    HtmlPage& close() { return markup("</section>\n"); }
    HtmlPage& p(const std::string& text, const std::string& kind = "");
    /// What a line to type does, and the line; nothing where there is no line.
    HtmlPage& line_to_type(const std::string& say, const std::string& line);
    HtmlPage& list(const std::vector<std::string>& items);
    /// Room to write, with a name for each.
    HtmlPage& fields(const std::vector<std::string>& names);
    void dangers(const judge::Findings& findings);
    /// Warnings, cautions, and notes but for what the model leaves out.
    void cautions(const judge::Findings& findings);
    std::string done() const;

private:
    std::string html_;
};

} // namespace tidemark::output
