// SPDX-License-Identifier: MIT
/// Panels from top to bottom, each with margins of its own. Colours are those of Okabe and Ito
/// (2008), which readers who see fewer hues tell apart.
#include "output/plan_figure.hpp"

#include "output/best_view.hpp"
#include "output/danger_band.hpp"

#include "base/quantity.hpp"
#include "output/gnuplot.hpp"
#include "output/plan_report.hpp"
#include "output/words.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::output {
namespace {

constexpr const char *blue = "#0072b2", *orange = "#d55e00", *dark = "#1b2a5c";

/// A panel between two heights of the page [pixels from the bottom].
void panel(std::ostream& out, double page_height, double bottom, double top, double left = 150,
           double right = 40) {
    out << "set lmargin at screen " << left / page_width << "\nset rmargin at screen "
        << 1 - right / page_width << "\nset bmargin at screen " << bottom / page_height
        << "\nset tmargin at screen " << top / page_height << '\n';
}

class PlanFigure {
public:
    PlanFigure(std::ostream& out, const cure::Outcome& r,
               const std::optional<inference::ScheduleRange>& range, double page_height)
        : out_(out), r_(r), range_(range), page_(page_height) {}

    void course(const std::vector<cure::Reading>& readings, double bottom, double top) {
        out_ << "$course << EOD\n";
        for (const cure::Reading& c : readings)
            out_ << c.time / 86400 << ' ' << 100 * c.mean_salt << ' ' << 100 * c.surface_salt << ' '
                 << 100 * c.core_salt << ' ' << 1e6 * c.core_arrived << ' ' << 1e6 * c.mean_residual
                 << '\n';
        out_ << "EOD\n";
        const double middle = (bottom + top) / 2;
        const double last = r_.first().stages.back().to / 86400;
        out_ << "set xrange [0:" << last
             << "]\nset border 3 lw 2\nset xtics nomirror\nset ytics nomirror\n"
             << "set grid ytics lc rgb '#dddddd'\n";
        bands(top, last);
        panel(out_, page_, r_.has_nitrite ? middle + 50 : bottom, top);
        out_ << "set offsets 0,0,graph 0.3,0\nset yrange [0:*]\nset ylabel 'salt [%]' offset 1,0\n"
             << (r_.has_nitrite ? "set format x ''\nunset xlabel\n" : "set xlabel 'days'\n")
             << "set key at screen 0.97, screen " << (top - 6) / page_
             << " right top maxrows 1 samplen 1.2 width -1\n"
             << "plot $course using 1:3 with lines lw 6 dt 2 lc rgb '" << orange
             << "' title 'surface', $course using 1:2"
             << " with lines lw 7 lc rgb '" << dark
             << "' title 'mean', $course using 1:4 with lines lw 6 dt 4 lc rgb '" << blue
             << "' title 'least'\n";
        unset();
        if (!r_.has_nitrite) {
            out_ << "unset offsets\n";
            return;
        }
        panel(out_, page_, bottom, middle - 10);
        out_ << "set format x\nset xlabel 'days'\nset ylabel 'nitrite [ppm]' offset 1,0\n"
             << "set arrow from 0," << 1e6 * r_.first().target << " to " << last << ','
             << 1e6 * r_.first().target
             << " nohead lw 3 dt 3 lc rgb 'black'\nset key at screen 0.97, screen "
             << (middle - 16) / page_ << " right top maxrows "
             << (cured_range(last).empty() ? 1 : 2) << " samplen 1.2\n"
             << cured_range(last) << "plot $course using 1:5 with lines lw 7 lc rgb '" << orange
             << "' title 'arrived at the core', " << 1e6 * r_.first().target
             << " with lines lw 3 dt 3 lc rgb 'black' title 'pink from here'"
             << (cured_range(last).empty() ? ""
                                           : ", NaN with boxes fs solid noborder lc rgb '#f6d9bf' "
                                             "title 'cured in 90 of 100 cuts'")
             << "\nunset offsets\n";
        unset();
    }

    void raster(const cure::Picture& p, const std::string& title, double bottom, double top) {
        const double width = p.nx * p.step, height = p.ny * p.step;
        const double scale = std::min((page_width - 360) / width, (top - bottom - 60) / height);
        const double left = (page_width - 160 - scale * width) / 2;
        panel(out_, page_, bottom, bottom + scale * height, left, left + 160);
        double most = 0;
        for (const double v : p.salt)
            most = std::isfinite(v) ? std::max(most, 100 * v) : most;
        out_ << "unset border\nunset tics\nunset grid\nunset xlabel\nunset ylabel\nset label 9 "
             << quoted(title) << " at screen 0.43, screen "
             << (bottom + scale * height + 30) / page_ << " center\n"
             << "set xrange [" << p.x0 - p.step << ':' << p.x0 + width << "]\nset yrange ["
             << p.y0 - p.step << ':' << p.y0 + height << "]\n"
             << "set palette defined (0 '#f2f6fa', 0.5 '#7fb0d0', 1 '#123a63')\nset colorbox "
                "vertical user origin screen "
             << 1 - 140 / page_width << ", screen " << bottom / page_ << " size screen "
             << 28 / page_width << ", screen " << scale * height / page_
             << "\nset cbtics scale 0 0," << fixed(most / 3, most < 1 ? 2 : 1)
             << "\nset cbrange [0:" << most << "]\nset label 8 'salt [%]' at screen "
             << 1 - 95 / page_width << ", screen " << (bottom + scale * height + 30) / page_
             << " center\n";
        out_ << "$ring << EOD\n";
        for (const geometry::Point& q : p.section.outline)
            out_ << q.x() << ' ' << q.y() << '\n';
        out_ << p.section.outline.front().x() << ' ' << p.section.outline.front().y() << "\n";
        for (const geometry::Region& region : p.section.regions) {
            out_ << '\n';
            for (const geometry::Point& q : region.ring)
                out_ << q.x() << ' ' << q.y() << '\n';
            out_ << region.ring.front().x() << ' ' << region.ring.front().y() << '\n';
        }
        out_ << "EOD\nplot '-' binary array=(" << p.nx << ',' << p.ny << ") dx=" << p.step
             << " dy=" << p.step << " origin=(" << p.x0 << ',' << p.y0
             << ") format='%double' with image notitle, $ring with lines lw 3 lc rgb 'black' "
                "notitle, '-' with points pt 7 ps 2 "
                "lc rgb 'white' notitle, '-' with points pt 7 ps 1.3 lc rgb 'black' notitle\n";
        std::vector<double> field(p.salt);
        for (double& v : field)
            v *= 100;
        out_.write(reinterpret_cast<const char*>(field.data()),
                   static_cast<std::streamsize>(field.size() * sizeof(double)));
        for (int k = 0; k < 2; ++k)
            out_ << p.core.x() << ' ' << p.core.y() << "\ne\n";
        out_ << "unset label 9\nunset label 8\nunset colorbox\n";
    }

private:
    /// A band over the days on which 90 of 100 such cuts are cured.
    std::string cured_range(double last) const {
        if (!range_ || !(range_->cured.early / 86400 < last))
            return "";
        return "set object 90 rect from " + fixed(range_->cured.early / 86400, 3) +
               ", graph 0 to " + fixed(std::min(range_->cured.late / 86400, last), 3) +
               ", graph 0.8 fc rgb '#f6d9bf' fs solid noborder behind\n";
    }

    void unset() { out_ << "unset label\nunset object\nunset arrow\n"; }

    /// Alternating grounds with the stages' names above.
    void bands(double top, double last) {
        int k = 0;
        for (const cure::StageResult& s : r_.first().stages) {
            ++k;
            const double from = s.from / 86400, to = s.to / 86400;
            if (k % 2 == 0)
                out_ << "set object " << k << " rect from " << from << ", graph 0 to " << to
                     << ", graph 1 fc rgb '#eef1f6' fs solid noborder behind\n";
            if (to - from > 0.09 * last) // a shorter one has no room for its name
                out_ << "set label " << quoted(stage_name(s.stage)) << " at first "
                     << (from + to) / 2 << ", screen " << (top + 22) / page_ << " center\n";
        }
    }

    std::ostream& out_;
    const cure::Outcome& r_;
    const std::optional<inference::ScheduleRange>& range_;
    double page_;
};

double raster_height(const cure::Picture& p) {
    return std::clamp((page_width - 360) * p.ny / p.nx, 120.0, 420.0);
}

} // namespace

void draw_plan(const cure::Outcome& r, const std::vector<cure::Reading>& course,
               const std::optional<inference::ScheduleRange>& range, const cure::Picture& section,
               const std::optional<cure::Picture>& across, const std::string& path) {
    const double first = raster_height(section) + 80,
                 second = across ? raster_height(*across) + 80 : 0;
    const double chart = r.has_nitrite ? 900 : 500;
    const DangerBand band(r.findings);
    const double title = chart + first + second + 190, page_height = title + band.height();
    std::string muscle = r.question.base.piece.muscle;
    std::ranges::replace(muscle, '-', ' ');
    draw_page(path, page_height, [&](std::ostream& out, double) {
        out << "set multiplot\n";
        band.draw(out, page_height);
        const double thickness = r.question.base.piece.dimensions.thickness;
        out << "set label 1 "
            << quoted(muscle + (thickness > 0 ? ", " + base::show_length(thickness) : "") +
                      ": salt and nitrite by day")
            << " at screen 0.5, screen " << (title - 34) / page_height << " center\n";
        PlanFigure figure(out, r, range, page_height);
        figure.course(course, title - 110 - chart + 120, title - 110);
        double top = title - 110 - chart + 10;
        figure.raster(section, "the section at the end", top - first + 30, top);
        if (across)
            figure.raster(*across, "the plane across the needles, " + show_day(across->time),
                          top - first - second + 30, top - first);
        out << "unset multiplot\n";
    });
}

void draw_choice(const cure::Choice& c, const inference::Ways& ways, const std::string& path) {
    const DangerBand band(all_findings(c));
    const double row = 150, title = 310 + row * static_cast<double>(c.methods.size()),
                 page_height = title + band.height();
    double last = c.question.within.value_or(0);
    // Taken out on its best day; one that has none, when its core is cured.
    const auto out_of_cure = [&](std::size_t k) {
        const auto& chance = ways.list[k].chance;
        return chance && chance->best.best
                   ? chance->best.best->time
                   : c.methods[k].pull.value_or(c.methods[k].result.first().stages.back().to);
    };
    for (std::size_t k = 0; k < c.methods.size(); ++k)
        last = std::max({last, out_of_cure(k), ways.list[k].ready.value_or(0)});
    last = 1.05 * std::max(last, 86400.0) / 86400;
    draw_page(path, page_height, [&](std::ostream& out, double) {
        band.draw(out, page_height);
        panel(out, page_height, 120, title - 180, 290, 40);
        std::string muscle = c.question.base.piece.muscle;
        std::ranges::replace(muscle, '-', ' ');
        const double thickness = c.question.base.piece.dimensions.thickness;
        out << "set label "
            << quoted(muscle + (thickness > 0 ? ", " + base::show_length(thickness) : "") +
                      ": the ways")
            << " at screen 0.5, screen " << (title - 34) / page_height
            << " center\nset border 1 lw 2\nset xtics nomirror\nset xlabel 'days'\n"
            << "set xrange [0:" << last << "]\nset yrange [0:" << c.methods.size()
            << "]\nset ytics scale 0 (";
        for (std::size_t k = 0; k < c.methods.size(); ++k)
            out << (k ? ", " : "") << quoted(c.methods[k].name) << ' '
                << static_cast<double>(c.methods.size() - k) - 0.35;
        out << ")\nset key at screen 0.5, screen " << (title - 62) / page_height
            << " center top maxrows 2 samplen 1.5\n";
        out << "set style textbox opaque noborder margins 0.3,0.1\n";
        int object = 0;
        const auto bar = [&](double from, double to, double y, const char* colour) {
            out << "set object " << ++object << " rect from " << from / 86400 << ',' << y - 0.17
                << " to " << std::min(to / 86400, last) << ',' << y + 0.17 << " fc rgb '" << colour
                << "' fs solid noborder\n";
        };
        for (std::size_t k = 0; k < c.methods.size(); ++k) {
            const cure::Method& m = c.methods[k];
            const double y = static_cast<double>(c.methods.size() - k) - 0.35;
            const inference::Way& way = ways.list[k];
            bar(0, out_of_cure(k), y, dark);
            if (way.ready && *way.ready > out_of_cure(k))
                bar(out_of_cure(k), *way.ready, y, "#7fb8d8");
            if (way.chance && way.chance->best.window) {
                const auto& [from, to] = *way.chance->best.window;
                out << "set arrow from " << from / 86400 << ',' << y << " to "
                    << std::min(to / 86400, last) << ',' << y
                    << (to / 86400 > last ? " head" : " heads size screen 0.008,90")
                    << " lw 4 lc rgb 'black' front\n";
            }
            const cure::Reading& e = m.result.first().stages.back().end;
            std::string text = way.chance && way.chance->best.best
                                   ? kept_day(out_of_cure(k)) + ": " +
                                         fixed(100 * way.chance->best.best->right, 0) + " in 100, "
                                   : "";
            text += "salt " + fixed(100 * e.mean_salt, 1) + " %";
            if (m.result.has_nitrite)
                text += ", " + fixed(1e6 * m.result.ingoing.whole_system.value_or(0), 0) + " ppm";
            text += way.ruled_out.empty() ? "" : ": out";
            out << "set label " << quoted(text) << " at graph 0.01, first " << y - 0.36
                << " left front boxed" << (way.ruled_out.empty() ? "" : " tc rgb '#8a3d00'")
                << '\n';
        }
        if (c.question.within)
            out << "set arrow from " << *c.question.within / 86400 << ", graph 0 to "
                << *c.question.within / 86400 << ", graph 1 nohead lw 4 dt 3 lc rgb '" << orange
                << "'\n";
        out << "plot NaN with lines lw 16 lc rgb '" << dark
            << "' title 'in the cure', NaN with lines lw 16 lc rgb "
            << "'#7fb8d8' title 'rest'"
            << ", NaN with lines lw 4 lc rgb 'black' title '90 in 100 right'"
            << (c.question.within ? ", NaN with lines lw 4 dt 3 lc rgb '" + std::string(orange) +
                                        "' title 'asked for'"
                                  : "")
            << '\n';
    });
}

} // namespace tidemark::output
