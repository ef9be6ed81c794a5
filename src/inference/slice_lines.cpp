// SPDX-License-Identifier: MIT
#include "inference/slice_lines.hpp"

#include <algorithm>
#include <map>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr int points = 81; ///< along a line of a section

/// Spots of lean along a line of a section, the ends of the lean among them.
std::vector<Spot> spots(const cure::Grid& grid, bool upright, double where) {
    constexpr int fine = 2000;
    const geometry::Mesh& mesh = *grid.mesh;
    const auto along = [&](const geometry::Point& p) { return upright ? p.y() : p.x(); };
    const auto ends = std::ranges::minmax(mesh.nodes, {}, along);
    const double low = along(ends.min), step = (along(ends.max) - low) / fine;
    const geometry::Raster raster{upright ? where : low, upright ? low : where, step,
                                  upright ? 1 : fine + 1, upright ? fine + 1 : 1};
    std::map<int, Spot> all;
    geometry::rasterise(mesh, raster, [&](int cell, int t, const std::array<double, 3>& w) {
        if (mesh.region[t] == grid.lean) {
            all[cell] = {low + cell * step, mesh.triangles[t], w};
        }
    });
    std::vector<Spot> line;
    for (const auto& [cell, spot] : all) {
        line.push_back(spot);
    }
    std::vector<Spot> chosen;
    for (int k = 0; k < points && !line.empty(); ++k) {
        chosen.push_back(line[(line.size() - 1) * k / (points - 1)]);
    }
    return chosen;
}

std::vector<Spot> spots(const geometry::Line& line, int lean) {
    std::vector<Spot> all;
    for (int k = 0; k < static_cast<int>(line.nodes.size()); ++k) {
        const std::size_t left = std::max(0, k - 1);
        const std::size_t right = std::min<std::size_t>(k, line.region.size() - 1);
        if (line.region[left] == lean || line.region[right] == lean) {
            all.push_back({line.nodes[k], {k, k, k}, {1, 0, 0}});
        }
    }
    return all;
}

double mix(double a, double b, double f) {
    return a + f * (b - a);
}

/// Depths from both ends of a line to where the profile falls below zero, walking inwards; where it
/// does not, to the lowest spot.
std::pair<double, double> depths(const std::vector<Spot>& line, Index from,
                                 const VectorXd& profile) {
    const auto count = static_cast<Index>(line.size());
    const auto value = [&](Index k) { return profile[from + k]; };
    const auto place = [&](Index k) { return line[static_cast<std::size_t>(k)].at; };
    Index low = 0, high = count - 1;
    while (low < count && value(low) >= 0) {
        ++low;
    }
    if (low == count) {
        Index lowest = 0;
        profile.segment(from, count).minCoeff(&lowest);
        return {place(lowest) - place(0), place(count - 1) - place(lowest)};
    }
    while (value(high) >= 0) {
        --high;
    }
    const auto edge = [&](Index in, Index out) { // between a spot that is grey and a pink one
        return mix(place(in), place(out), -value(in) / (value(out) - value(in)));
    };
    return {low == 0 ? 0.0 : edge(low, low - 1) - place(0),
            high == count - 1 ? 0.0 : place(count - 1) - edge(high, high + 1)};
}

} // namespace

SliceLines::SliceLines(const cure::Grid& grid, bool half, double x) : half_(half) {
    if (grid.line) {
        upright_ = spots(*grid.line, grid.lean);
        line_middle_ = half ? 0 : 0.5 * grid.line->nodes.back();
        return;
    }
    const auto heights =
        std::ranges::minmax(grid.mesh->nodes, {}, [](const auto& p) { return p.y(); });
    x_ = x;
    y_ = 0.5 * (heights.min.y() + heights.max.y());
    upright_ = spots(grid, true, x_);
    level_ = spots(grid, false, y_);
}

VectorXd SliceLines::at_spots(const VectorXd& nodal) const {
    VectorXd values(count());
    Index i = 0;
    for (const auto* line : {&upright_, &level_})
        for (const Spot& s : *line)
            values[i++] = s.weights[0] * nodal[s.nodes[0]] + s.weights[1] * nodal[s.nodes[1]] +
                          s.weights[2] * nodal[s.nodes[2]];
    return values;
}

Slice SliceLines::read(const VectorXd& profile, double size) const {
    const auto along = [&](const std::vector<Spot>& line, Index from) {
        auto [a, b] = depths(line, from, profile);
        const double length = line.back().at - line.front().at;
        if (half_)
            a = b;
        return std::array{size * a, size * b,
                          size * std::max(0.0, half_ ? 2 * (length - b) : length - a - b)};
    };
    Slice s;
    const auto upright = along(upright_, 0);
    s.bottom = upright[0];
    s.top = upright[1];
    s.core_height = upright[2];
    if (half_) {
        s.left = s.right = s.top;
        s.core_width = s.core_height;
    } else if (!level_.empty()) {
        const auto level = along(level_, static_cast<Index>(upright_.size()));
        s.left = level[0];
        s.right = level[1];
        s.core_width = level[2];
    }
    return s;
}

std::vector<std::array<geometry::Point, 2>> SliceLines::strokes(const Slice& seen,
                                                                double arm) const {
    const auto ends = [&](const std::vector<Spot>& line) { // of the lean, as the picture has them
        const double last = line.back().at - line_middle_;
        return std::pair(half_ ? -last : line.front().at - line_middle_, last);
    };
    std::vector<std::array<geometry::Point, 2>> all;
    const auto add = [&](bool upright, const std::optional<double>& depth, double end,
                         double sign) {
        if (const auto d = depth ? depth : seen.every) {
            const double at = end + sign * *d, across = upright ? x_ : y_;
            all.push_back(upright ? std::array{geometry::Point(across - arm, at),
                                               geometry::Point(across + arm, at)}
                                  : std::array{geometry::Point(at, across - arm),
                                               geometry::Point(at, across + arm)});
        }
    };
    const auto [bottom, top] = ends(upright_);
    add(true, seen.top, top, -1);
    add(true, seen.bottom, bottom, 1);
    if (half_ || !level_.empty()) {
        const auto [left, right] = ends(half_ ? upright_ : level_);
        add(false, seen.left, left, 1);
        add(false, seen.right, right, -1);
    }
    // A size has no place of its own: beyond the ring on its line, or about the middle.
    const auto core = [&](bool upright, const auto& size, const auto& low, const auto& high,
                          std::pair<double, double> lean, double middle) {
        if (!size || seen.every || (low && high)) {
            return;
        }
        if (high) {
            add(upright, *high + *size, lean.second, -1);
        } else if (low) {
            add(upright, *low + *size, lean.first, 1);
        } else {
            add(upright, 0.5 * *size, middle, 1);
            add(upright, 0.5 * *size, middle, -1);
        }
    };
    core(true, seen.core_height, seen.bottom, seen.top, {bottom, top}, 0.5 * (bottom + top));
    if (half_ || !level_.empty()) {
        core(false, seen.core_width, seen.left, seen.right, ends(half_ ? upright_ : level_),
             half_ ? 0.0 : x_);
    }
    return all;
}

} // namespace tidemark::inference
