// SPDX-License-Identifier: MIT
#include "cure/solved.hpp"

#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>

namespace tidemark::cure {

namespace {

/// Of the time integration: a thousandth of what the cells are good for.
constexpr double time_tolerance = 1e-6;

Eigen::VectorXd at_nodes(const std::vector<int>& unknown, const Eigen::VectorXd& u) {
    return u(unknown);
}

} // namespace

Grid::Grid(const Setup& setup, geometry::Mesh m, double first, double last) : mesh(std::move(m)) {
    solve(setup, first, last);
}

Grid::Grid(const Setup& setup, geometry::Line l, double first, double last) : line(std::move(l)) {
    solve(setup, first, last);
}

void Grid::solve(const Setup& setup, double first, double last) {
    lean = static_cast<int>(std::find(kinds().begin(), kinds().end(), "lean") - kinds().begin());
    const auto field = [&](bool nitrite) {
        std::vector<transport::Medium> media;
        SoluteField f;
        for (const std::string& kind : kinds()) {
            const Tissue& tissue = setup.tissues.at(kind);
            media.push_back(nitrite ? tissue.nitrite : tissue.salt);
            f.loss.push_back(media.back().loss);
        }
        const transport::Bath& bath = nitrite ? setup.nitrite_bath : setup.salt_bath;
        f.system = mesh ? transport::assemble(*mesh, media, bath) : transport::assemble(*line, media, bath);
        return f;
    };
    salt_field = field(false);
    salt_field.history = std::make_unique<transport::Spectrum>(salt_field.system, first, last, time_tolerance);
    salt_mean_ = salt_field.history->follow(salt_field.system.mean_weights(lean));
    if (setup.pickle.nitrite > 0) {
        nitrite_field = field(true);
        nitrite_field.history =
            std::make_unique<transport::Spectrum>(nitrite_field.system, *salt_field.history);
        nitrite_mean_ = nitrite_field.history->follow(nitrite_field.system.mean_weights(lean));
    }
    lowest_ = mesh ? std::make_unique<geometry::LowestPoint>(*mesh, lean)
                   : std::make_unique<geometry::LowestPoint>(*line, lean);
}

Eigen::VectorXd Grid::arrived(double t) const {
    if (!nitrite_field.history)
        return Eigen::VectorXd::Zero(static_cast<Eigen::Index>(salt_field.system.unknown.size()));
    // One loss serves all tissues (setup.cpp), so free and reacted add up node by node.
    return at_nodes(nitrite_field.system.unknown,
                    nitrite_field.history->arrived(t, nitrite_field.loss[lean]));
}

Eigen::VectorXd Grid::residual(double t) const {
    if (!nitrite_field.history)
        return arrived(t);
    return at_nodes(nitrite_field.system.unknown, nitrite_field.history->at(t).free);
}

Eigen::VectorXd Grid::salt(double t) const {
    return at_nodes(salt_field.system.unknown, salt_field.history->at(t).free);
}

geometry::Lowest Grid::lowest(double t, bool nitrite) const {
    return (*lowest_)(nitrite ? arrived(t) : salt(t));
}

double Grid::mean_salt(double t) const { return salt_field.history->value(salt_mean_, t).first; }

double Grid::mean_arrived(double t) const {
    if (!nitrite_field.history)
        return 0;
    const auto [free, dose] = nitrite_field.history->value(nitrite_mean_, t);
    return free + nitrite_field.loss[lean] * dose;
}

double Grid::mean_residual(double t) const {
    return nitrite_field.history ? nitrite_field.history->value(nitrite_mean_, t).first : 0;
}

Solved::Solved(Setup s, double cells, double horizon) : setup(std::move(s)), last(horizon) {
    // Accurate from a small Fourier number on; before that the cure is a skin thinner than a cell.
    const double a = setup.half_thickness, D = setup.tissues.at("lean").salt.diffusivity;
    first = std::min(0.01 * a * a / D, horizon / 50);
    coarse = setup.section
                 ? std::make_unique<Grid>(setup, geometry::triangulate(*setup.section, 2 * a / cells),
                                          first, last)
                 : std::make_unique<Grid>(setup,
                                          geometry::line(setup.layers, static_cast<int>(std::lround(4 * cells)),
                                                         setup.power, setup.wet_first, setup.wet_last),
                                          first, last);
}

void Solved::refine(double from, double to) {
    fine = coarse->mesh ? std::make_unique<Grid>(setup, geometry::refine(*coarse->mesh), from, to)
                        : std::make_unique<Grid>(setup, geometry::refine(*coarse->line), from, to);
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
