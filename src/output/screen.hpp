// SPDX-License-Identifier: MIT
/// Lines of a screen of text, and paragraphs with a heading in a margin of their own.
/// For a fixed pitch; widths are counted in characters.
#pragma once

#include "judge/finding.hpp"
#include "output/words.hpp"

#include <string>

namespace tidemark::output {

constexpr std::size_t page = 80; ///< [characters]

/// Collects lines; every paragraph has a heading in a margin of its own.
class Screen {
public:
    void line(const std::string& text = "") {
        text_ += text.substr(0, text.find_last_not_of(' ') + 1) + '\n';
    }

    void paragraph(const std::string& heading, const std::string& text) {
        constexpr std::size_t margin = 9;
        std::string head = heading;
        for (const std::string& part : wrapped(text, page - margin)) {
            head.resize(margin, ' ');
            line(head + part);
            head.clear();
        }
    }

    /// What can hurt people: the first lines of every screen.
    void dangers(const judge::Findings& findings) {
        for (const std::string& text : findings.dangers())
            paragraph("DANGER", text);
        if (!findings.dangers().empty())
            line();
    }
    /// Everything else that was found: the last lines of every screen. What the model leaves out is
    /// told in full with `more`.
    void remarks(const judge::Findings& findings, bool more = true,
                 const std::string& shows = "the state of the meat and the brine, the ranges") {
        using enum judge::Severity;
        for (const judge::Severity severity : {warning, caution})
            for (const std::string& text : findings.texts(severity))
                paragraph("WARNING", text);
        std::size_t left_out = 0;
        for (const judge::Finding& f : findings.all())
            if (f.severity == note && (more || f.code != "model"))
                paragraph("NOTE", f.text);
            else
                left_out += f.severity == note;
        if (!more)
            line("--more shows " + shows +
                 (left_out == 0
                      ? std::string()
                      : " and " + std::to_string(left_out) + (left_out == 1 ? " note" : " notes")) +
                 '.');
    }

    const std::string& text() const { return text_; }

private:
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

} // namespace tidemark::output
