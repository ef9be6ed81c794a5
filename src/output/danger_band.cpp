// SPDX-License-Identifier: MIT
#include "output/danger_band.hpp"

#include "output/gnuplot.hpp"
#include "output/words.hpp"

#include <ostream>

namespace tidemark::output {
namespace {

constexpr double line_height = 42, margin = 16; // [pixels]
constexpr int tag = 900;                        // beyond the labels and objects of every figure

} // namespace

DangerBand::DangerBand(const judge::Findings& findings) {
    for (const std::string& text : findings.dangers())
        for (const std::string& line : wrapped("DANGER: " + text, 54))
            lines_.push_back(line);
}

double DangerBand::height() const {
    return lines_.empty() ? 0 : line_height * static_cast<double>(lines_.size()) + 2 * margin;
}

void DangerBand::draw(std::ostream& out, double page) const {
    if (lines_.empty())
        return;
    out << "set object " << tag << " rect from screen 0.01, screen "
        << (page - height() + 0.5 * margin) / page << " to screen 0.99, screen "
        << (page - 0.5 * margin) / page
        << " fc rgb '#fff1ef' fs solid border lc rgb '#9c1006' lw 4 behind\n";
    double y = page - margin - line_height / 2;
    for (std::size_t k = 0; k < lines_.size(); ++k, y -= line_height)
        out << "set label " << tag + 1 + static_cast<int>(k) << ' ' << quoted(lines_[k])
            << " at screen 0.03, screen " << y / page << " left tc rgb '#9c1006' front\n";
}

} // namespace tidemark::output
