// SPDX-License-Identifier: MIT
#include "output/curve.hpp"

#include <boost/geometry.hpp>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <numbers>

namespace tidemark::output {
namespace {

Point between(const Point& a, const Point& b, double share) {
    return {a.x() + share * (b.x() - a.x()), a.y() + share * (b.y() - a.y())};
}

/// The turn at b on the way from a to c [rad], 0 to pi.
double turn(const Point& a, const Point& b, const Point& c) {
    const double ux = b.x() - a.x(), uy = b.y() - a.y(), vx = c.x() - b.x(), vy = c.y() - b.y();
    return std::abs(std::atan2(ux * vy - uy * vx, ux * vx + uy * vy));
}

/// Points a fixed stretch apart along a line, its ends among them; a closed one comes without its
/// first again.
Points paced(const Points& line, bool closed, double pace) {
    Points path = line;
    if (closed)
        path.push_back(line.front());
    double total = 0;
    for (std::size_t k = 0; k + 1 < path.size(); ++k)
        total += geometry::distance(path[k], path[k + 1]);
    const auto count = std::max<std::size_t>(closed ? 3 : 1, std::lround(total / pace));
    const double step = total / static_cast<double>(count);
    Points points{path.front()};
    double at = 0;
    std::size_t k = 0;
    for (std::size_t n = 1; n < count; ++n) {
        const double want = step * static_cast<double>(n);
        double part = geometry::distance(path[k], path[k + 1]);
        while (at + part < want && k + 2 < path.size()) {
            at += part;
            ++k;
            part = geometry::distance(path[k], path[k + 1]);
        }
        points.push_back(between(path[k], path[k + 1], part > 0 ? (want - at) / part : 0));
    }
    if (!closed)
        points.push_back(path.back());
    return points;
}

} // namespace

Points smoothed(const Points& line, bool closed) {
    constexpr double pace = 3, corner = 40 * std::numbers::pi / 180; // [pixels], [rad]
    constexpr int reach = 3, rounds = 12;
    if (line.size() < 3)
        return line;
    Points points = paced(line, closed, pace);
    const auto n = static_cast<int>(points.size());
    if (n < 4 * reach)
        return line;
    const auto index = [&](int k) { return static_cast<std::size_t>((k % n + n) % n); };
    std::vector<double> turns(points.size(), 0);
    for (int k = 0; k < n; ++k)
        if (closed || (k >= reach && k + reach < n))
            turns[index(k)] =
                turn(points[index(k - reach)], points[index(k)], points[index(k + reach)]);
    std::vector<bool> kept(points.size(), false);
    for (int k = 0; k < n; ++k) {
        bool most = turns[index(k)] > corner;
        for (int near = -reach; near <= reach && most; ++near)
            if (closed || (k + near >= 0 && k + near < n))
                most = turns[index(k)] >= turns[index(k + near)];
        kept[index(k)] = most;
    }
    if (!closed)
        kept.front() = kept.back() = true;
    for (int round = 0; round < rounds; ++round) {
        const Points before = points;
        for (int k = 0; k < n; ++k) {
            if (kept[index(k)])
                continue;
            const Point &a = before[index(k - 1)], &b = before[index(k)], &c = before[index(k + 1)];
            points[index(k)] = {(a.x() + 2 * b.x() + c.x()) / 4, (a.y() + 2 * b.y() + c.y()) / 4};
        }
    }
    return thinned(points, closed);
}

Points thinned(const Points& line, bool closed) {
    boost::geometry::model::linestring<Point> all(line.begin(), line.end()), few;
    if (closed)
        all.push_back(all.front());
    boost::geometry::simplify(all, few, 0.15);
    if (closed && few.size() > 1)
        few.pop_back();
    return {few.begin(), few.end()};
}

Points dense(const Points& line, bool closed, double step) {
    return line.size() < 2 ? line : paced(line, closed, step);
}

Words LinePlaces::place(const std::vector<Points>& lines, const std::vector<Points>& other_lines,
                        const std::string& text, double size) {
    constexpr double pace = 6, rise = 5; // [pixels]; the words stand so far above the line
    const double half = text_width(text, size) / 2, high = 0.75 * size;
    Points others = others_;
    for (const Points& line : other_lines) {
        const Points more = dense(line, false, pace);
        others.insert(others.end(), more.begin(), more.end());
    }
    Words best;
    double most = 4; // [pixels] of room, to be placed at all
    for (const Points& line : lines) {
        const Points points = dense(line, false, pace);
        const auto n = static_cast<int>(points.size());
        const int reach = static_cast<int>(std::ceil(half / pace));
        for (int k = reach; k + reach < n; ++k) {
            const Point &a = points[k - reach], &b = points[k + reach];
            const bool right = b.x() >= a.x();
            const Point &from = right ? a : b, &to = right ? b : a;
            const double chord = geometry::distance(a, b);
            if (chord < 1.8 * half)
                continue;
            const double c = (to.x() - from.x()) / chord, s = (to.y() - from.y()) / chord;
            if (std::abs(s) > 0.94) // hard to read
                continue;
            // The line's own highest place above the chord is what the words stand on.
            double lift = 0;
            for (int i = k - reach; i <= k + reach; ++i)
                lift =
                    std::max(lift, (points[i].x() - from.x()) * s - (points[i].y() - from.y()) * c);
            if (lift > 0.5 * size)
                continue;
            const Point middle = between(a, b, 0.5);
            const Point at(middle.x() + (lift + rise) * s, middle.y() - (lift + rise) * c);
            double room = std::numeric_limits<double>::infinity();
            for (const Point& p : others) {
                const double dx = p.x() - at.x(), dy = p.y() - at.y();
                const double along = std::max(0.0, std::abs(dx * c + dy * s) - half);
                const double up = dx * s - dy * c; // above the line the words stand on
                const double across = std::max({0.0, -up, up - high});
                room = std::min(room, std::hypot(along, across));
            }
            const double worth = std::min(room, 14.0) - 8 * std::abs(s) - 0.3 * lift;
            if (room > 4 && (best.text.empty() || worth > most)) {
                most = worth;
                best = {at, text, size, Anchor::middle};
                best.angle = -std::atan2(s, c) * 180 / std::numbers::pi;
            }
        }
    }
    if (!best.text.empty())
        taken(best);
    return best;
}

void LinePlaces::taken(const Words& words) {
    constexpr double pace = 6; // [pixels]
    const double half = text_width(words.text, words.size) / 2, high = 0.75 * words.size;
    const double a = words.angle * std::numbers::pi / 180;
    for (double t = -half; t <= half; t += pace)
        for (const double up : {0.0, high / 2, high})
            others_.emplace_back(words.at.x() + t * std::cos(a) - up * std::sin(a),
                                 words.at.y() - t * std::sin(a) - up * std::cos(a));
}

Words LinePlaces::beside(const std::vector<Points>& lines, const std::vector<Points>& other_lines,
                         const Box& frame, const std::string& text, double size, Points& pointer) {
    constexpr double pace = 6, room = 8, near = 16; // [pixels]
    const double half = text_width(text, size) / 2, high = 0.75 * size;
    Points own, others = others_;
    for (const Points& line : lines)
        std::ranges::copy(dense(line, false, pace), std::back_inserter(own));
    for (const Points& line : other_lines)
        std::ranges::copy(dense(line, false, pace), std::back_inserter(others));
    // Only where the line runs by itself do words beside it say which one is meant.
    Points alone;
    std::ranges::copy_if(own, std::back_inserter(alone), [&](const Point& p) {
        return std::ranges::none_of(
            others, [&](const Point& q) { return geometry::distance(p, q) < near; });
    });
    if (alone.empty())
        alone = own;
    Words best;
    double most = std::numeric_limits<double>::infinity();
    for (double y = frame.top + high; y <= frame.bottom; y += pace)
        for (double x = frame.left + half; x <= frame.right - half; x += pace) {
            const auto away = [&](const Point& p) {
                return std::hypot(std::max(0.0, std::abs(p.x() - x) - half),
                                  std::max({0.0, p.y() - y, y - high - p.y()}));
            };
            const auto off = [&](const Point& p) { return away(p) > room / 2; };
            const auto clear = [&](const Point& p) { return away(p) > room; };
            const auto next = std::ranges::min_element(alone, {}, away);
            if (next == alone.end() || away(*next) >= most || !std::ranges::all_of(own, off) ||
                !std::ranges::all_of(others, clear))
                continue;
            most = away(*next);
            best = {{x, y}, text, size, Anchor::middle};
            const double nearest_other =
                others.empty() ? 2 * most : away(*std::ranges::min_element(others, {}, away));
            pointer.clear();
            if (most > near || nearest_other < most)
                pointer = {{std::clamp(next->x(), x - half, x + half),
                            next->y() > y ? y + 6 : y - high - 4},
                           *next};
        }
    if (!best.text.empty())
        taken(best);
    return best;
}

} // namespace tidemark::output
