// SPDX-License-Identifier: MIT
/// The table of nitrite holds points of lean along the lines, then the least of the lean, then the
/// brine; that of salt the least of the lean and the brine.
#include "inference/slice.hpp"

#include "base/error.hpp"
#include "cure/two_meshes.hpp"
#include "inference/level_table.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr int points = 81; ///< along a line of a section

/// A spot between nodes of the cells.
struct Spot {
    double at = 0; ///< [m] along the line
    std::array<int, 3> nodes{};
    std::array<double, 3> weights{};
};

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

} // namespace

struct SliceModel::Table {
    std::shared_ptr<const cure::Meshes> solved;
    double target = 0;   ///< of the central case, over partition x concentration [1]
    bool half = false;   ///< lines run from the centre out
    double x = 0, y = 0; ///< [m] of the upright and of the level line
    std::vector<Spot> upright, level;
    LevelTable nitrite, salt;
    Index spots() const { return static_cast<Index>(upright.size() + level.size()); }

    LevelTable::Place place(bool of_nitrite, const Draw& d) const {
        return (of_nitrite ? nitrite : salt)
            .place(similar(solved->setup(), of_nitrite, d), clock(of_nitrite, d));
    }
    Findings findings(const Draw& d, double time, double brine_nitrite) const;
    double drawn_target(const Draw& d) const {
        return LevelTable::logged(target * d.threshold / (d.partition * d.nitrite));
    }
};

Findings SliceModel::Table::findings(const Draw& d, double time, double brine_nitrite) const {
    const cure::Setup& setup = solved->setup();
    const cure::Pickle& pickle = setup.pickle;
    const VectorXd levels = salt.at(place(false, d), time); // of the core and of the brine
    const auto of_brine = [&](const transport::Bath& bath, double factor, double share) {
        return bath.concentration * factor * share; // per kg of water
    };
    const double rest = (1 - pickle.salt - pickle.nitrite) / pickle.water,
                 s = of_brine(setup.salt_bath, d.salt, LevelTable::level(levels[1])),
                 n = of_brine(setup.nitrite_bath, d.nitrite, brine_nitrite),
                 core = of_brine(setup.salt_bath, d.salt, LevelTable::level(levels[0])) *
                        setup.salt_bath.partition * d.partition;
    return {2 * setup.half_thickness * d.size,
            d.temperature,
            s / (rest + s + n),
            n / (rest + s + n),
            setup.tissues.at("lean").salt_share(core),
            d.ph};
}

SliceModel::SliceModel(const cure::Outcome& p, const SliceReach& reach) {
    if (!p.has_nitrite) {
        throw base::InputError("--brine-nitrite", "",
                               "a slice tells by its colour, and this brine has no nitrite",
                               "add --brine-nitrite or --premix, or leave the slice out");
    }
    auto t = std::make_unique<Table>();
    t->solved = p.solved;
    const cure::Setup& setup = p.solved->setup();
    if (setup.clock) {
        throw base::RunError("a slice cannot be judged for a cooler with a log");
    }
    const transport::Bath& bath = setup.nitrite_bath;
    t->target = p.first().target / setup.tissues.at("lean").water_fraction /
                (bath.partition * bath.concentration);
    const cure::Grid& grid = p.solved->fine->grid();
    if (grid.line) {
        t->half = setup.power > 0;
        t->upright = spots(*grid.line, grid.lean);
    } else {
        const geometry::Box box = geometry::bounds(setup.section->outline);
        t->x = p.first().core.x;
        t->y = box.middle().y();
        t->upright = spots(grid, true, t->x);
        t->level = spots(grid, false, t->y);
    }
    const auto axis = [](bool there, double far, int nodes) {
        return there ? ChebyshevAxis{-std::log(far), std::log(far), nodes} : ChebyshevAxis{};
    };
    LevelTable::Axes axes{
        axis(setup.tissues.at("lean").nitrite.loss > 0 || setup.nitrite_bath.loss > 0, reach.loss,
             11),
        axis(std::isfinite(bath.water), reach.bath, 4),
        axis(std::isfinite(bath.film), reach.film, 4)};
    std::vector<Spot> all = t->upright;
    all.insert(all.end(), t->level.begin(), t->level.end());
    const double horizon = p.horizon();
    const Similarity similarity(setup, grid, cure::first_of_interest(setup, horizon) / 4,
                                8 * horizon);
    const auto read = [&similarity](const std::vector<Spot>& where, const Similarity::Solve& solve,
                                    double time) {
        const auto n = static_cast<Index>(where.size());
        const VectorXd nodal = solve.nodal(time);
        VectorXd levels(n + 2);
        for (Index i = 0; i < n; ++i) {
            const Spot& s = where[static_cast<std::size_t>(i)];
            levels[i] = s.weights[0] * nodal[s.nodes[0]] + s.weights[1] * nodal[s.nodes[1]] +
                        s.weights[2] * nodal[s.nodes[2]];
        }
        levels[n] = similarity.lowest(nodal);
        levels[n + 1] = solve.bath(time).first;
        return levels;
    };
    t->nitrite = LevelTable(similarity, true, axes, [&](const Similarity::Solve& s, double time) {
        return read(all, s, time);
    });
    axes[0] = {}; // salt is not lost
    t->salt = LevelTable(similarity, false, axes, [&](const Similarity::Solve& s, double time) {
        return read({}, s, time);
    });
    table_ = std::move(t);
}

SliceModel::~SliceModel() = default;
SliceModel::SliceModel(SliceModel&&) noexcept = default;

namespace {

/// Depths from both ends of a line to where the target is no longer reached, walking inwards; where
/// it is reached everywhere, to the lowest spot.
std::pair<double, double> depths(const std::vector<Spot>& line, Index from, const VectorXd& profile,
                                 double target) {
    const auto count = static_cast<Index>(line.size());
    const auto value = [&](Index k) { return profile[from + k]; };
    const auto place = [&](Index k) { return line[static_cast<std::size_t>(k)].at; };
    Index low = 0, high = count - 1;
    while (low < count && value(low) >= target) {
        ++low;
    }
    if (low == count) {
        Index lowest = 0;
        profile.segment(from, count).minCoeff(&lowest);
        return {place(lowest) - place(0), place(count - 1) - place(lowest)};
    }
    while (value(high) >= target) {
        --high;
    }
    const auto edge = [&](Index in, Index out) { // between a spot that is grey and a pink one
        return mix(place(in), place(out), (target - value(in)) / (value(out) - value(in)));
    };
    return {low == 0 ? 0.0 : edge(low, low - 1) - place(0),
            high == count - 1 ? 0.0 : place(count - 1) - edge(high, high + 1)};
}

} // namespace

Slice SliceModel::operator()(const Draw& d, double time) const {
    const Table& t = *table_;
    const VectorXd profile = t.nitrite.at(t.place(true, d), time);
    const double target = t.drawn_target(d);
    Slice s;
    s.time = time;
    const auto read = [&](const std::vector<Spot>& line, Index from) {
        auto [a, b] = depths(line, from, profile, target);
        const double length = line.back().at - line.front().at;
        if (t.half) {
            a = b;
        }
        return std::array{d.size * a, d.size * b,
                          d.size * std::max(0.0, t.half ? 2 * (length - b) : length - a - b)};
    };
    const auto upright = read(t.upright, 0);
    s.bottom = upright[0];
    s.top = upright[1];
    s.core_height = upright[2];
    if (t.half) {
        s.left = s.right = s.top;
        s.core_width = s.core_height;
    } else if (!t.level.empty()) {
        const auto level = read(t.level, static_cast<Index>(t.upright.size()));
        s.left = level[0];
        s.right = level[1];
        s.core_width = level[2];
    }
    s.through = profile[t.spots()] >= target;
    s.found = t.findings(d, time, LevelTable::level(profile[t.spots() + 1]));
    return s;
}

std::vector<std::array<geometry::Point, 2>> SliceModel::strokes(const Slice& seen) const {
    const Table& t = *table_;
    const cure::Grid& grid = t.solved->fine->grid();
    const double arm = 0.1 * t.solved->setup().half_thickness;
    const auto ends = [&](const std::vector<Spot>& line) { // of the lean, as the picture has them
        const double first = line.front().at, last = line.back().at;
        const double middle = grid.line && !t.half ? 0.5 * grid.line->nodes.back() : 0.0;
        return std::pair(t.half ? -last : first - middle, last - middle);
    };
    std::vector<std::array<geometry::Point, 2>> all;
    const auto add = [&](bool upright, const std::optional<double>& depth, double end,
                         double sign) {
        if (const auto d = depth ? depth : seen.every) {
            const double at = end + sign * *d, across = upright ? t.x : t.y;
            all.push_back(upright ? std::array{geometry::Point(across - arm, at),
                                               geometry::Point(across + arm, at)}
                                  : std::array{geometry::Point(at, across - arm),
                                               geometry::Point(at, across + arm)});
        }
    };
    const auto [bottom, top] = ends(t.upright);
    add(true, seen.top, top, -1);
    add(true, seen.bottom, bottom, 1);
    if (t.half || !t.level.empty()) {
        const auto [left, right] = ends(t.half ? t.upright : t.level);
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
    if (t.half || !t.level.empty()) {
        core(false, seen.core_width, seen.left, seen.right, ends(t.half ? t.upright : t.level),
             t.half ? 0.0 : t.x);
    }
    return all;
}

double SliceModel::through_time(const Draw& d, double horizon) const {
    const Table& t = *table_;
    const LevelTable::Place p = t.place(true, d);
    const double target = t.drawn_target(d);
    const auto grey = [&](double time) { return t.nitrite.at(p, time, t.spots()) < target; };
    if (grey(horizon)) {
        return std::numeric_limits<double>::infinity();
    }
    double before = t.nitrite.first(p), after = std::log(horizon);
    for (int step = 0; step < 30; ++step) {
        const double middle = 0.5 * (before + after);
        (grey(std::exp(middle)) ? before : after) = middle;
    }
    return std::exp(after);
}

double log_likelihood(const Slice& seen, const Slice& predicted) {
    const auto normal = [](double x, double sd) {
        return std::exp(-0.5 * x * x / (sd * sd)) / (sd * std::sqrt(2 * std::numbers::pi));
    };
    const auto term = [&](const std::optional<double>& a, const std::optional<double>& b) {
        return a && b ? std::log((1 - seen.slips) * normal(*a - *b, seen.error) +
                                 seen.slips * normal(*a - *b, 10 * seen.error))
                      : 0.0;
    };
    double sum = 0, every = 0;
    int faces = 0;
    for (auto face : {&Slice::top, &Slice::bottom, &Slice::left, &Slice::right}) {
        sum += term(seen.*face, predicted.*face);
        every += term(seen.every, predicted.*face);
        faces += (predicted.*face).has_value();
    }
    sum += every / std::max(1, faces);
    if (seen.through) {
        const double core =
            std::max(predicted.core_height.value_or(0), predicted.core_width.value_or(0));
        const double unseen = std::erfc(core / seen.error / std::numbers::sqrt2);
        return sum + std::log((1 - seen.slips) * unseen + 0.5 * seen.slips);
    }
    return sum + term(seen.core_height, predicted.core_height) +
           term(seen.core_width, predicted.core_width);
}

} // namespace tidemark::inference
