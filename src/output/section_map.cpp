// SPDX-License-Identifier: MIT
/// Each character stands for a block of raster cells; thin fat and small bones win over lean.
#include "output/section_map.hpp"

#include "base/quantity.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace tidemark::output {
namespace {

constexpr char lasting = '#', cured = '+', nearly = '-', uncured = '.', fat = '~', bone = 'O',
               core = 'X', outside = ' ';
constexpr double visible = 1. / 3; ///< share of a character that fat or bone must cover

char lean(double amount, const MapScale& scale) {
    if (scale.lasting > 0 && amount >= std::max(scale.lasting, scale.target)) {
        return lasting;
    }
    return amount >= scale.target ? cured : amount >= scale.target / 2 ? nearly : uncured;
}

/// The character for the raster cells from (i0, j0) up to but without (i1, j1).
char block(const cure::Picture& p, const MapScale& scale, int i0, int j0, int i1, int j1) {
    const std::vector<double>& field = scale.nitrite ? p.arrived : p.salt;
    std::map<char, int> count;
    double sum = 0;
    for (int j = j0; j < j1; ++j) {
        for (int i = i0; i < i1; ++i) {
            const int at = j * p.nx + i;
            ++count[p.kind[at]];
            sum += p.kind[at] == 'l' ? field[at] : 0;
        }
    }
    const int cells = (i1 - i0) * (j1 - j0);
    if (2 * count[' '] > cells) {
        return outside;
    }
    if (count['b'] >= visible * cells) {
        return bone;
    }
    if (count['f'] >= visible * cells || count['l'] == 0) {
        return fat;
    }
    return lean(sum / count['l'], scale);
}

std::string amount(double value, const MapScale& scale) {
    return scale.nitrite ? show_ppm(value) : show_percent(value);
}

std::string from(double value, const MapScale& scale) {
    return scale.numbers ? ", " + amount(value, scale) + " or more" : "";
}

} // namespace

MapScale map_scale(const cure::Outcome& o, std::size_t piece) {
    const cure::PieceOutcome& p = o.pieces[piece];
    return {o.has_nitrite, p.target, o.has_nitrite ? p.stable_target : 0, o.pieces.size() == 1};
}

std::string cured_tone(const MapScale& s) {
    return (s.nitrite ? "cured" : "salted") + from(s.target, s);
}

std::string lasting_tone(const MapScale& s) {
    return "lasting colour" + from(std::max(s.lasting, s.target), s);
}

SectionMap section_map(const cure::Picture& p, const MapScale& scale, int columns, int rows) {
    // Raster cells across one character; it is twice as high.
    const double across = std::max({1., 1. * p.nx / columns, 0.5 * p.ny / rows});
    columns = std::max(1, static_cast<int>(std::lround(p.nx / across)));
    rows = std::max(1, static_cast<int>(std::lround(0.5 * p.ny / across)));
    SectionMap map;
    for (int r = 0; r < rows; ++r) {
        std::string line;
        for (int c = 0; c < columns; ++c) {
            line += block(p, scale, c * p.nx / columns, p.ny - (r + 1) * p.ny / rows,
                          (c + 1) * p.nx / columns, p.ny - r * p.ny / rows);
        }
        map.lines.push_back(line);
    }
    const double right = (p.core.x() - p.x0) / p.step + 0.5;
    const double down = p.ny - 0.5 - (p.core.y() - p.y0) / p.step;
    const auto place = [](double at, int cells, int characters) {
        return std::clamp(static_cast<int>(at * characters / cells), 0, characters - 1);
    };
    map.lines[place(down, p.ny, rows)][place(right, p.nx, columns)] = core;

    const auto entry = [&](char c, const std::string& meaning) {
        const auto drawn = [&](const std::string& line) {
            return line.find(c) != std::string::npos;
        };
        if (std::ranges::any_of(map.lines, drawn)) {
            map.legend.push_back(std::string(1, c) + "  " + meaning);
        }
    };
    const std::string target = amount(scale.target, scale);
    entry(lasting, lasting_tone(scale));
    entry(cured, cured_tone(scale));
    entry(nearly, "not yet, less than " + target);
    entry(uncured, std::string(scale.nitrite ? "grey" : "raw") + ", less than half of that");
    entry(fat, "fat");
    entry(bone, "bone");
    entry(core, core_mark);
    map.legend.push_back(std::string(5, '=') + "  " + base::show_length(5 * across * p.step));
    return map;
}

} // namespace tidemark::output
