// SPDX-License-Identifier: MIT
#include "output/section_drawing.hpp"

#include "base/quantity.hpp"
#include "output/best_view.hpp"
#include "output/curve.hpp"
#include "output/section_map.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

constexpr const char *grey = "#cfccc6", *pink = "#e08a9d", *lasting = "#ad3f63", // cure
                                                               *raw = "#dfe5ea",
                     *salted = "#6f97b8", // salt alone
                         *fat = "#f7edc8", *fat_rim = "#a08a3c", *bone = "#ffffff",
                     *dark = "#14213d", *black = "#1a1a1a", *shut = "#7a7a7a", *found = "#d55e00";
constexpr double bar_room = 60; ///< below the section [pixels]

/// Metres to pixels.
struct Map {
    double left, top, x0, y1, scale;
    Point operator()(const Point& p) const {
        return {left + (p.x() - x0) * scale, top + (y1 - p.y()) * scale};
    }
    template <class Line> Points operator()(const Line& line) const {
        Points points;
        for (const Point& p : line)
            points.push_back((*this)(p));
        return points;
    }
};

Points closed(Points ring) {
    if (!ring.empty())
        ring.push_back(ring.front());
    return ring;
}

/// The nearest round length below a quarter of the width [m].
double bar_length(double width) {
    const double most = width / 4, power = std::pow(10, std::floor(std::log10(most)));
    return (most >= 5 * power ? 5 : most >= 2 * power ? 2 : 1) * power;
}

class Section {
public:
    Section(Drawing& d, const Map& map, const cure::Outcome& o, std::size_t piece,
            const cure::Picture& p, const SectionMarks& marks, std::vector<KeyEntry>& key)
        : d_(d), map_(map), o_(o), p_(p), scale_(map_scale(o, piece)), marks_(marks), key_(key) {}

    void draw() {
        tones();
        regions();
        for (const cure::Picture::Front& f : marks_.between)
            for (const auto& line : f.lines)
                d_.line(smoothed(map_(line), false), black, 3, Dash::dashed);
        if (!marks_.between.empty())
            add({KeyEntry::Kind::stroke, black,
                 marks_.between.back().lines.empty() ? "cured at least to here in 95 of 100"
                                                     : "90 of 100 edges lie between",
                 Dash::dashed});
        fronts();
        rim();
        for (const auto& [a, b] : marks_.seen) {
            d_.line({map_(a), map_(b)}, "#ffffff", 15);
            d_.line({map_(a), map_(b)}, found, 9);
        }
        if (!marks_.seen.empty())
            add({KeyEntry::Kind::stroke, found, "pink seen to end here", Dash::none});
        if (marks_.core) {
            d_.dot(map_(p_.core), 13, "#ffffff");
            d_.dot(map_(p_.core), 9, black);
            add({KeyEntry::Kind::dot, black, core_mark, Dash::none});
        }
        for (const Words& label : labels_)
            d_.words(label);
        if (marks_.bar)
            bar();
    }

private:
    void add(const KeyEntry& entry) {
        if (std::ranges::find(key_, entry) == key_.end())
            key_.push_back(entry);
    }

    std::vector<Points> rings(const std::vector<geometry::Ring>& list) const {
        std::vector<Points> out;
        for (const geometry::Ring& ring : list)
            out.push_back(smoothed(map_(ring), true));
        return out;
    }

    void tones() {
        const std::vector<Points> outline{thinned(map_(p_.section.outline), true)};
        if (!scale_.nitrite) {
            d_.area(outline, salted);
            d_.area(rings(p_.uncured), raw);
            add({KeyEntry::Kind::patch, raw, "not yet salted", Dash::none});
            add({KeyEntry::Kind::patch, salted, cured_tone(scale_), Dash::none});
            return;
        }
        d_.area(outline, lasting);
        d_.area(rings(p_.unlasting), pink);
        d_.area(rings(p_.uncured), grey);
        add({KeyEntry::Kind::patch, grey, lacks[0].brief, Dash::none});
        if (scale_.lasting > scale_.target)
            add({KeyEntry::Kind::patch, pink, cured_tone(scale_), Dash::none});
        add({KeyEntry::Kind::patch, lasting, lasting_tone(scale_), Dash::none});
    }

    void regions() {
        for (const geometry::Region& r : p_.section.regions) {
            if (r.kind != "fat" && r.kind != "bone")
                continue;
            const Points ring = thinned(map_(r.ring), true);
            const bool is_fat = r.kind == "fat";
            d_.area({ring}, is_fat ? fat : bone);
            d_.line(closed(ring), is_fat ? fat_rim : black, 3);
            add({KeyEntry::Kind::patch, is_fat ? fat : bone, r.kind, Dash::none});
        }
    }

    void fronts() {
        Points clear = dense(map_(p_.section.outline), true, 8);
        for (const geometry::Region& r : p_.section.regions) {
            const Points ring = dense(map_(r.ring), true, 8);
            clear.insert(clear.end(), ring.begin(), ring.end());
        }
        if (marks_.core)
            clear.push_back(map_(p_.core));
        std::vector<std::vector<Points>> drawn;
        for (const cure::Picture::Front& f : marks_.fronts) {
            drawn.emplace_back();
            for (const auto& line : f.lines)
                if (line.size() > 1)
                    drawn.back().push_back(smoothed(map_(line), false));
        }
        for (const auto& lines : drawn)
            for (const Points& line : lines) {
                d_.line(line, "#ffffff", 7);
                d_.line(line, dark, 3.5);
            }
        LinePlaces places(clear);
        for (std::size_t k = 0; k < drawn.size(); ++k) {
            std::vector<Points> others;
            for (std::size_t j = 0; j < drawn.size(); ++j)
                if (j != k)
                    others.insert(others.end(), drawn[j].begin(), drawn[j].end());
            for (const cure::Picture::Front& f : marks_.between)
                for (const auto& line : f.lines)
                    others.push_back(map_(line));
            Words label = places.place(drawn[k], others, day_shown(o_, marks_.fronts[k].time),
                                       d_.width < page_width ? 23 : 28);
            label.colour = dark;
            label.halo = "#ffffff";
            labels_.push_back(label);
        }
        if (!drawn.empty())
            add({KeyEntry::Kind::stroke, dark, "edge of the cure, by day", Dash::none});
    }

    /// The outline, and the stretches that the brine does not reach.
    void rim() {
        d_.line(closed(thinned(map_(p_.section.outline), true)), black, 5);
        if (p_.section.seals.empty())
            return;
        const geometry::Ring& ring = p_.section.outline;
        for (std::size_t k = 0; k < ring.size(); ++k) {
            const Point &a = ring[k], &b = ring[(k + 1) % ring.size()];
            if (!geometry::wet(p_.section, {(a.x() + b.x()) / 2, (a.y() + b.y()) / 2}))
                d_.line({map_(a), map_(b)}, shut, 14);
        }
        add({KeyEntry::Kind::stroke, shut, "shut: no brine reaches it", Dash::none});
    }

    void bar() {
        const geometry::Box box = geometry::bounds(p_.section.outline);
        const double length = bar_length(box.width());
        const Point from = map_(Point(box.low.x(), box.low.y())),
                    to(from.x() + length * map_.scale, 0);
        const double y = from.y() + 36;
        d_.line({{from.x(), y}, {to.x(), y}}, black, 4);
        for (const double x : {from.x(), to.x()})
            d_.line({{x, y - 9}, {x, y + 9}}, black, 4);
        d_.words({{to.x() + 16, y + 10}, base::show_length(length), 28});
    }

    Drawing& d_;
    const Map map_;
    const cure::Outcome& o_;
    const cure::Picture& p_;
    const MapScale scale_;
    const SectionMarks& marks_;
    std::vector<KeyEntry>& key_;
    std::vector<Words> labels_;
};

} // namespace

double section_height(const cure::Picture& p, double wide) {
    const geometry::Box box = geometry::bounds(p.section.outline);
    return wide * box.height() / box.width();
}

double draw_section(Drawing& d, const Box& where, const cure::Outcome& o, std::size_t piece,
                    const cure::Picture& p, const SectionMarks& marks, std::vector<KeyEntry>& key) {
    const geometry::Box box = geometry::bounds(p.section.outline);
    const double below = marks.bar ? bar_room : 0;
    const double pixels = std::min((where.right - where.left) / box.width(),
                                   (where.bottom - where.top - below) / box.height());
    const double left = (where.left + where.right - pixels * box.width()) / 2;
    Section(d, {left, where.top, box.low.x(), box.high.y(), pixels}, o, piece, p, marks, key)
        .draw();
    return where.top + pixels * box.height() + below;
}

double draw_key(Drawing& d, const Box& where, const std::vector<KeyEntry>& entries) {
    constexpr double row = 42, sign = 44, gap = 14, between = 40, size = 28;
    double x = where.left, y = where.top + row / 2;
    for (const KeyEntry& e : entries) {
        const double wide = sign + gap + text_width(e.text, size);
        if (x > where.left && x + wide > where.right) {
            x = where.left;
            y += row;
        }
        if (e.kind == KeyEntry::Kind::patch) {
            const Box patch{x, x + sign, y - 14, y + 14};
            d.box(patch, e.colour);
            d.line(closed({{x, y - 14}, {x + sign, y - 14}, {x + sign, y + 14}, {x, y + 14}}),
                   "#4a4a4a", 1.5);
        } else if (e.kind == KeyEntry::Kind::stroke) {
            d.line({{x, y}, {x + sign, y}}, e.colour, 5, e.dash);
        } else {
            d.dot({x + sign / 2, y}, 9, e.colour);
        }
        d.words({{x + sign + gap, y + 10}, e.text, size});
        x += wide + between;
    }
    return entries.empty() ? where.top : y + row / 2;
}

std::string section_heading(const cure::Outcome& o, const cure::Picture& p) {
    return capital(day_shown(o, p.time)) + ": " + core_state(o, p.uncured.empty());
}

std::string section_svg(const inference::Answer& a, const cure::Picture& p) {
    const cure::Outcome& o = a.outcome;
    Drawing d(section_heading(o, p), asked_of(o) + '.');
    d.width = narrow_width;
    constexpr double side = 12, tallest = 900;
    std::vector<KeyEntry> key;
    double y = 8;
    y = draw_section(d, {side, d.width - side, y, y + tallest}, o, 0, p, {}, key);
    d.height = draw_key(d, {side, d.width - side, y + 10, 0}, key) + 8;
    return svg(d, false);
}

} // namespace tidemark::output
