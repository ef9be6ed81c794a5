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

void Screen::table(const std::vector<Column>& columns,
                   const std::vector<std::vector<std::string>>& rows) {
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

void Screen::dangers(const judge::Findings& findings) {
    for (const std::string& text : findings.dangers())
        block("DANGER", text);
    if (!findings.dangers().empty())
        line();
}

void Screen::remarks(const judge::Findings& findings, bool more, const std::string& shows) {
    using enum judge::Severity;
    for (const judge::Severity severity : {warning, caution})
        for (const std::string& text : findings.texts(severity))
            block("WARNING", text);
    std::size_t left_out = 0;
    for (const judge::Finding& f : findings.all())
        if (f.severity == note && (more || !f.aside)) {
            if (!shown_.quiet)
                block("NOTE", f.text);
        } else {
            left_out += f.severity == note;
        }
    if (!more)
        for (const std::string& part :
             wrapped("--more shows " + shows +
                         (left_out == 0 ? std::string()
                                        : " and " + std::to_string(left_out) +
                                              (left_out == 1 ? " note" : " notes")) +
                         '.',
                     shown_.columns))
            line(part);
}

} // namespace tidemark::output
