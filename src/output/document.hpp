// SPDX-License-Identifier: MIT
/// An answer as named blocks in the order in which they are told, before it has a width or a form.
/// The views make it (view.hpp); what shows it (screen.hpp, html_page.hpp) knows blocks only.
#pragma once

#include "cure/picture.hpp"
#include "judge/finding.hpp"
#include "output/calendar.hpp"
#include "output/section_map.hpp"

#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::output {

/// A column of a table. Where there is no room for it, its cells stand behind `label`.
struct Column {
    std::string over, head; ///< in two lines
    std::size_t width;      ///< [characters]
    std::string label;
    bool left = false; ///< its cells begin at the same place, in place of ending there
};

using Rows = std::vector<std::vector<std::string>>;

/// Where a block is shown; they add up.
struct On {
    static constexpr unsigned brief = 1, more = 2, page = 4, screen = brief | more,
                              all = screen | page;
};

struct Block {
    enum class Form {
        line,     ///< text without a heading; empty: a gap
        wide,     ///< the same over the whole width
        text,     ///< a paragraph; without a heading it goes on with the one before
        list,     ///< a paragraph of as many of its rows as stand on one line
        finding,  ///< a paragraph that is never left out
        command,  ///< a line to type
        table,    ///< rows under columns
        amounts,  ///< rows of a name, an amount and words on it
        map,      ///< the section in characters
        calendar, ///< what to do and when
        drawing,  ///< SVG, in `text`
        room      ///< to write in: a name in each row
    };
    Form form;
    std::string name; ///< what it tells: "best", "law"; that of the block before where it goes on
    unsigned on = On::all;
    std::string heading = {}, text = {};
    std::string longer = {};           ///< with --more in place of the text
    std::optional<double> moment = {}; ///< the day its text tells [s]
    std::vector<Column> columns = {};
    Rows rows = {};
    std::vector<CalendarEntry> entries = {};
    std::optional<std::chrono::local_seconds> start = {}; ///< of the cure, if it is known
    cure::Picture picture = {};
    MapScale scale = {};
    bool large = false; ///< a map as wide as the screen

    bool gap() const { return form == Form::line && text.empty(); }
};

/// Blocks from the first to the last. What is added is shown where `on` says.
struct Document {
    std::vector<Block> blocks = {};
    unsigned on = On::all;
    std::optional<std::chrono::local_seconds> start = {}; ///< of the cure, if it is known

    /// `name` is the heading in small letters, if none is given.
    Block& add(Block::Form form, const std::string& heading, const std::string& text,
               const std::string& name = "");
    void line(const std::string& text = "") { add(Block::Form::line, "", text); }
    /// What was asked, and a gap.
    void title(const std::string& text);
    Block& paragraph(const std::string& heading, const std::string& text,
                     const std::string& name = "") {
        return add(Block::Form::text, heading, text, name);
    }
    /// Nothing where there is no line.
    void command(const std::string& line);
    Block& table(const std::string& name, const std::vector<Column>& columns, const Rows& rows);
    void map(const cure::Picture& picture, const MapScale& scale, bool large);
    /// What can hurt people: the first blocks of every answer.
    void dangers(const judge::Findings& findings);
    /// Everything else that was found: the last ones. Where something `shows` with --more only,
    /// what the model leaves out does, too.
    void remarks(const judge::Findings& findings, const std::string& shows = "");
};

} // namespace tidemark::output
