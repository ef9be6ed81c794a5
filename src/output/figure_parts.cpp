// SPDX-License-Identifier: MIT
#include "output/figure_parts.hpp"

#include "output/words.hpp"

#include <algorithm>

namespace tidemark::output {

double paragraph(Drawing& d, double y, const std::string& text, double size, bool bold) {
    const auto most = static_cast<std::size_t>((d.width - 2 * page_margin) / text_width("n", size));
    const std::size_t lines = wrapped(text, most).size();
    std::size_t even = width_of(text) / std::max<std::size_t>(lines, 1);
    while (even < most && wrapped(text, even).size() > lines)
        ++even;
    for (const std::string& line : wrapped(text, even)) {
        y += 1.3 * size;
        Words words{{d.width / 2, y}, line, size, Anchor::middle};
        words.bold = bold;
        d.words(words);
    }
    return y + 0.35 * size;
}

double head(Drawing& d, const judge::Findings& findings, const std::string& answer,
            const std::string& asked) {
    constexpr const char *red = "#9c1006", *ground = "#fff1ef";
    constexpr double size = 30, row = 40, margin = 16;
    double y = 12;
    std::vector<std::string> lines;
    for (const std::string& text : findings.dangers())
        for (const std::string& line : wrapped("DANGER: " + text, 60))
            lines.push_back(line);
    if (!lines.empty()) {
        const double low = y + row * static_cast<double>(lines.size()) + 2 * margin;
        d.box({12, d.width - 12, y, low}, ground);
        d.line({{12, y}, {d.width - 12, y}, {d.width - 12, low}, {12, low}, {12, y}}, red, 4);
        double at = y + margin;
        for (const std::string& line : lines) {
            at += row;
            Words words{{30, at - 9}, line, size};
            words.colour = red;
            words.bold = true;
            d.words(words);
        }
        y = low + 12;
    }
    return paragraph(d, paragraph(d, y, answer, 40, true), asked, text_size, false) + 10;
}

double heading(Drawing& d, const Box& where, const std::string& text) {
    const auto most = static_cast<std::size_t>((where.right - where.left) /
                                               text_width("n", 1.05 * text_size)); // bold is wider
    double y = where.top;
    for (const std::string& line : wrapped(text, most)) {
        Words words{{(where.left + where.right) / 2, y + 34}, line, text_size, Anchor::middle};
        words.bold = true;
        d.words(words);
        y += 40;
    }
    return y + 16;
}

} // namespace tidemark::output
