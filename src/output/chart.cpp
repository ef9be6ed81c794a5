// SPDX-License-Identifier: MIT
#include "output/chart.hpp"

#include "base/text.hpp"
#include "output/best_view.hpp"
#include "output/curve.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

namespace tidemark::output {
namespace {

constexpr const char *ink = "#1a1a1a", *dark = "#14213d", *faint = "#d8d8d8", *sure = "#e4ebf5",
                     *grey = "#7d7a75", *orange = "#b84a00", *blue = "#0072b2";
constexpr double small = 28;

} // namespace

double round_step(double span, int parts) {
    const double least = span / parts, power = std::pow(10, std::floor(std::log10(least)));
    for (const double digit : {1., 2., 5.})
        if (digit * power >= least * (1 - 1e-9))
            return digit * power;
    return 10 * power;
}

void Chart::ground(double from, double to, const std::string& colour) {
    d_.box({at(from, 0).x(), at(std::min(to, days_), 0).x(), frame_.top, frame_.bottom}, colour);
}

void Chart::axes(const std::string& upright, const std::string& along) {
    const double up = round_step(most_, 5), on = round_step(days_, 8);
    for (int k = 0; k * up <= most_ * (1 + 1e-9); ++k) {
        const Point p = at(0, k * up);
        d_.line({p, {frame_.right, p.y()}}, k == 0 ? ink : faint, k == 0 ? 3 : 2);
        d_.words({{p.x() - 14, p.y() + 10}, base::significant(k * up, 4), small, Anchor::end});
    }
    for (int k = 0; !along.empty() && k * on <= days_ * (1 + 1e-9); ++k) {
        const Point p = at(k * on, 0);
        d_.line({p, {p.x(), p.y() + 10}}, ink, 3);
        d_.words({{p.x(), p.y() + 40}, base::significant(k * on, 4), small, Anchor::middle});
    }
    d_.words({{frame_.right, frame_.bottom + 78}, along, small, Anchor::end});
    d_.words({{frame_.left - 70, frame_.top - 20}, upright, small});
}

void Chart::traces(const std::vector<Trace>& list, const Points& others) {
    std::vector<std::vector<Points>> drawn;
    for (const Trace& t : list) {
        drawn.push_back({{}});
        for (const Point& p : t.points)
            drawn.back().front().push_back(at(p.x(), p.y()));
        d_.line(drawn.back().front(), t.colour, t.width, t.dash);
    }
    const Box& f = frame_;
    Points clear = dense(
        {{f.left, f.top - 40}, {f.right, f.top - 40}, {f.right, f.bottom}, {f.left, f.bottom}},
        true, 8);
    clear.insert(clear.end(), others.begin(), others.end());
    LinePlaces places(clear);
    std::vector<std::size_t> order(list.size()); // the longest name finds a place first
    std::iota(order.begin(), order.end(), 0);
    std::ranges::stable_sort(order, std::greater<>{},
                             [&](std::size_t k) { return list[k].name.size(); });
    for (const std::size_t k : order) {
        std::vector<Points> rest;
        for (std::size_t j = 0; j < list.size(); ++j)
            if (j != k)
                rest.push_back(drawn[j].front());
        Words name = places.place(drawn[k], rest, list[k].name, small);
        if (name.text.empty()) {
            Points pointer;
            name = places.beside(drawn[k], rest, f, list[k].name, small, pointer);
            d_.line(pointer, list[k].colour, 2);
        }
        name.colour = list[k].colour;
        name.halo = "#ffffff";
        d_.words(name);
    }
}

void draw_chance(Drawing& d, const Box& where, const inference::BestDay& b) {
    if (!b.best || b.by_day.size() < 2)
        return;
    constexpr double day = 86400;
    double last = 2.2 * b.best->time;
    if (b.window)
        last = std::max(last, 1.3 * b.window->second);
    last = std::min(last, b.by_day.back().time) / day;
    Chart chart(d, {where.left + 75, where.right - 20, where.top + 50, where.bottom - 90}, last,
                100);
    if (b.window)
        chart.ground(b.window->first / day, b.window->second / day, sure);
    chart.axes("of 100 pieces");
    const auto trace = [&](double inference::DayChance::*share, const char* name,
                           const char* colour, double width, Dash dash) {
        Trace t{{}, name, colour, width, dash};
        for (const inference::DayChance& c : b.by_day)
            if (c.time <= last * day * (1 + 1e-9))
                t.points.emplace_back(c.time / day, 100 * c.*share);
        return t;
    };
    std::vector<Trace> list{trace(&inference::DayChance::right, "right", dark, 7, Dash::none),
                            trace(lacks[0].share, lacks[0].brief, grey, 5, Dash::dashed),
                            trace(lacks[1].share, lacks[1].brief, orange, 6, Dash::dotted),
                            trace(lacks[2].share, lacks[2].brief, blue, 3, Dash::none)};
    std::erase_if(list, [](const Trace& t) { // too low to be told apart
        return std::ranges::all_of(t.points, [](const Point& p) { return p.y() < 5; });
    });
    const Point best = chart.at(b.best->time / day, 100 * b.best->right);
    chart.traces(list, {{best.x() - 13, best.y()}, {best.x() + 13, best.y()}, best});
    d.dot(best, 13, "#ffffff");
    d.dot(best, 9, dark);
}

std::string chance_svg(const inference::BestDay& b) {
    if (!b.best)
        return "";
    Drawing d(chance_heading,
              "Best " + kept_day(b.best->time) + ": " + right_and_not(*b.best) + window_of(b));
    d.width = narrow_width;
    d.height = 460;
    draw_chance(d, {0, d.width, 0, d.height}, b);
    return svg(d, false);
}

} // namespace tidemark::output
