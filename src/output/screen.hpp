// SPDX-License-Identifier: MIT
/// Lines of a screen of text, and paragraphs with a heading in a margin of their own.
/// For a fixed pitch; widths are counted in characters.
#pragma once

#include "judge/finding.hpp"
#include "output/words.hpp"

#include <string>
#include <vector>

namespace tidemark::output {

/// How much of an answer is shown, and how wide.
struct Shown {
    Shown(bool all = false) : more(all) {}
    bool more;                ///< everything, in place of one screen
    bool quiet = false;       ///< the answer alone, with what can hurt people
    std::size_t columns = 80; ///< [characters], at least 40
};

/// A column of a table. Where the screen is too narrow, its numbers stand behind `label`.
struct Column {
    std::string over, head; ///< in two lines
    std::size_t width;      ///< [characters]
    std::string label;
    bool left = false; ///< its cells begin at the same place, in place of ending there
};

/// Collects lines; every paragraph has a heading in a margin of its own. If it is quiet, only what
/// can hurt people, lines of the answer() and the first paragraph are kept.
class Screen {
public:
    explicit Screen(const Shown& shown = {}) : shown_(shown) {}

    static constexpr std::size_t margin = 9; ///< [characters]
    std::size_t columns() const { return shown_.columns; }
    /// Of what stands beside the margin.
    std::size_t text_width() const { return shown_.columns - margin; }

    /// One that is too long goes on below, further in.
    void line(const std::string& text = "") {
        if (!shown_.quiet)
            put(text);
    }
    /// A line of the answer itself.
    void answer(const std::string& text) {
        put(text);
        answered_ = true;
    }

    void paragraph(const std::string& heading, const std::string& text);

    /// Rows under their heads; on a narrow screen each row as a line of its own, with a label
    /// before every number. The first column names the rows.
    void table(const std::vector<Column>& columns,
               const std::vector<std::vector<std::string>>& rows);

    /// A line to type, broken where a shell lets it be broken: between flags, and behind a flag
    /// only where its value would not fit beside it.
    void command(const std::string& text);

    /// What can hurt people: the first lines of every screen.
    void dangers(const judge::Findings& findings);
    /// Everything else that was found: the last lines of every screen. What the model leaves out is
    /// told in full with `more`.
    void remarks(const judge::Findings& findings, bool more = true,
                 const std::string& shows = "the state of the meat and the brine, the ranges");

    const std::string& text() const { return text_; }

private:
    void put(const std::string& text);
    void block(const std::string& heading, const std::string& text);

    Shown shown_;
    bool answered_ = false, in_answer_ = false;
    std::string text_;
};

/// `text` moved right [characters] to end at `width`, or left to begin at 0.
inline std::string padded(const std::string& text, std::size_t width) {
    const std::size_t used = width_of(text);
    return std::string(width > used ? width - used : 0, ' ') + text;
}
inline std::string filled(const std::string& text, std::size_t width) {
    const std::size_t used = width_of(text);
    return text + std::string(width > used ? width - used : 0, ' ');
}

/// Every line of a text that is longer than `columns` broken at spaces, its rest below where its
/// second part begins (behind two spaces or more), or a little further in.
std::string folded(const std::string& text, std::size_t columns);

} // namespace tidemark::output
