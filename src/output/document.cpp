// SPDX-License-Identifier: MIT
#include "output/document.hpp"

#include <boost/algorithm/string/case_conv.hpp>

namespace tidemark::output {

Block& Document::add(Block::Form form, const std::string& heading, const std::string& text,
                     const std::string& name) {
    const std::string called = !name.empty()      ? name
                               : !heading.empty() ? boost::algorithm::to_lower_copy(heading)
                               : blocks.empty()   ? ""
                                                  : blocks.back().name;
    blocks.push_back({form, called, on, heading, text});
    blocks.back().start = start;
    return blocks.back();
}

void Document::title(const std::string& text) {
    add(Block::Form::wide, "", text, "title");
    line();
}

void Document::command(const std::string& line) {
    if (!line.empty())
        add(Block::Form::command, "", line);
}

Block& Document::table(const std::string& name, const std::vector<Column>& columns,
                       const Rows& rows) {
    Block& block = add(Block::Form::table, "", "", name);
    block.columns = columns;
    block.rows = rows;
    return block;
}

void Document::map(const cure::Picture& picture, const MapScale& scale, bool large) {
    Block& block = add(Block::Form::map, "", "", "map");
    block.picture = picture;
    block.scale = scale;
    block.large = large;
}

void Document::dangers(const judge::Findings& findings) {
    for (const std::string& text : findings.dangers())
        add(Block::Form::finding, "DANGER", text);
    if (!findings.dangers().empty())
        line();
}

void Document::remarks(const judge::Findings& findings, const std::string& shows) {
    using enum judge::Severity;
    for (const judge::Severity severity : {warning, caution})
        for (const std::string& text : findings.texts(severity))
            add(Block::Form::finding, "WARNING", text);
    const unsigned here = on;
    std::size_t left_out = 0;
    for (const judge::Finding& f : findings.all()) {
        const bool aside = f.severity == note && f.aside && !shows.empty();
        left_out += aside;
        on = aside ? here & On::more : here;
        if (f.severity == note && on != 0)
            paragraph("NOTE", f.text);
    }
    on = here & On::brief;
    if (!shows.empty() && on != 0)
        add(Block::Form::wide, "",
            "--more shows " + shows +
                (left_out == 0
                     ? std::string()
                     : " and " + std::to_string(left_out) + (left_out == 1 ? " note" : " notes")) +
                '.',
            "more");
    on = here;
}

} // namespace tidemark::output
