// SPDX-License-Identifier: MIT
#include "output/figure.hpp"

#include "base/text.hpp"
#include "output/chart.hpp"
#include "output/figure_parts.hpp"
#include "output/slice_words.hpp"
#include "output/view_parts.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

constexpr double side = page_margin, day = 86400;
constexpr const char *dark = "#14213d", *orange = "#b84a00", *blue = "#0072b2", *pale = "#9db8d6",
                     *out = "#9a9a9a", *sure = "#e69f00";

std::string heading_of(const cure::Outcome& o, const SectionPanel& p) {
    if (p.shows == SectionPanel::Shows::told)
        return "As told, on " + day_shown(o, p.picture.time);
    return (p.shows == SectionPanel::Shows::across ? "Across the needles. "
            : o.pieces.size() > 1                  ? o.pieces[p.piece].name + ". "
                                                   : std::string()) +
           section_heading(o, p.picture);
}

/// The sections under each other, or beside each other where they are as high as wide.
double sections(Drawing& d, double y, const inference::Answer& a,
                const std::vector<SectionPanel>& panels) {
    constexpr double tallest = 720, gap = 40;
    std::vector<KeyEntry> key;
    const auto high = [&](std::size_t k) { return section_height(panels[k].picture, 1) > 0.6; };
    for (std::size_t k = 0; k < panels.size();) {
        const bool two = k + 1 < panels.size() && high(k) && high(k + 1);
        const std::size_t count = two ? 2 : 1;
        const double wide = (d.width - 2 * side - (two ? gap : 0)) / static_cast<double>(count);
        double low = y;
        for (std::size_t n = 0; n < count; ++n, ++k) {
            const SectionPanel& p = panels[k];
            const double left = side + static_cast<double>(n) * (wide + gap);
            const Box where{left, left + wide, y, 0};
            const double top = heading(d, where, heading_of(a.outcome, p));
            // One that only shows how it ends needs less room.
            const double share = two || !p.marks.fronts.empty() ? 1 : 0.62;
            const double margin = wide * (1 - share) / 2;
            low = std::max(
                low, draw_section(d, {left + margin, left + wide - margin, top, top + tallest},
                                  a.outcome, p.piece, p.picture, p.marks, key));
        }
        y = low + 16;
    }
    return draw_key(d, {side, d.width - side, y + 6, 0}, key) + 10;
}

std::string detail(const std::string& asked, const cure::Outcome& o,
                   const std::vector<SectionPanel>& panels) {
    std::string text = asked + '.';
    for (const SectionPanel& p : panels)
        text += ' ' + heading_of(o, p) + '.';
    return text;
}

} // namespace

Drawing section_figure(const inference::Answer& a, const std::vector<SectionPanel>& panels,
                       const std::optional<inference::Slice>& seen) {
    const cure::Outcome& o = a.outcome;
    std::vector<const inference::BestDay*> chances;
    std::string answer = a.chances.empty() ? capital(core_cured(o)) : "";
    if (a.ranges) {
        chances.push_back(&a.ranges->best);
        answer = capital(best_brief(a.ranges->best));
    }
    for (std::size_t k = 0; k < a.chances.size(); ++k) {
        chances.push_back(&a.chances[k]);
        answer += (k ? "; " : "") + (k ? o.pieces[k].name : capital(o.pieces[k].name)) + ": " +
                  best_brief(a.chances[k]);
    }
    if (seen)
        answer = capital(seen_on(*seen));
    const std::string asked = seen ? o.title : asked_of(o); // as in `why`, whatever stage it is in
    Drawing d(answer, detail(asked, o, panels));
    double y = head(d, o.findings, answer, asked);
    y = sections(d, y, a, panels);
    for (std::size_t k = 0; k < chances.size(); ++k) {
        if (!chances[k]->best || chances[k]->by_day.size() < 2)
            continue;
        const std::string of = chances.size() > 1 ? ": " + o.pieces[k].name : "";
        y = heading(d, {0, d.width, y + 10, 0}, chance_heading + of);
        draw_chance(d, {side, d.width - side, y, y + 430}, *chances[k]);
        y += 440;
    }
    d.height = y + 10;
    return d;
}

std::string sections_svg(const inference::Answer& a, const std::vector<SectionPanel>& panels) {
    Drawing d(sections_heading, detail(asked_of(a.outcome), a.outcome, panels));
    d.width = narrow_width;
    d.height = sections(d, 0, a, panels);
    return svg(d, false);
}

Drawing plan_figure(const inference::Answer& a, const std::vector<cure::Reading>& course,
                    const std::vector<SectionPanel>& panels) {
    const cure::Outcome& o = a.outcome;
    const std::string answer = capital(a.chance ? kept_brief(o, *a.chance) : core_cured(o));
    Drawing d(answer, detail(asked_of(o), o, panels));
    double y = head(d, o.findings, answer, asked_of(o));

    const double days = o.first().stages.back().to / day;
    const auto trace = [&](auto value, const char* name, const char* colour, double width,
                           Dash dash) {
        Trace t{{}, name, colour, width, dash};
        for (const cure::Reading& r : course)
            t.points.emplace_back(r.time / day, value(r));
        return t;
    };
    bool first = true;
    const auto panel = [&](const std::vector<Trace>& traces, const std::string& upright,
                           double least, bool last) {
        double most = least;
        for (const Trace& t : traces)
            for (const Point& p : t.points)
                most = std::max(most, 1.25 * p.y());
        Chart chart(d, {side + 75, d.width - side, y + 60, y + 360}, days, most);
        int k = 0;
        for (const cure::StageResult& s : o.first().stages)
            if (++k % 2 == 0)
                chart.ground(s.from / day, s.to / day, "#eef1f6");
        chart.axes(upright, last ? "days" : "");
        for (const cure::StageResult& s :
             o.first().stages) { // a short one has no room for its name
            const double from = chart.at(s.from / day, 0).x(), to = chart.at(s.to / day, 0).x();
            const Words name{{(from + to) / 2, y + 46}, stage_name(s.stage), 28, Anchor::middle};
            if (first && text_width(name.text, 28) < to - from)
                d.words(name);
        }
        first = false;
        chart.traces(traces);
        y += last ? 470 : 400;
    };
    panel({trace([](const cure::Reading& r) { return 100 * r.surface_salt; }, "surface", orange, 5,
                 Dash::dashed),
           trace([](const cure::Reading& r) { return 100 * r.mean_salt; }, "mean", dark, 7,
                 Dash::none),
           trace([](const cure::Reading& r) { return 100 * r.core_salt; }, "least", blue, 5,
                 Dash::dotted)},
          "salt [%]", 0.1, !o.has_nitrite);
    if (o.has_nitrite) {
        Trace from{{{0, 1e6 * o.first().target}, {days, 1e6 * o.first().target}},
                   "cured from here",
                   "#4a4a4a",
                   4,
                   Dash::dashed};
        panel({trace([](const cure::Reading& r) { return 1e6 * r.core_arrived; },
                     "arrived at the core", dark, 7, Dash::none),
               from},
              "nitrite [ppm]", 2.5e6 * o.first().target, true);
    }
    d.height = sections(d, y, a, panels) + 10;
    return d;
}

Drawing choice_figure(const cure::Choice& c, const inference::Ways& ways, bool alone) {
    constexpr double row = 120, bar = 40;
    const double size = alone ? 28 : 25;
    const std::string answer = choice_brief(c, ways), asked = asked_of(c);
    std::vector<std::size_t> shown; // the rows, by their methods
    for (std::size_t k = 0; k < c.methods.size(); ++k)
        if (!left_out(c, k))
            shown.push_back(k);

    // Taken out on its best day; one that has none, when its core is cured, if it ever is.
    const auto out_of_cure = [&](std::size_t k) {
        const auto& chance = ways.list[k].chance;
        return (chance && chance->best.best ? chance->best.best->time
                                            : c.methods[k].pull.value_or(0)) /
               day;
    };
    double last = c.question.within.value_or(0) / day;
    for (const std::size_t k : shown)
        last = std::max({last, out_of_cure(k), ways.list[k].ready.value_or(0) / day});
    last = 1.05 * std::max(last, 1.0);

    std::vector<std::string> texts;
    std::string all = asked + '.';
    for (const std::size_t k : shown) {
        const cure::Method& m = c.methods[k];
        std::string text = way_brief(c, ways, k);
        if (alone)
            text += ", salt " + show_percent(m.result.first().stages.back().end.mean_salt);
        all += ' ' + text;
        if (m.result.has_nitrite)
            all += ", ingoing nitrite " + show_ppm(m.result.ingoing.whole_system.value_or(0));
        all += ways.list[k].ruled_out.empty() ? "." : ", ruled out.";
        texts.push_back(text);
    }
    Drawing d(answer, all);
    if (!alone)
        d.width = narrow_width;
    const double top = alone ? head(d, findings_of(c, ways.best), answer, asked) : 0;
    const double bottom = top + row * static_cast<double>(shown.size()) + 20;
    Chart chart(d, {side, d.width - side, top, bottom}, last, 1);
    std::vector<KeyEntry> key{{KeyEntry::Kind::patch, dark, "in the cure", Dash::none}};
    const auto add = [&](const KeyEntry& entry) {
        if (std::ranges::find(key, entry) == key.end())
            key.push_back(entry);
    };
    if (c.question.within) {
        const double x = chart.at(*c.question.within / day, 0).x();
        d.line({{x, top + 10}, {x, bottom}}, orange, 5, Dash::dashed);
        add({KeyEntry::Kind::stroke, orange, "wanted then", Dash::dashed});
    }
    for (std::size_t n = 0; n < shown.size(); ++n) {
        const std::size_t k = shown[n];
        const inference::Way& way = ways.list[k];
        const double y = top + row * static_cast<double>(n);
        Words words{{side, y + 42}, texts[n], size};
        words.bold = ways.best == k;
        d.box({side, side + text_width(texts[n], words.bold ? 1.07 * size : size), y + 16, y + 50},
              "#ffffff"); // over the day it is wanted
        d.words(words);
        const double low = y + 58, x = chart.at(out_of_cure(k), 0).x();
        d.box({side, x, low, low + bar}, way.ruled_out.empty() ? dark : out);
        if (!way.ruled_out.empty() && out_of_cure(k) > 0)
            add({KeyEntry::Kind::patch, out, "ruled out", Dash::none});
        if (way.ready && *way.ready / day > out_of_cure(k)) {
            d.box({x, chart.at(*way.ready / day, 0).x(), low, low + bar}, pale);
            add({KeyEntry::Kind::patch, pale, "rest", Dash::none});
        }
        if (way.chance && way.chance->best.window) {
            const double from = chart.at(way.chance->best.window->first / day, 0).x(),
                         to =
                             chart.at(std::min(way.chance->best.window->second / day, last), 0).x();
            d.line({{from, low + bar / 2}, {to, low + bar / 2}}, "#ffffff", 16);
            d.line({{from, low + bar / 2}, {to, low + bar / 2}}, sure, 10);
            add({KeyEntry::Kind::stroke, sure, "days that are sure", Dash::none});
        }
    }
    const double step = round_step(last, 8);
    for (int k = 0; k * step <= last; ++k) {
        const double x = chart.at(k * step, 0).x();
        d.line({{x, bottom}, {x, bottom + 10}}, "#1a1a1a", 3);
        d.words({{x, bottom + 42}, base::significant(k * step, 4), 28, Anchor::middle});
    }
    d.line({{side, bottom}, {d.width - side, bottom}}, "#1a1a1a", 3);
    d.words({{d.width - side, bottom + 80}, "days", 28, Anchor::end});
    d.height = draw_key(d, {side, d.width - 150, bottom + 54, 0}, key) + 20;
    return d;
}

} // namespace tidemark::output
