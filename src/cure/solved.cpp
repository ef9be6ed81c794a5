// SPDX-License-Identifier: MIT
#include "cure/solved.hpp"

#include "transport/spectrum.hpp"
#include "transport/stepper.hpp"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>

namespace tidemark::cure {

namespace {

/// Of the time integration: a thousandth of what the cells are good for.
constexpr double time_tolerance = 1e-6;
/// Of a step where the cooler's log is followed.
constexpr double step_tolerance = 1e-6;

} // namespace

Grid::Grid(const Setup& setup, geometry::Mesh m)
    : mesh(std::move(m)), salt_chain({}, {}), nitrite_chain({}, {}), section_(setup.section) {
    prepare(setup);
}

Grid::Grid(const Setup& setup, geometry::Line l)
    : line(std::move(l)), salt_chain({}, {}), nitrite_chain({}, {}) {
    prepare(setup);
}

Grid::Grid(const Setup& setup, geometry::Mesh m, double first, double last) : Grid(setup, std::move(m)) {
    begin_bath(setup, first, last);
}

Grid::Grid(const Setup& setup, geometry::Line l, double first, double last) : Grid(setup, std::move(l)) {
    begin_bath(setup, first, last);
}

void Grid::begin_bath(const Setup& setup, double first, double last) {
    begin(false, 0, setup, {setup.salt_bath, {}, first, last});
    if (setup.pickle.nitrite > 0)
        begin(true, 0, setup, {setup.nitrite_bath, {}, first, last});
}

void Grid::prepare(const Setup& setup) {
    lean = static_cast<int>(std::find(kinds().begin(), kinds().end(), "lean") - kinds().begin());
    lean_water = assemble(setup, setup.salt_bath, false, {}).region_water[lean];
    lowest_ = mesh ? std::make_unique<geometry::LowestPoint>(*mesh, lean)
                   : std::make_unique<geometry::LowestPoint>(*line, lean);
    const Eigen::VectorXd none = Eigen::VectorXd::Zero(nodes());
    fill(none, none);
}

void Grid::fill(const Eigen::VectorXd& salt, const Eigen::VectorXd& nitrite) {
    salt_chain = transport::Chain(salt, lean_water / lean_water.sum());
    nitrite_chain = transport::Chain(nitrite, lean_water / lean_water.sum());
}

transport::System Grid::assemble(const Setup& setup, const transport::Bath& bath, bool nitrite,
                                 const std::vector<std::string>& sealed) const {
    std::vector<transport::Medium> media;
    for (const std::string& kind : kinds()) {
        const Tissue& tissue = setup.tissues.at(kind);
        media.push_back(nitrite ? tissue.nitrite : tissue.salt);
    }
    if (sealed.empty())
        return mesh ? transport::assemble(*mesh, media, bath) : transport::assemble(*line, media, bath);
    if (mesh)
        return transport::assemble(*mesh, media, bath);
    geometry::Line shut = *line; // a round's or a ball's only face is all of them
    const auto names = [&](const char* face) { return std::ranges::find(sealed, face) != sealed.end(); };
    shut.wet_last = line->wet_last && !names("top");
    shut.wet_first = line->wet_first && !names("bottom");
    return transport::assemble(shut, media, bath);
}

void Grid::begin(bool nitrite, double from, const Setup& setup, const Contact& contact) {
    transport::Chain& chain = nitrite ? nitrite_chain : salt_chain;
    transport::System system = assemble(setup, contact.bath, nitrite, contact.sealed);
    const bool start = chain.empty();
    transport::start_from(system, start ? chain.initial() : chain.free(from), contact.bath.concentration);
    // One loss serves all tissues (setup.cpp), so free and reacted add up node by node.
    const Tissue& tissue = setup.tissues.at("lean");
    const double loss = nitrite ? tissue.nitrite.loss : tissue.salt.loss;
    std::shared_ptr<const transport::History> history;
    const transport::Spectrum* donor = nullptr;
    if (nitrite && start && !salt_chain.empty())
        donor = dynamic_cast<const transport::Spectrum*>(salt_chain.links().front().history.get());
    if (setup.clock)
        history = std::make_shared<transport::Stepper>(system, *setup.clock, contact.last, step_tolerance);
    else if (donor)
        history = std::make_shared<transport::Spectrum>(system, *donor);
    else
        history = std::make_shared<transport::Spectrum>(system, contact.first, contact.last, time_tolerance);
    chain.begin(from, std::move(system), std::move(history), loss);
}

Eigen::VectorXd Grid::arrived(double t) const {
    return nitrite_chain.empty() ? nitrite_chain.initial() : nitrite_chain.arrived(t);
}

Eigen::VectorXd Grid::residual(double t) const {
    return nitrite_chain.empty() ? nitrite_chain.initial() : nitrite_chain.free(t);
}

Eigen::VectorXd Grid::salt(double t) const { return salt_chain.free(t); }

geometry::Lowest Grid::lowest(double t, bool nitrite) const {
    return (*lowest_)(nitrite ? arrived(t) : salt(t));
}

double Grid::mean_salt(double t) const { return salt_chain.mean(t).first; }

double Grid::mean_arrived(double t) const { return nitrite_chain.empty() ? 0 : nitrite_chain.mean(t).second; }

double Grid::mean_residual(double t) const { return nitrite_chain.empty() ? 0 : nitrite_chain.mean(t).first; }

double Grid::mass_balance_error(double t) const {
    return std::max(salt_chain.mass_balance_error(t),
                    nitrite_chain.empty() ? 0.0 : nitrite_chain.mass_balance_error(t));
}

double Grid::time_error() const { return std::max(salt_chain.time_error(), nitrite_chain.time_error()); }

double first_of_interest(const Setup& setup, double span) {
    const double a = setup.half_thickness, D = setup.tissues.at("lean").salt.diffusivity;
    return std::min(0.01 * a * a / D, span / 50);
}

std::unique_ptr<Grid> coarse_grid(const Setup& s, double cells) {
    if (s.section)
        return std::make_unique<Grid>(s, geometry::triangulate(*s.section, 2 * s.half_thickness / cells));
    return std::make_unique<Grid>(
        s, geometry::line(s.layers, static_cast<int>(std::lround(4 * cells)), s.power, s.wet_first, s.wet_last));
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

std::optional<double> first_time(const std::function<double(double)>& level, double target, double first,
                                 double last) {
    double before = 0;
    const double ratio = std::pow(last / first, 1.0 / 24);
    for (double t = first; before < last; t = std::min(t * ratio, last)) {
        if (level(t) >= target) {
            std::uintmax_t iterations = 60;
            const auto bracket = boost::math::tools::toms748_solve(
                [&](double s) { return level(s) - target; }, before, t,
                [](double a, double b) { return std::abs(b - a) <= 1e-9 * std::abs(b); }, iterations);
            return 0.5 * (bracket.first + bracket.second);
        }
        before = t;
    }
    return std::nullopt;
}

} // namespace tidemark::cure
