// SPDX-License-Identifier: MIT
/// Sums of heights, a table of round numbers, and labels put down one by one.
#include "output/figure_layout.hpp"

#include "base/text.hpp"
#include "output/words.hpp"

#include <boost/geometry.hpp>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <limits>

namespace tidemark::output {
namespace {

/// The least of the digits times a power of ten that is not below `value`.
double round_up(double value, std::initializer_list<double> digits) {
    const double power = std::pow(10, std::floor(std::log10(value)));
    for (const double digit : digits) {
        if (value <= digit * power * (1 + 1e-9)) {
            return digit * power;
        }
    }
    return 10 * power;
}

} // namespace

Layout::Layout(const cure::Picture& picture, const std::string& heading, double band)
    : title(wrapped(heading, 52)) {
    namespace bg = boost::geometry;
    const auto extent =
        bg::return_envelope<bg::model::box<geometry::Point>>(picture.section.outline);
    x0 = extent.min_corner().x();
    x1 = extent.max_corner().x();
    y0 = extent.min_corner().y();
    y1 = extent.max_corner().y();
    constexpr double side = 70, tallest = 1000;
    pixels_per_metre = std::min((width - 2 * side) / (x1 - x0), tallest / (y1 - y0));
    const double wide = (x1 - x0) * pixels_per_metre, high = (y1 - y0) * pixels_per_metre;

    colourbar = 165;
    key = colourbar + 30 + 20 + 160;
    map.bottom = key + 90;
    map.top = map.bottom + high;
    map.left = (width - wide) / 2;
    map.right = (width + wide) / 2;
    top = map.top + 40 + 42. * static_cast<double>(title.size()) + 20;
    height = top + band;
    bar = round_up((x1 - x0) / 5 * 1e3, {1, 2, 5}) * 1e-3;
}

ColourScale::ColourScale(bool nitrite, double target, double lasting, const cure::Picture& picture)
    : nitrite_(nitrite), levels_{0} {
    static constexpr auto fine = {1., 1.2, 1.5, 2., 2.5, 3., 4., 5., 6., 8.};
    const double unit = nitrite ? 1e6 : 1e2;
    levels_.push_back(target * unit);
    lasting_ = nitrite && lasting > 1.2 * target;
    if (lasting_) {
        levels_.push_back(lasting * unit);
    }
    double most = 0;
    for (const double value : nitrite ? picture.arrived : picture.salt) {
        most = std::isfinite(value) ? std::max(most, value * unit) : most;
    }
    while (levels_.back() * 4 < most) {
        levels_.push_back(round_up(2 * levels_.back(), fine));
    }
    if (most > levels_.back()) {
        levels_.push_back(round_up(1.1 * most, fine));
    } else if (levels_.size() == 2) {
        levels_.push_back(round_up(2 * levels_.back(), fine));
    }
}

std::string ColourScale::label(int step) const {
    const char* reached = step == 1               ? (nitrite_ ? "\\npink" : "\\nenough")
                          : step == 2 && lasting_ ? "\\nlasting"
                                                  : "\\n "; // all two lines high
    return base::significant(levels_[step], 2) + reached;
}

std::vector<double> ColourScale::raster(const cure::Picture& picture) const {
    std::vector<double> steps = nitrite_ ? picture.arrived : picture.salt;
    for (double& value : steps) {
        value *= nitrite_ ? 1e6 : 1e2;
        const auto above = std::ranges::upper_bound(levels_, value);
        if (std::isfinite(value) && above != levels_.begin() && above != levels_.end()) {
            value = static_cast<double>(above - levels_.begin()) - 1 +
                    (value - above[-1]) / (above[0] - above[-1]);
        } else if (std::isfinite(value)) {
            value = above == levels_.begin() ? 0 : this->steps();
        }
    }
    return steps;
}

std::vector<PlacedLabel> place_labels(const cure::Picture& picture, const Layout& layout) {
    // Distances are measured in labels: one across or one up, whichever is more.
    const double wide = 110 / layout.pixels_per_metre, high = 44 / layout.pixels_per_metre;
    const auto nearest = [&](const geometry::Point& p, const std::vector<geometry::Point>& others) {
        double least = std::numeric_limits<double>::infinity();
        for (const geometry::Point& other : others) {
            least = std::min(least, std::max(std::abs(p.x() - other.x()) / wide,
                                             std::abs(p.y() - other.y()) / high));
        }
        return least;
    };
    std::vector<geometry::Point> taken = {picture.core};
    for (const geometry::Region& region : picture.section.regions) {
        if (region.kind == "bone") {
            geometry::Point middle;
            boost::geometry::centroid(region.ring, middle);
            taken.push_back(middle);
        }
    }
    std::vector<PlacedLabel> labels;
    for (const cure::Picture::Front& front : picture.fronts) {
        std::vector<geometry::Point> others;               // of all other lines
        const auto add = [&](const geometry::Ring& ring) { // long edges too
            geometry::Ring dense;
            boost::geometry::densify(ring, dense, high / 2);
            others.insert(others.end(), dense.begin(), dense.end());
        };
        add(picture.section.outline);
        for (const geometry::Region& region : picture.section.regions) {
            add(region.ring);
        }
        for (const cure::Picture::Front& other : picture.fronts) {
            for (const auto& line : other.lines) {
                if (other.time != front.time) {
                    others.insert(others.end(), line.begin(), line.end());
                }
            }
        }
        const geometry::Point* best = nullptr;
        double most = 0;
        for (const auto& line : front.lines) {
            for (const geometry::Point& point : line) {
                const double to_taken = nearest(point, taken);
                // Beyond one label away from other lines, only the room between labels counts.
                const double room = std::min(nearest(point, others), 1.) + 0.05 * to_taken;
                const bool inside =
                    std::abs(2 * point.x() - layout.x0 - layout.x1) < layout.x1 - layout.x0 - wide;
                if (inside && to_taken > 1 && room > most) {
                    most = room;
                    best = &point;
                }
            }
        }
        if (best) {
            labels.push_back({"day " + base::significant(front.time / 86400, 2), *best});
            taken.push_back(*best);
        }
    }
    return labels;
}

} // namespace tidemark::output
