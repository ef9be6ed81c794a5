// SPDX-License-Identifier: MIT
/// Rasters, fronts and profiles of a solved case. A 1-D answer is spread over a disc or a strip, so
/// that every shape is shown as the section a knife would open.
#include "cure/picture.hpp"

#include "cure/two_meshes.hpp"
#include "geometry/shapes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace tidemark::cure {

namespace {

constexpr double day = 86400;
constexpr double strip = 2.2; ///< width over thickness of the strip shown for a sheet

/// What a picture is drawn from.
struct View {
    const Track& track;
    const Setup& setup;
    const Grid& grid;
    bool nitrite = true;  ///< fronts are of arrived nitrite; otherwise of salt
    double target = 0;    ///< of the fronts [kg per kg]
    double lasting = 0;   ///< of colour that lasts [kg per kg]
    geometry::Point core; ///< [m]; for a line, y is the coordinate along it
};

/// The section shown, with a mesh to read the fields from.
struct Canvas {
    geometry::Section section;
    geometry::Mesh mesh;
    bool spread = false; ///< a 1-D answer
};

Canvas canvas(const View& v) {
    if (v.grid.mesh)
        return {*v.setup.section, *v.grid.mesh, false};
    const Setup& setup = v.setup;
    geometry::Dimensions d;
    d.thickness = 2 * setup.half_thickness;
    const bool sheet = setup.power == 0;
    if (sheet) {
        d.width = strip * d.thickness;
        if (setup.layers.size() > 1)
            d.fat_cap = setup.layers.back().thickness;
        if (!setup.wet_first)
            d.sealed.push_back("bottom");
        if (!setup.wet_last)
            d.sealed.push_back("top");
    }
    Canvas c{sheet ? geometry::block(d, "--shape") : geometry::disc(d, "--shape"), {}, true};
    c.mesh = geometry::triangulate(c.section, d.thickness / 64);
    return c;
}

/// Nodal values of the canvas, read off the line for a 1-D answer.
Eigen::VectorXd on_canvas(const Canvas& c, const View& view, const Eigen::VectorXd& nodal) {
    if (!c.spread)
        return nodal;
    const std::vector<double>& x = view.grid.line->nodes;
    const geometry::Box box = geometry::bounds(c.section.outline);
    Eigen::VectorXd v(static_cast<Eigen::Index>(c.mesh.nodes.size()));
    for (std::size_t i = 0; i < c.mesh.nodes.size(); ++i) {
        const geometry::Point& p = c.mesh.nodes[i];
        const double r = view.setup.power == 0 ? p.y() - box.low.y() : std::hypot(p.x(), p.y());
        const double along = std::clamp(r / x.back(), 0.0, 1.0) * static_cast<double>(x.size() - 1);
        // Intervals are equal within a layer; find the right one from a first guess.
        auto k = static_cast<std::size_t>(std::min(along, static_cast<double>(x.size() - 2)));
        while (k > 0 && r < x[k])
            --k;
        while (k + 2 < x.size() && r > x[k + 1])
            ++k;
        const double f = std::clamp((r - x[k]) / (x[k + 1] - x[k]), 0.0, 1.0);
        v[static_cast<Eigen::Index>(i)] = (1 - f) * nodal[static_cast<Eigen::Index>(k)] +
                                          f * nodal[static_cast<Eigen::Index>(k) + 1];
    }
    return v;
}

Picture draw(const View& v, double time, int columns, const std::vector<double>& front_times) {
    const Canvas c = canvas(v);
    const geometry::Box box = geometry::bounds(c.section.outline);
    Picture out;
    out.section = c.section;
    out.nx = columns;
    out.step = box.width() / std::max(1, columns);
    out.ny = columns > 0 ? std::max(1, static_cast<int>(std::lround(box.height() / out.step))) : 0;
    out.x0 = box.low.x() + out.step / 2;
    out.y0 = box.middle().y() - (out.ny - 1) * out.step / 2;
    out.time = time;
    out.core = v.core;
    if (c.spread && v.setup.power == 0)
        out.core = geometry::Point(box.middle().x(), box.low.y() + v.core.y());
    const std::size_t n = static_cast<std::size_t>(out.nx) * static_cast<std::size_t>(out.ny);
    out.kind.assign(n, ' ');
    out.arrived.assign(n, std::numeric_limits<double>::quiet_NaN());
    out.salt = out.arrived;

    const Eigen::VectorXd arrived = on_canvas(c, v, v.grid.arrived(time));
    const Eigen::VectorXd salt = on_canvas(c, v, v.grid.salt(time));
    std::vector<const Tissue*> tissues; // of each region
    for (const std::string& kind : c.mesh.kinds)
        tissues.push_back(&v.setup.tissues.at(kind));
    geometry::rasterise(c.mesh, {out.x0, out.y0, out.step, out.nx, out.ny},
                        [&](int cell, int t, const std::array<double, 3>& b) {
                            const auto& k = c.mesh.triangles[t];
                            const auto mix = [&](const Eigen::VectorXd& u) {
                                return b[0] * u[k[0]] + b[1] * u[k[1]] + b[2] * u[k[2]];
                            };
                            const int region = c.mesh.region[t];
                            const Tissue& tissue = *tissues[region];
                            out.kind[cell] = c.mesh.kinds[region] == "fat" ? 'f' : 'l';
                            out.arrived[cell] = mix(arrived) * tissue.water_fraction;
                            out.salt[cell] = tissue.salt_share(mix(salt));
                        });
    for (const geometry::Region& r : c.section.regions) {
        if (r.kind != "bone")
            continue;
        const geometry::Box rim = geometry::bounds(r.ring);
        for (int j = 0; j < out.ny; ++j)
            for (int i = 0; i < out.nx; ++i) {
                const geometry::Point q(out.x0 + i * out.step, out.y0 + j * out.step);
                if (rim.holds(q) && geometry::inside(q, r.ring))
                    out.kind[static_cast<std::size_t>(j) * static_cast<std::size_t>(out.nx) +
                             static_cast<std::size_t>(i)] = 'b';
            }
    }

    const Tissue& tissue = v.setup.tissues.at("lean");
    const auto level = [&](double share) {
        return v.nitrite ? share / tissue.water_fraction : tissue.concentration(share);
    };
    const auto lean = [&](int region) { return c.mesh.kinds[region] == "lean"; };
    // What counts for the cure: a soak takes nothing of the colour that is there.
    const Eigen::VectorXd now = on_canvas(c, v, v.track.cure(v.grid, time));
    out.uncured = geometry::below(c.mesh, now, level(v.target), lean);
    out.unlasting = geometry::below(c.mesh, now, level(std::max(v.target, v.lasting)), lean);
    for (const double t : front_times) {
        const Eigen::VectorXd nodal = on_canvas(c, v, v.track.cure(v.grid, t));
        out.fronts.push_back({t, geometry::level_lines(c.mesh, nodal, level(v.target), lean)});
    }
    return out;
}

} // namespace

std::vector<double> front_days(const Outcome& o) {
    // Once the core is cured there is no front left to draw.
    const double last = std::min(o.at, o.first().cured.value_or(o.at)) / day;
    double step = std::pow(10.0, std::floor(std::log10(last)));
    for (const double f : {0.1, 0.2, 0.25, 0.5, 1.0, 2.0})
        if (last / (f * step) <= 5) {
            step *= f;
            break;
        }
    std::vector<double> times;
    for (int k = 1; k * step < last - 0.3 * step; ++k)
        times.push_back(k * step * day);
    times.push_back(last * day);
    return times;
}

double grey_day(const Outcome& o) {
    const std::vector<double> days = front_days(o);
    return o.first().cured && *o.first().cured <= o.at ? days[(days.size() - 1) / 2] : o.at;
}

Picture picture(const Outcome& o, double time, int columns, const std::vector<double>& front_times,
                std::size_t number) {
    const Meshes& m = *o.solved;
    const PieceOutcome& p = o.pieces[number];
    const std::size_t kind = m.c.of[number];
    return draw({*m.fine,
                 m.c.kinds[kind].setup(),
                 m.fine->grid(kind),
                 o.has_nitrite,
                 p.target,
                 o.has_nitrite ? p.stable_target : 0,
                 {p.core.x, p.core.y}},
                std::min(time, m.fine->end()), columns, front_times);
}

std::optional<Picture> across_at(const Outcome& o, double time, int columns) {
    const Meshes& m = *o.solved;
    if (!m.c.across)
        return std::nullopt;
    const Grid& grid = *m.fine->across();
    time = std::min(time, m.fine->end());
    Setup plane = *m.c.across;
    plane.tissues = m.setup().tissues;
    const PieceOutcome& p = o.first();
    return draw({*m.fine, plane, grid, o.has_nitrite, p.target, o.has_nitrite ? p.stable_target : 0,
                 grid.lowest(time, o.has_nitrite).at},
                time, columns, {time});
}

std::vector<Sample> profiles(const Outcome& o, const std::vector<double>& times) {
    const Grid& grid = o.solved->fine->grid();
    const Setup& setup = o.solved->setup();
    std::vector<Sample> out;
    for (const double t : times) {
        const Eigen::VectorXd arrived = grid.arrived(t), residual = grid.residual(t),
                              salt = grid.salt(t);
        const auto add = [&](double depth, const std::string& kind, double a, double r, double u) {
            const Tissue& tissue = setup.tissues.at(kind);
            const double water = tissue.water_fraction;
            out.push_back({t, depth, kind, tissue.salt_share(u), a * water, r * water});
        };
        if (grid.line) {
            const geometry::Line& l = *grid.line;
            for (std::size_t k = l.nodes.size(); k-- > 0;) {
                const auto i = static_cast<Eigen::Index>(k);
                add(l.nodes.back() - l.nodes[k], l.kinds[l.region[k == 0 ? 0 : k - 1]], arrived[i],
                    residual[i], salt[i]);
            }
            continue;
        }
        const geometry::Mesh& m = *grid.mesh;
        const geometry::Box box = geometry::bounds(setup.section->outline);
        constexpr int points = 121;
        const double h = box.height(), step = h / (points - 1);
        std::vector<Sample> column(points);
        geometry::rasterise(m, {o.first().core.x, box.low.y(), step, 1, points},
                            [&](int cell, int tri, const std::array<double, 3>& b) {
                                const auto& k = m.triangles[tri];
                                const auto mix = [&](const Eigen::VectorXd& v) {
                                    return b[0] * v[k[0]] + b[1] * v[k[1]] + b[2] * v[k[2]];
                                };
                                column[cell] = {t,         h - cell * step, m.kinds[m.region[tri]],
                                                mix(salt), mix(arrived),    mix(residual)};
                            });
        for (std::size_t k = column.size(); k-- > 0;)
            if (!column[k].kind.empty())
                add(column[k].depth, column[k].kind, column[k].arrived, column[k].residual,
                    column[k].salt);
    }
    return out;
}

std::vector<Reading> course(const Outcome& o, std::size_t number) {
    constexpr int points = 16;
    std::vector<Reading> readings;
    const Track& fine = *o.solved->fine;
    const std::size_t kind = o.solved->c.of[number];
    const double last = std::min(o.at, o.pieces[number].piece.out.value_or(o.at));
    for (const Track::Span& span : fine.spans()) {
        const double to = std::min(span.to, std::max(span.from, last));
        for (int i = 0; i <= points && to > span.from; ++i) {
            const double share = static_cast<double>(i) / points;
            readings.push_back(fine.at(span.from + share * share * (to - span.from), kind));
        }
    }
    return readings;
}

std::vector<double> profile_times(const Outcome& outcome) {
    std::vector<double> times = front_days(outcome);
    if (times.empty() || std::abs(times.back() - outcome.at) > 60)
        times.push_back(outcome.at);
    return times;
}

std::vector<ByDay> by_day(const Outcome& o) {
    std::vector<ByDay> all(o.pieces.size());
    for (std::size_t k = 0; k < all.size(); ++k) {
        all[k].course = course(o, k);
        for (const double time : profile_times(o))
            all[k].pictures.push_back(picture(o, time, 0, {time}, k));
    }
    return all;
}

} // namespace tidemark::cure
