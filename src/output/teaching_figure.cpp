// SPDX-License-Identifier: MIT
#include "output/teaching_figure.hpp"

#include "base/text.hpp"
#include "output/best_view.hpp"
#include "output/chart.hpp"
#include "output/figure_parts.hpp"
#include "output/section_drawing.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

constexpr double side = page_margin, day = 86400, mm = 1e-3, inch = 25.4; // [mm]
constexpr const char *ink = "#1a1a1a", *dark = "#14213d", *pale = "#9db8d6", *blue = "#0072b2",
                     *orange = "#b84a00", *band = "#f3dcc9", *brown = "#6b5a3a";

/// The row of a thickness [mm].
const DaysOfThickness& row_of(const std::vector<DaysOfThickness>& rows, double thickness) {
    return *std::ranges::min_element(
        rows, {}, [&](const DaysOfThickness& r) { return std::abs(r.thickness / mm - thickness); });
}

/// From nothing up to where a straight line leaves the chart.
Points straight(double days_per_mm, double widest, double most) {
    const double x = std::min(widest, most / days_per_mm);
    return {{0, 0}, {x, days_per_mm * x}};
}

/// A note at the foot, line by line to the left; where it ends.
double foot(Drawing& d, double y, const std::string& text) {
    for (const std::string& line :
         wrapped(text, static_cast<std::size_t>((d.width - 2 * side) / text_width("n", 28)))) {
        y += 38;
        d.words({{side, y}, line, 28});
    }
    return y + 10;
}

} // namespace

Drawing thickness_figure(const std::vector<DaysOfThickness>& rows,
                         const std::vector<base::Record>& rules, const std::string& asked) {
    const DaysOfThickness &thin = row_of(rows, 50), &thick = row_of(rows, 100);
    const std::string answer = "Twice as thick: " + fixed(thick.sheet_kept / thin.sheet_kept, 1) +
                               " times the days; " + fixed(thick.sheet / thin.sheet, 1) +
                               " as nitrite is used up";
    constexpr double widest = 130;
    double most = 0;
    for (const DaysOfThickness& r : rows)
        most = std::max(most, r.sheet / day);
    most *= 1.1;
    std::string detail = asked + ". Days on which the core is cured:";
    for (const DaysOfThickness& r : {thin, thick, rows.back()})
        detail += ' ' + fixed(r.thickness / mm, 0) + " mm, sheet " + fixed(r.sheet / day, 1) +
                  ", round " + fixed(r.round / day, 1) + ';';
    Drawing d(answer, detail + " straight lines are the trade's rules of days for each inch.");
    double y = head(d, {}, answer, asked);
    const Box frame{side + 75, d.width - side, y + 110, y + 910};
    Chart chart(d, frame, widest, most);

    Points upper, lower;
    double last = 0, before = 0; // the late end of the row before [mm], [days]
    for (const DaysOfThickness& r : rows) {
        const double x = r.thickness / mm, late = r.round_late / day;
        if (late > most && before < most) // where it leaves the chart
            upper.push_back(chart.at(
                std::isfinite(late) ? last + (x - last) * (most - before) / (late - before) : x,
                most));
        upper.push_back(chart.at(x, std::min(most, late)));
        lower.push_back(chart.at(x, std::min(most, r.round_early / day)));
        last = x;
        before = late;
    }
    upper.insert(upper.end(), lower.rbegin(), lower.rend());
    d.area({upper}, band);
    chart.axes("", "thickness [mm]");
    d.words({{side, frame.top - 70}, "day on which the core is cured", 28});
    for (int k = 0; k * inch <= widest; ++k) {
        const Point p = chart.at(k * inch, most);
        d.line({p, {p.x(), p.y() - 10}}, ink, 3);
        d.words({{p.x(), p.y() - 20}, std::to_string(k) + " in", 28, Anchor::middle});
    }
    d.line({{frame.left, frame.top}, {frame.right, frame.top}}, ink, 3);

    const auto trace = [&](double DaysOfThickness::*what, const char* name, const char* colour,
                           double width, Dash dash) {
        Trace t{{}, name, colour, width, dash};
        for (const DaysOfThickness& r : rows)
            if (std::isfinite(r.*what))
                t.points.emplace_back(r.thickness / mm, r.*what / day);
        return t;
    };
    std::vector<Trace> list{
        trace(&DaysOfThickness::sheet, "sheet", blue, 7, Dash::none),
        trace(&DaysOfThickness::round, "round", orange, 7, Dash::none),
        trace(&DaysOfThickness::sheet_kept, "no nitrite used up", blue, 4, Dash::dashed),
        trace(&DaysOfThickness::round_kept, "none used up", orange, 4, Dash::dashed)};
    std::string sources;
    for (const base::Record& r : rules) {
        const double per_mm = mm / r.si() / day;
        const std::string name = base::significant(inch * per_mm, 2) + " days an inch";
        list.push_back(
            {straight(per_mm, widest, most), name + " [" + r.mark + ']', brown, 4, Dash::dotted});
        sources += (sources.empty() ? "" : "; ") + name + ": " + r.where + ", " +
                   (r.mark == 'S' ? r.source : "common practice, no source");
    }
    const Point at_thin = chart.at(thin.thickness / mm, thin.sheet_kept / day),
                corner = chart.at(thick.thickness / mm, thin.sheet_kept / day),
                at_thick = chart.at(thick.thickness / mm, thick.sheet_kept / day);
    d.line({at_thin, corner, at_thick}, ink, 3, Dash::dotted);
    const std::string times = fixed(thick.sheet_kept / thin.sheet_kept, 1) + " times";
    Points taken; // what the names must keep clear of
    for (const Words& w :
         {Words{{(at_thin.x() + corner.x()) / 2, corner.y() + 34}, "2 times the thickness", 28},
          Words{{corner.x() + 76, corner.y() - 60}, times, 28},
          Words{{corner.x() + 76, corner.y() - 26}, "the days", 28}}) {
        Words middle = w;
        middle.anchor = Anchor::middle;
        d.words(middle);
        const double half = text_width(w.text, w.size) / 2;
        for (double x = -half; x <= half; x += 6)
            for (const double up : {0., 12., 24.})
                taken.emplace_back(w.at.x() + x, w.at.y() - up);
    }
    for (double t = 0; t <= 1; t += 0.02) {
        taken.emplace_back(at_thin.x() + t * (corner.x() - at_thin.x()), corner.y());
        taken.emplace_back(corner.x(), corner.y() + t * (at_thick.y() - corner.y()));
    }
    chart.traces(list, taken);
    d.dot(at_thin, 9, ink);
    d.dot(at_thick, 9, ink);
    y = draw_key(d, {side, d.width - side, frame.bottom + 96, 0},
                 {{KeyEntry::Kind::patch, band, "90 of 100 rounds", Dash::none}});
    d.height = foot(d, y, sources + ". S: seen in the source; M: from memory.") + 20;
    return d;
}

Drawing spread_figure(const inference::Answer& a) {
    constexpr double row = 124, bar = 34;
    const inference::Ranges& r = *a.ranges;
    const std::string answer = capital(core_range(r.pull));
    std::vector<const inference::SpreadShare*> told;
    double rest = 0;
    for (const inference::SpreadShare& s : r.shares)
        if (s.total >= least_share)
            told.push_back(&s);
        else
            rest = std::max(rest, s.total);
    std::string detail = asked_of(a.outcome) + '.';
    for (const inference::SpreadShare* s : told)
        detail += ' ' + capital(s->name) + ' ' + fixed(100 * s->total, 0) + " %.";
    Drawing d(answer, detail);
    double y = head(d, a.outcome.findings, answer, asked_of(a.outcome));
    y = heading(d, {0, d.width, y, 0}, "What the spread of that day comes from");
    double most = 0;
    for (const inference::SpreadShare* s : told)
        most = std::max(most, s->total);
    for (const inference::SpreadShare* s : told) {
        Words name{{side, y + 34}, capital(s->name), 28};
        name.bold = true;
        d.words(name);
        const double wide = (d.width - 2 * side - 110) / most, low = y + 46;
        d.box({side, side + wide * s->total, low, low + bar}, pale);
        d.box({side, side + wide * s->first, low, low + bar}, dark);
        d.words({{side + wide * s->total + 14, low + 27}, fixed(100 * s->total, 0) + " %", 28});
        d.words({{side, low + bar + 32},
                 s->remedy.empty() ? "known no better by anything a cook can do"
                                   : "to know it better: " + s->remedy,
                 26});
        y += row + 14;
    }
    y = draw_key(d, {side, d.width - side, y + 14, 0},
                 {{KeyEntry::Kind::patch, dark, "by itself", Dash::none},
                  {KeyEntry::Kind::patch, pale, "and together with others", Dash::none}});
    std::string note = "Shares of the spread (the variance of the day's logarithm); they overlap.";
    if (rest > 0)
        note += " Each of the others: at most " + fixed(std::ceil(100 * rest), 0) + " %.";
    d.height = foot(d, y, note) + 16;
    return d;
}

} // namespace tidemark::output
