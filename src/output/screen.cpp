// SPDX-License-Identifier: MIT
#include "output/screen.hpp"

#include <algorithm>
#include <sstream>

namespace tidemark::output {
namespace {

std::string trimmed(const std::string& text) {
    return text.substr(0, text.find_last_not_of(' ') + 1);
}

/// Where what follows the first part of a line begins, or a little in from its beginning.
std::size_t hang_of(const std::string& line, std::size_t columns) {
    const std::size_t first = line.find_first_not_of(' ');
    const std::size_t gap = line.find("  ", first);
    const std::size_t second = gap == std::string::npos ? gap : line.find_first_not_of(' ', gap);
    return second < columns / 2 ? second : std::min(first + 2, columns / 2);
}

} // namespace

std::string folded(const std::string& text, std::size_t columns) {
    std::string result;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) {
        if (line.find_first_not_of(' ') == std::string::npos)
            line.clear();
        const std::size_t hang = line.empty() ? 0 : hang_of(line, columns);
        while (width_of(line) > columns) {
            const std::size_t words = line.find_first_not_of(' ');
            std::size_t cut = std::string::npos;
            for (std::size_t at = line.find(' ', words); at != std::string::npos;
                 at = line.find(' ', at + 1)) {
                if (cut != std::string::npos && width_of(line.substr(0, at)) > columns)
                    break;
                cut = at;
            }
            if (cut == std::string::npos) // one long word
                break;
            result += trimmed(line.substr(0, cut)) + '\n';
            const std::size_t rest = line.find_first_not_of(' ', cut);
            line = rest == std::string::npos ? "" : std::string(hang, ' ') + line.substr(rest);
        }
        result += line + '\n';
    }
    return result;
}

void Screen::put(const std::string& text) {
    const std::string line = trimmed(text);
    text_ += width_of(line) > shown_.columns ? folded(line, shown_.columns) : line + '\n';
}

void Screen::block(const std::string& heading, const std::string& text) {
    std::string head = heading;
    for (const std::string& part : wrapped(text, text_width())) {
        head.resize(margin, ' ');
        put(head + part);
        head.clear();
    }
}

void Screen::paragraph(const std::string& heading, const std::string& text) {
    in_answer_ = heading.empty() ? in_answer_ : !answered_;
    answered_ = true;
    if (!shown_.quiet || in_answer_)
        block(heading, text);
}

void Screen::table(const std::vector<Column>& columns, const Rows& rows) {
    std::size_t width = 0;
    for (const Column& c : columns)
        width += c.width;
    if (width > shown_.columns) {
        for (const auto& row : rows) {
            std::string text;
            for (std::size_t k = 1; k < row.size(); ++k)
                if (!row[k].empty())
                    text += (text.empty() ? "" : "; ") + columns[k].label + ' ' + row[k];
            line(row.front() + ':');
            for (const std::string& part : wrapped(text, shown_.columns - 2))
                line("  " + part);
        }
        return;
    }
    const auto print = [&](const auto& cell) {
        std::string text;
        for (std::size_t k = 0; k < columns.size(); ++k)
            text += columns[k].left || k == 0 ? filled(cell(k), columns[k].width)
                                              : padded(cell(k), columns[k].width);
        line(text);
    };
    if (std::ranges::any_of(columns, [](const Column& c) { return !c.over.empty(); }))
        print([&](std::size_t k) { return columns[k].over; });
    print([&](std::size_t k) { return columns[k].head; });
    for (const auto& row : rows)
        print([&](std::size_t k) { return k < row.size() ? row[k] : std::string(); });
}

void Screen::command(const std::string& text) {
    if (shown_.quiet)
        return;
    const std::size_t indent = shown_.columns < 60 ? 0 : margin, width = shown_.columns - indent;
    std::vector<std::string> parts{""}; // words of a shell: quotes hold theirs together
    char quote = 0;
    bool escaped = false;
    for (const char c : text) {
        if (c == ' ' && quote == 0 && !escaped) {
            parts.emplace_back();
            continue;
        }
        if (!escaped && (quote == 0 ? c == '"' || c == '\'' : c == quote))
            quote = quote == 0 ? c : 0;
        escaped = !escaped && c == '\\' && quote != '\'';
        parts.back() += c;
    }
    const auto flag = [&](std::size_t k) { return k < parts.size() && parts[k].starts_with("--"); };
    std::string line;
    const auto add = [&](const std::string& part) {
        const std::string longer =
            line + (line.find_last_not_of(' ') == line.npos ? "" : " ") + part;
        if (!line.empty() && width_of(longer) + 2 > width) {
            text_ += std::string(indent, ' ') + line + " \\\n";
            line = "    " + part;
        } else {
            line = longer;
        }
    };
    for (std::size_t k = 0; k < parts.size(); ++k) {
        const bool with_value = flag(k) && k + 1 < parts.size() && !flag(k + 1);
        const std::string both = with_value ? parts[k] + ' ' + parts[k + 1] : parts[k];
        if (with_value && width_of(both) + 6 > width) {
            add(parts[k]);
            add(parts[++k]);
        } else {
            add(both);
            k += with_value;
        }
    }
    text_ += std::string(indent, ' ') + line + '\n';
}

void Screen::list(const Block& b) {
    std::string text;
    for (const auto& row : b.rows) {
        const std::string longer = text + (text.empty() ? "" : ", ") + row[0];
        if (width_of(longer) > text_width())
            break;
        text = longer;
    }
    if (!text.empty())
        paragraph(b.heading, text);
}

void Screen::amounts(const Block& b) {
    const bool narrow = shown_.columns < 60; // then an amount and its unit stay on one line
    std::string head = b.heading;
    for (const auto& row : b.rows) {
        std::string text =
            filled(head, margin) +
            (narrow ? filled(row[0], 10) + ' ' + row[1] : filled(row[0], 13) + padded(row[1], 21));
        for (std::size_t k = 2; k < row.size() && !narrow; ++k)
            text += "  " + row[k];
        answer(text);
        for (std::size_t k = 2; k < row.size() && narrow; ++k)
            answer(std::string(margin + 2, ' ') + row[k]);
        head.clear();
    }
}

void Screen::map(const Block& b) {
    const int columns = static_cast<int>(shown_.columns);
    const SectionMap map = section_map(b.picture, b.scale,
                                       !b.large       ? 36
                                       : columns < 80 ? 38
                                                      : columns - 42,
                                       b.large ? 11 : 7);
    const std::size_t width = map.lines.empty() ? 0 : map.lines[0].size();
    std::size_t widest = 0;
    for (const std::string& line : map.legend)
        widest = std::max(widest, width_of(line));
    const bool below = width + 6 + widest > shown_.columns; // what the characters mean
    for (std::size_t k = 0; k < std::max(map.lines.size(), below ? 0 : map.legend.size()); ++k)
        line(filled("  " + (k < map.lines.size() ? map.lines[k] : ""), width + 6) +
             (!below && k < map.legend.size() ? map.legend[k] : ""));
    for (std::size_t k = 0; below && k < map.legend.size(); ++k)
        line("  " + map.legend[k]);
}

void Screen::show(const Block& b) {
    const std::string text = shown_.more && !b.longer.empty() ? b.longer : b.text;
    switch (b.form) {
    case Block::Form::line:
        return line(text);
    case Block::Form::wide:
        for (const std::string& part : wrapped(text, shown_.columns))
            line(part);
        return;
    case Block::Form::text:
        return paragraph(b.heading, text);
    case Block::Form::list:
        return list(b);
    case Block::Form::finding:
        return block(b.heading, text);
    case Block::Form::command:
        return command(text);
    case Block::Form::table:
        return table(b.columns, b.rows);
    case Block::Form::amounts:
        return amounts(b);
    case Block::Form::map:
        return map(b);
    case Block::Form::calendar:
        if (!shown_.quiet && b.start)
            text_ += calendar_text(b.entries, *b.start, shown_.columns);
        return;
    case Block::Form::drawing:
    case Block::Form::room:
        return; // of a page
    }
}

std::string screen(const Document& document, const Shown& shown) {
    Screen screen(shown);
    for (const Block& block : document.blocks)
        if (block.on & (shown.more ? On::more : On::brief))
            screen.show(block);
    return screen.text();
}

} // namespace tidemark::output
