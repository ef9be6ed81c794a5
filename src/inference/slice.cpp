// SPDX-License-Identifier: MIT
/// Tables hold log(level + floor) at Chebyshev nodes of the loss number and the bath ratio, over
/// the logarithm of time, at points of lean along the lines, and last of all the least of the lean.
#include "inference/slice.hpp"

#include "base/error.hpp"
#include "cure/solved.hpp"
#include "transport/spectrum.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr double floor_level = 1e-4; ///< of what the brine would bring; far below any threshold
constexpr int points = 81;           ///< along a line of a section
constexpr double steps_per_e = 9;    ///< of the table, over time

/// Chebyshev nodes (first kind) in a logarithm that runs as far either way, and barycentric
/// weights.
struct Axis {
    double reach = 0;
    int nodes = 1;
    double at(int k) const { return reach * std::cos(std::numbers::pi * (k + 0.5) / nodes); }
    VectorXd weights(double x) const {
        x = std::clamp(x, -reach, reach);
        VectorXd w = VectorXd::Ones(nodes);
        for (int k = 0; nodes > 1 && k < nodes; ++k) {
            const double gap = x - at(k);
            if (std::abs(gap) < 1e-12) {
                return VectorXd::Unit(nodes, k);
            }
            w[k] = (k % 2 ? -1 : 1) * std::sin(std::numbers::pi * (k + 0.5) / nodes) / gap;
        }
        return w / w.sum();
    }
};

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
    const auto [low, high] = std::ranges::minmax(mesh.nodes, {}, along);
    const double step = (along(high) - along(low)) / fine;
    const geometry::Raster raster{upright ? where : along(low), upright ? along(low) : where, step,
                                  upright ? 1 : fine + 1, upright ? fine + 1 : 1};
    std::map<int, Spot> all;
    geometry::rasterise(mesh, raster, [&](int cell, int t, const std::array<double, 3>& w) {
        if (mesh.region[t] == grid.lean) {
            all[cell] = {along(low) + cell * step, mesh.triangles[t], w};
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
    std::shared_ptr<const cure::Solved> solved;
    double target = 0; ///< of the central case, over partition x concentration [1]
    bool half = false;   ///< lines run from the centre out
    double x = 0, y = 0; ///< [m] of the upright and of the level line
    std::vector<Spot> upright, level;
    Axis loss, bath, film;
    double first = 0, step = 0;         ///< of log time
    std::vector<Eigen::MatrixXd> times; ///< node of the axes x spot, the last the least of the lean
    std::shared_ptr<const transport::Spectrum> donor;

    void fill();
    int nodes() const { return loss.nodes * bath.nodes * film.nodes; }
    transport::System system(int node, double& lean_loss) const;

    /// Where a draw stands in the table.
    struct Place {
        VectorXd weights;
        double clock = 1; ///< time of the table over the draw's own
        double target = 0;
    };
    Place place(const Draw& d) const;
    std::pair<std::size_t, double> moment(double time) const; ///< step and share of the next
    double least(const Place& p, double time) const;
};

transport::System SliceModel::Table::system(int node, double& lean_loss) const {
    const double loss_factor = std::exp(loss.at(node % loss.nodes)),
                 bath_factor = std::exp(bath.at(node / loss.nodes % bath.nodes)),
                 film_factor = std::exp(film.at(node / loss.nodes / bath.nodes));
    const cure::Grid& grid = *solved->fine;
    transport::Bath b = solved->setup.nitrite_bath;
    b.concentration = 1 / b.partition;
    b.water /= bath_factor; // infinite stays so
    b.film *= film_factor;
    const auto& kinds = grid.mesh ? grid.mesh->kinds : grid.line->kinds;
    std::vector<transport::Medium> media;
    for (const std::string& kind : kinds) {
        media.push_back(solved->setup.tissues.at(kind).nitrite);
        media.back().loss *= loss_factor;
        lean_loss = media.back().loss; // one loss serves all tissues (cure/setup.cpp)
    }
    return grid.mesh ? transport::assemble(*grid.mesh, media, b)
                     : transport::assemble(*grid.line, media, b);
}

void SliceModel::Table::fill() {
    const cure::Grid& grid = *solved->fine;
    const geometry::LowestPoint lowest = grid.mesh ? geometry::LowestPoint(*grid.mesh, grid.lean)
                                                   : geometry::LowestPoint(*grid.line, grid.lean);
    std::vector<Spot> all = upright;
    all.insert(all.end(), level.begin(), level.end());
    const double last = 8 * solved->last;
    first = std::log(solved->first / 4);
    const auto count = static_cast<std::size_t>(std::ceil(steps_per_e * (std::log(last) - first)));
    step = (std::log(last) - first) / static_cast<double>(count);
    times.assign(count + 1, Eigen::MatrixXd(nodes(), all.size() + 1));
    for (int n = 0; n < nodes(); ++n) {
        double lean_loss = 0;
        const transport::System s = system(n, lean_loss);
        const auto history =
            donor ? std::make_shared<transport::Spectrum>(s, *donor)
                  : std::make_shared<transport::Spectrum>(s, solved->first / 4, last, 1e-6);
        if (!donor) {
            donor = history;
        }
        for (std::size_t k = 0; k <= count; ++k) {
            const double t = std::min(last, std::exp(first + static_cast<double>(k) * step));
            const VectorXd unknowns = history->arrived(t, lean_loss);
            const VectorXd nodal = unknowns(s.unknown);
            for (std::size_t i = 0; i < all.size(); ++i) {
                double u = 0;
                for (int c = 0; c < 3; ++c) {
                    u += all[i].weights[c] * nodal[all[i].nodes[c]];
                }
                times[k](n, static_cast<Index>(i)) = std::log(std::max(u, 0.0) + floor_level);
            }
            times[k](n, static_cast<Index>(all.size())) =
                std::log(std::max(lowest(nodal).value, 0.0) + floor_level);
        }
    }
    donor.reset();
}

SliceModel::Table::Place SliceModel::Table::place(const Draw& d) const {
    Place p;
    p.clock = d.nitrite_speed / (d.size * d.size);
    const VectorXd a = loss.weights(std::log(d.loss / p.clock)),
                   b = bath.weights(std::log(d.partition * d.meat / d.water)),
                   c = film.weights(std::log(d.size / (d.partition * d.nitrite_speed)));
    p.weights = ((a * b.transpose()).reshaped() * c.transpose()).reshaped();
    p.target = std::log(target * d.threshold / (d.partition * d.nitrite) + floor_level);
    return p;
}

std::pair<std::size_t, double> SliceModel::Table::moment(double time) const {
    const double k =
        std::clamp((std::log(time) - first) / step, 0.0, static_cast<double>(times.size()) - 1);
    const auto whole = std::min(static_cast<std::size_t>(k), times.size() - 2);
    return {whole, k - static_cast<double>(whole)};
}

double SliceModel::Table::least(const Place& p, double time) const {
    const auto [k, f] = moment(time * p.clock);
    const Index last = times[k].cols() - 1;
    return mix(p.weights.dot(times[k].col(last)), p.weights.dot(times[k + 1].col(last)), f);
}

SliceModel::SliceModel(const cure::Prediction& p, const SliceReach& reach) {
    if (!p.has_nitrite) {
        throw base::InputError("--brine-nitrite", "",
                               "a slice tells by its colour, and this brine has no nitrite",
                               "add --brine-nitrite or --premix, or leave the slice out");
    }
    auto t = std::make_unique<Table>();
    t->solved = p.solved;
    const cure::Setup& setup = p.solved->setup;
    if (setup.clock) {
        throw base::RunError("a slice cannot be judged for a cooler with a log");
    }
    const transport::Bath& bath = setup.nitrite_bath;
    t->target =
        p.target / setup.tissues.at("lean").water_fraction / (bath.partition * bath.concentration);
    const cure::Grid& grid = *p.solved->fine;
    if (grid.line) {
        t->half = setup.power > 0;
        t->upright = spots(*grid.line, grid.lean);
    } else {
        const geometry::Box box = geometry::bounds(setup.section->outline);
        t->x = p.core.x;
        t->y = box.middle().y();
        t->upright = spots(grid, true, t->x);
        t->level = spots(grid, false, t->y);
    }
    if (setup.tissues.at("lean").nitrite.loss > 0) {
        t->loss = {std::log(reach.loss), 11};
    }
    if (std::isfinite(bath.water)) {
        t->bath = {std::log(reach.bath), 4};
    }
    if (std::isfinite(bath.film)) {
        t->film = {std::log(reach.film), 4};
    }
    t->fill();
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
    const Table::Place p = t.place(d);
    const auto [k, f] = t.moment(time * p.clock);
    const VectorXd profile = ((1 - f) * (t.times[k].transpose() * p.weights) +
                              f * (t.times[k + 1].transpose() * p.weights));
    Slice s;
    s.time = time;
    const auto read = [&](const std::vector<Spot>& line, Index from) {
        auto [a, b] = depths(line, from, profile, p.target);
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
    s.through = profile[profile.size() - 1] >= p.target;
    return s;
}

std::vector<std::array<geometry::Point, 2>> SliceModel::strokes(const Slice& seen) const {
    const Table& t = *table_;
    const cure::Grid& grid = *t.solved->fine;
    const double arm = 0.1 * t.solved->setup.half_thickness;
    const auto ends = [&](const std::vector<Spot>& line) { // of the lean, as the picture has them
        const double first = line.front().at, last = line.back().at;
        const double middle = grid.line && !t.half ? 0.5 * grid.line->nodes.back() : 0.0;
        return std::pair(t.half ? -last : first - middle, last - middle);
    };
    std::vector<std::array<geometry::Point, 2>> all;
    const auto add = [&](bool upright, const std::optional<double>& depth, double end, double sign) {
        if (const auto d = depth ? depth : seen.every) {
            const double at = end + sign * *d, across = upright ? t.x : t.y;
            all.push_back(upright ? std::array{geometry::Point(across - arm, at), geometry::Point(across + arm, at)}
                                  : std::array{geometry::Point(at, across - arm), geometry::Point(at, across + arm)});
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
    const double middle = 0.5 * (bottom + top); // a size has no place of its own
    if (seen.core_height)
        for (const double end : {-0.5, 0.5})
            add(true, end * *seen.core_height, middle, 1);
    if (seen.core_width)
        for (const double end : {-0.5, 0.5})
            add(false, end * *seen.core_width, t.half ? 0.0 : t.x, 1);
    return all;
}

double SliceModel::through_time(const Draw& d, double horizon) const {
    const Table& t = *table_;
    const Table::Place p = t.place(d);
    if (t.least(p, horizon) < p.target) {
        return std::numeric_limits<double>::infinity();
    }
    double before = t.first - std::log(p.clock), after = std::log(horizon);
    for (int step = 0; step < 30; ++step) {
        const double middle = 0.5 * (before + after);
        (t.least(p, std::exp(middle)) < p.target ? before : after) = middle;
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
