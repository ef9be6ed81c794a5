// SPDX-License-Identifier: MIT
/// A document as a screen of text: lines, and paragraphs with a heading in a margin of their own.
/// For a fixed pitch; widths are counted in characters.
#pragma once

#include "output/document.hpp"
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

/// Collects lines; every paragraph has a heading in a margin of its own. If it is quiet, only what
/// can hurt people, lines of the answer() and the first paragraph are kept.
class Screen {
public:
    explicit Screen(const Shown& shown = {}) : shown_(shown) {}

    static constexpr std::size_t margin = 9; ///< [characters]
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
    void table(const std::vector<Column>& columns, const Rows& rows);

    /// A line to type, broken where a shell lets it be broken: between flags, and behind a flag
    /// only where its value would not fit beside it.
    void command(const std::string& text);

    /// In the form it has.
    void show(const Block& block);

    const std::string& text() const { return text_; }

private:
    void put(const std::string& text);
    void block(const std::string& heading, const std::string& text);
    void list(const Block& block);
    void amounts(const Block& block);
    void map(const Block& block);

    Shown shown_;
    bool answered_ = false, in_answer_ = false;
    std::string text_;
};

/// The blocks of a screen.
std::string screen(const Document& document, const Shown& shown = {});

/// Every line of a text that is longer than `columns` broken at spaces, its rest below where its
/// second part begins (behind two spaces or more), or a little further in.
std::string folded(const std::string& text, std::size_t columns);

} // namespace tidemark::output
