// SPDX-License-Identifier: MIT
/// One gnuplot script. Sizes are in pixels of a page 1080 wide, so that on a phone, which shows it
/// a third as large, the text still is ten pixels high.
#include "output/figure.hpp"

#include "base/quantity.hpp"
#include "output/best_view.hpp"
#include "output/danger_band.hpp"
#include "output/figure_layout.hpp"
#include "output/gnuplot.hpp"
#include "output/words.hpp"

#include <algorithm>

namespace tidemark::output {
namespace {

class Script {
public:
    Script(std::ostream& out, double dot, const cure::Outcome& p, const cure::Picture& picture,
           const Layout& layout, const std::vector<std::array<geometry::Point, 2>>& seen)
        : out_(out), p_(p), picture_(picture), layout_(layout), seen_(seen),
          scale_(p.has_nitrite, p.first().target, p.first().stable_target, picture), dot_(dot) {}

    void write() {
        sheet();
        data();
        colours();
        scale_bar();
        front_labels();
        plot();
    }

private:
    void sheet() {
        out_ << "unset border\nunset tics\n";
        const Box& map = layout_.map;
        out_ << "set lmargin at screen " << map.left / layout_.width << "\nset rmargin at screen "
             << map.right / layout_.width << "\nset tmargin at screen " << map.top / layout_.height
             << "\nset bmargin at screen " << map.bottom / layout_.height << '\n'
             << "set xrange [" << layout_.x0 << ':' << layout_.x1 << "]\nset yrange [" << layout_.y0
             << ':' << layout_.y1 << "]\n";
        double top = layout_.top - 34;
        for (const std::string& line : layout_.title) {
            out_ << "set label " << quoted(line) << " at screen 0.5, screen "
                 << top / layout_.height << " center\n";
            top -= 42;
        }
        out_ << "set key at screen " << 60 / layout_.width << ", screen "
             << layout_.key / layout_.height
             << " left top Left reverse vertical maxrows 3 samplen 2 spacing 1.15\n";
    }

    void ring(const geometry::Ring& ring) {
        for (const geometry::Point& point : ring) {
            out_ << point.x() << ' ' << point.y() << '\n';
        }
        out_ << ring.front().x() << ' ' << ring.front().y() << "\n\n";
    }

    /// The edges of the outline that the brine does not reach.
    void sealed() {
        const geometry::Ring& ring = picture_.section.outline;
        out_ << "$sealed << EOD\n";
        for (std::size_t k = 0; k < ring.size(); ++k) {
            const geometry::Point &a = ring[k], &b = ring[(k + 1) % ring.size()];
            const geometry::Point middle((a.x() + b.x()) / 2, (a.y() + b.y()) / 2);
            if (!geometry::wet(picture_.section, middle)) {
                out_ << a.x() << ' ' << a.y() << '\n' << b.x() << ' ' << b.y() << "\n\n";
            }
        }
        out_ << "EOD\n";
    }

    void data() {
        out_ << "$outline << EOD\n";
        ring(picture_.section.outline);
        out_ << "EOD\n";
        for (const char* kind : {"fat", "bone"}) {
            if (has(kind)) {
                out_ << '$' << kind << " << EOD\n";
                for (const geometry::Region& region : picture_.section.regions) {
                    if (region.kind == kind) {
                        ring(region.ring);
                    }
                }
                out_ << "EOD\n";
            }
        }
        if (!picture_.section.seals.empty()) {
            sealed();
        }
        if (!seen_.empty()) {
            out_ << "$seen << EOD\n";
            for (const auto& [a, b] : seen_) {
                out_ << a.x() << ' ' << a.y() << '\n' << b.x() << ' ' << b.y() << "\n\n";
            }
            out_ << "EOD\n";
        }
        for (const bool now : {false, true}) {
            if (!has_front(now)) {
                continue;
            }
            out_ << (now ? "$edge" : "$fronts") << " << EOD\n";
            for (const cure::Picture::Front& front : picture_.fronts) {
                for (const auto& line : front.lines) {
                    if (is_now(front) != now || line.empty()) {
                        continue;
                    }
                    for (const geometry::Point& point : line) {
                        out_ << point.x() << ' ' << point.y() << '\n';
                    }
                    out_ << '\n';
                }
            }
            out_ << "EOD\n";
        }
    }

    void colours() {
        const double last = scale_.steps();
        // Light grey up to the target, then pink that deepens: darker is more cured throughout, for
        // readers who see no difference of hue.
        out_ << "set palette defined (0 '#d9d8d4', 0.999 '#b3b0ab', 1 '#e39aa6', " << last
             << " '#8c1d3b')\nset cbrange [0:" << last
             << "]\nset colorbox horizontal user origin screen " << 60 / layout_.width
             << ", screen " << layout_.colourbar / layout_.height << " size screen "
             << 1 - 120 / layout_.width << ", screen " << 30 / layout_.height
             << "\nset cbtics scale 0 (";
        for (int k = 0; k <= last; ++k) {
            out_ << (k ? ", " : "") << '"' << scale_.label(k) << "\" " << k;
        }
        out_ << ")\nset cblabel "
             << quoted((p_.has_nitrite ? "nitrite arrived by " : "salt on ") + day_shown(p_) +
                       (p_.has_nitrite ? " [ppm of the meat]" : " [% of the meat]"))
             << '\n';
    }

    void scale_bar() {
        const double length = layout_.bar;
        const double x = layout_.x0, y = layout_.y0 - 34 / layout_.pixels_per_metre;
        out_ << "set arrow from " << x << ',' << y << " to " << x + length << ',' << y
             << " heads size screen 0.008,90 lw 4 lc rgb 'black'\nset label "
             << quoted(base::show_length(length)) << " at "
             << x + length + 20 / layout_.pixels_per_metre << ',' << y << " left\n";
    }

    void front_labels() {
        out_ << "set style textbox opaque noborder margins 0.6,0.4\n";
        for (const PlacedLabel& label : place_labels(picture_, layout_)) {
            out_ << "set label " << quoted(label.text) << " at " << label.at.x() << ','
                 << label.at.y() << " center front boxed\n";
        }
    }

    void plot() {
        // Gaps of the field (bone, outside) stay white.
        out_ << "plot '-' binary array=(" << picture_.nx << ',' << picture_.ny
             << ") dx=" << picture_.step << " dy=" << picture_.step << " origin=(" << picture_.x0
             << ',' << picture_.y0 << ") format='%double' with image notitle";
        if (has("fat")) {
            out_ << ", $fat with filledcurves closed fs solid noborder fc rgb '#f4e6b8' notitle"
                    ", $fat with filledcurves closed fs transparent pattern 4 border lc rgb "
                    "'#8a6d1f' fc rgb '#8a6d1f' title 'fat'";
        }
        if (has("bone")) {
            out_ << ", $bone with filledcurves closed fs solid noborder fc rgb 'white' notitle"
                    ", $bone with filledcurves closed fs transparent pattern 2 border lc rgb "
                    "'black' fc rgb '#555555' title 'bone'";
        }
        const std::string edge = p_.has_nitrite ? "edge of pink" : "edge of the cure";
        if (has_front(false)) {
            line("$fronts", 3, edge + ", by day");
        }
        if (has_front(true)) {
            line("$edge", 7, edge + ", " + day_shown(p_));
        }
        if (!seen_.empty()) {
            out_
                << ", $seen with lines lw 16 lc rgb 'white' notitle, $seen with lines lw 10 lc rgb "
                   "'#d55e00' title 'pink seen to end'";
        }
        out_ << ", $outline with lines lw 5 lc rgb 'black' notitle";
        if (!picture_.section.seals.empty()) {
            out_ << ", $sealed with lines lw 14 lc rgb '#7a7a7a' title 'sealed'";
        }
        out_ << ", '-' with points pt 7 ps " << 1.6 * dot_ << " lc rgb 'white' notitle"
             << ", '-' with points pt 7 ps " << dot_
             << " lc rgb 'black' title 'core, cured last'\n";
        const std::vector<double> field = scale_.raster(picture_);
        out_.write(reinterpret_cast<const char*>(field.data()),
                   static_cast<std::streamsize>(field.size() * sizeof(double)));
        for (int k = 0; k < 2; ++k) {
            out_ << picture_.core.x() << ' ' << picture_.core.y() << "\ne\n";
        }
    }

    /// A dark line in a light casing, seen on any ground.
    void line(const std::string& name, int width, const std::string& title) {
        out_ << ", " << name << " with lines lw " << width + 4 << " lc rgb 'white' notitle, "
             << name << " with lines lw " << width << " lc rgb '#1b2a5c' title " << quoted(title);
    }

    bool has(const std::string& kind) const {
        return std::ranges::count(picture_.section.regions, kind, &geometry::Region::kind) > 0;
    }
    bool is_now(const cure::Picture::Front& front) const {
        return std::abs(front.time - picture_.time) < 60;
    }
    bool has_front(bool now) const {
        return std::ranges::any_of(picture_.fronts, [&](const cure::Picture::Front& front) {
            return is_now(front) == now &&
                   std::ranges::any_of(front.lines, [](const auto& line) { return !line.empty(); });
        });
    }

    std::ostream& out_;
    const cure::Outcome& p_;
    const cure::Picture& picture_;
    const Layout& layout_;
    const std::vector<std::array<geometry::Point, 2>>& seen_;
    ColourScale scale_;
    double dot_;
};

/// "Best: day 14, 97 in 100 right".
std::string answer(const inference::BestDay& day) {
    return day.best
               ? "Best: " + kept_day(day.best->time) + ", " + in_100(day.best->right) + " right"
               : "No day is right";
}

} // namespace

void draw_figure(const cure::Outcome& prediction, const cure::Picture& picture,
                 const std::string& path, const std::optional<inference::Ranges>& ranges,
                 const std::vector<std::array<geometry::Point, 2>>& seen) {
    judge::Findings findings = prediction.findings;
    if (ranges) {
        findings.supersede(ranges->findings);
    }
    const DangerBand band(findings);
    const Layout layout(picture, prediction.title + (ranges ? ". " + answer(ranges->best) : ""),
                        band.height());
    draw_page(path, layout.height, [&](std::ostream& out, double dot) {
        band.draw(out, layout.height);
        Script(out, dot, prediction, picture, layout, seen).write();
    });
}

} // namespace tidemark::output
