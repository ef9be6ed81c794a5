// SPDX-License-Identifier: MIT
#include "cure/solved.hpp"

#include "transport/spectrum.hpp"
#include "transport/stepper.hpp"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>
#include <limits>

namespace tidemark::cure {

namespace {

/// Of the time integration: a thousandth of what the cells are good for.
constexpr double time_tolerance = 1e-6;
/// Of a step where the cooler's log is followed: readings of a thermometer are noise to the
/// stepper, and on such logs this and a hundredth of it agreed within 1e-6.
constexpr double step_tolerance = 1e-5;

} // namespace

Grid::Grid(const Setup& setup, geometry::Mesh m)
    : mesh(std::move(m)), salt_chain({}, {}), nitrite_chain({}, {}), section_(setup.section) {
    prepare(setup);
}

Grid::Grid(const Setup& setup, geometry::Line l)
    : line(std::move(l)), salt_chain({}, {}), nitrite_chain({}, {}) {
    prepare(setup);
}

Grid::Grid(const Setup& setup, geometry::Mesh m, double first, double last)
    : Grid(setup, std::move(m)) {
    begin_bath(setup, first, last);
}

Grid::Grid(const Setup& setup, geometry::Line l, double first, double last)
    : Grid(setup, std::move(l)) {
    begin_bath(setup, first, last);
}

void Grid::begin_bath(const Setup& setup, double first, double last) {
    begin(false, 0, setup, {setup.salt_bath, {}, false, first, last});
    if (setup.pickle.nitrite > 0)
        begin(true, 0, setup, {setup.nitrite_bath, {}, false, first, last});
}

void Grid::prepare(const Setup& setup) {
    lean = static_cast<int>(std::find(kinds().begin(), kinds().end(), "lean") - kinds().begin());
    const transport::System system = assemble(setup, false, {setup.salt_bath, {}});
    water = transport::node_water(system);
    lean_water = system.region_water[lean];
    lowest_ = mesh ? std::make_unique<geometry::LowestPoint>(*mesh, lean)
                   : std::make_unique<geometry::LowestPoint>(*line, lean);
    const Eigen::VectorXd none = Eigen::VectorXd::Zero(nodes());
    fill(none, none);
}

void Grid::fill(const Eigen::VectorXd& salt, const Eigen::VectorXd& nitrite) {
    salt_chain = transport::Chain(salt, lean_water / lean_water.sum());
    nitrite_chain = transport::Chain(nitrite, lean_water / lean_water.sum());
}

transport::System Grid::assemble(const Setup& setup, bool nitrite, const Contact& contact) const {
    std::vector<transport::Medium> media;
    for (const std::string& kind : kinds()) {
        const Tissue& tissue = setup.tissues.at(kind);
        media.push_back(nitrite ? tissue.nitrite : tissue.salt);
    }
    if (mesh) {
        if (contact.closed) {
            geometry::Mesh shut = *mesh;
            shut.wet.assign(shut.wet.size(), false);
            for (geometry::Curve& curve : shut.curves)
                curve.wet = false;
            return transport::assemble(shut, media, contact.bath);
        }
        if (!contact.sealed.empty())
            return transport::assemble(
                geometry::with_sealed(*mesh, *section_, contact.sealed, "--stage"), media,
                contact.bath);
        return transport::assemble(*mesh, media, contact.bath);
    }
    geometry::Line shut = *line;
    const auto open = [&](const char* face) {
        return !contact.closed && std::ranges::find(contact.sealed, face) == contact.sealed.end();
    };
    shut.wet_last = line->wet_last && open("top");
    shut.wet_first = line->wet_first && open("bottom");
    return transport::assemble(shut, media, contact.bath);
}

void Grid::begin(bool nitrite, double from, const Setup& setup, const Contact& contact) {
    transport::Chain& chain = nitrite ? nitrite_chain : salt_chain;
    transport::System system = assemble(setup, nitrite, contact);
    const bool start = chain.empty();
    Eigen::VectorXd nodal = chain.before(from);
    if (contact.coat > 0) { // spread over the wall cells, which stand for the faces
        Contact open = contact;
        open.closed = false;
        const transport::System wet = assemble(setup, nitrite, open);
        Eigen::VectorXd wall = water;
        for (Eigen::Index i = 0; i < wall.size(); ++i)
            if (wet.unknown[static_cast<std::size_t>(i)] != wet.bath())
                wall[i] = 0;
        nodal.array() += (wall.array() > 0).cast<double>() * contact.coat / wall.sum();
    }
    transport::start_from(system, nodal, contact.bath.concentration);
    // One loss serves all tissues (setup.cpp), so free and reacted add up node by node.
    const Tissue& tissue = setup.tissues.at("lean");
    const double loss = nitrite ? tissue.nitrite.loss : tissue.salt.loss;
    std::shared_ptr<const transport::History> history;
    const transport::Spectrum* donor = nullptr;
    if (nitrite && start && !salt_chain.empty())
        donor = dynamic_cast<const transport::Spectrum*>(salt_chain.links().front().history.get());
    if (setup.clock) {
        const transport::Clock& clock = *setup.clock;
        const double into = contact.into;
        const auto from_here = [into](const std::function<double(double)>& f) {
            return [f, into, before = f(into)](double t) { return f(into + t) - before; };
        };
        history = std::make_shared<transport::Stepper>(
            system, transport::Clock{from_here(clock.diffusion), from_here(clock.loss)},
            contact.last, step_tolerance);
    }
    if (!history && donor)
        history = std::make_shared<transport::Spectrum>(system, *donor);
    if (!history)
        history = std::make_shared<transport::Spectrum>(system, contact.first, contact.last,
                                                        time_tolerance);
    chain.begin(from, std::move(system), std::move(history), loss, contact.coat);
}

Eigen::VectorXd Grid::arrived(double t) const {
    return nitrite_chain.arrived(t);
}

Eigen::VectorXd Grid::residual(double t) const {
    return nitrite_chain.free(t);
}

Eigen::VectorXd Grid::salt(double t) const {
    return salt_chain.free(t);
}

geometry::Lowest Grid::lowest(double t, bool nitrite) const {
    return lowest(nitrite ? arrived(t) : salt(t));
}

geometry::Lowest Grid::lowest(const Eigen::VectorXd& nodal) const {
    geometry::Lowest low = (*lowest_)(nodal);
    low.value = std::max(low.value, 0.0); // a fit across a jump may fall below what there can be
    return low;
}

double Grid::mean_salt(double t) const {
    return salt_chain.mean(t).first;
}

double Grid::mean_arrived(double t) const {
    return nitrite_chain.mean(t).second;
}

double Grid::mean_residual(double t) const {
    return nitrite_chain.mean(t).first;
}

double Grid::mass_balance_error(double t) const {
    return std::max(salt_chain.mass_balance_error(t),
                    nitrite_chain.empty() ? 0.0 : nitrite_chain.mass_balance_error(t));
}

double Grid::time_error() const {
    return std::max(salt_chain.time_error(), nitrite_chain.time_error());
}

double Grid::depth(const geometry::Point& p) const {
    if (line) {
        double depth = line->nodes.back();
        if (line->wet_last)
            depth = line->nodes.back() - p.x();
        return line->wet_first ? std::min(depth, p.x()) : depth;
    }
    double depth = std::numeric_limits<double>::infinity();
    for (const geometry::Curve& c : mesh->curves)
        for (std::size_t i = 1; c.wet && i < c.points.size(); ++i)
            depth = std::min(depth, geometry::distance(p, c.points[i - 1], c.points[i]));
    return depth;
}

double Grid::value_at(const Eigen::VectorXd& nodal, const geometry::Point& p) const {
    if (line) {
        const auto& x = line->nodes;
        const auto it = std::upper_bound(x.begin(), x.end(), p.x());
        const auto i = std::clamp<std::ptrdiff_t>(it - x.begin(), 1,
                                                  static_cast<std::ptrdiff_t>(x.size()) - 1);
        const double f = (p.x() - x[i - 1]) / (x[i] - x[i - 1]);
        return (1 - f) * nodal[i - 1] + f * nodal[i];
    }
    double value = nodal.minCoeff();
    geometry::rasterise(*mesh, {p.x(), p.y(), 1.0, 1, 1},
                        [&](int, int t, const std::array<double, 3>& w) {
                            const auto& k = mesh->triangles[t];
                            value = w[0] * nodal[k[0]] + w[1] * nodal[k[1]] + w[2] * nodal[k[2]];
                        });
    return value;
}

double first_of_interest(const Setup& setup, double span) {
    const double a = setup.half_thickness, D = setup.tissues.at("lean").salt.diffusivity;
    return std::min(0.01 * a * a / D, span / 50);
}

std::unique_ptr<Grid> coarse_grid(const Setup& s, double cells) {
    if (s.section)
        return std::make_unique<Grid>(
            s, geometry::triangulate(*s.section, 2 * s.half_thickness / cells));
    return std::make_unique<Grid>(s,
                                  geometry::line(s.layers, static_cast<int>(std::lround(4 * cells)),
                                                 s.power, s.wet_first, s.wet_last));
}

std::unique_ptr<Grid> halved(const Setup& setup, const Grid& coarse) {
    return coarse.mesh ? std::make_unique<Grid>(setup, geometry::refine(*coarse.mesh))
                       : std::make_unique<Grid>(setup, geometry::refine(*coarse.line));
}

Solved::Solved(Setup s, double cells, double horizon) : setup(std::move(s)), last(horizon) {
    first = first_of_interest(setup, horizon);
    coarse = coarse_grid(setup, cells);
    coarse->begin_bath(setup, first, last);
}

void Solved::refine(double from, double to) {
    fine = halved(setup, *coarse);
    fine->begin_bath(setup, from, to);
}

std::optional<double> first_time(const std::function<double(double)>& level, double target,
                                 double first, double last) {
    double before = 0;
    const double ratio = std::pow(last / first, 1.0 / 24);
    for (double t = first; before < last; t = std::min(t * ratio, last)) {
        if (level(t) >= target) {
            if (before == 0 && level(0) >= target)
                return 0.0; // what stands at the face is above it at once
            std::uintmax_t iterations = 60;
            const auto bracket = boost::math::tools::toms748_solve(
                [&](double s) { return level(s) - target; }, before, t,
                [](double a, double b) { return std::abs(b - a) <= 1e-9 * std::abs(b); },
                iterations);
            return 0.5 * (bracket.first + bracket.second);
        }
        before = t;
    }
    return std::nullopt;
}

} // namespace tidemark::cure
