// SPDX-License-Identifier: MIT
#include "transport/stepper.hpp"

#include "base/error.hpp"
#include "base/text.hpp"
#include "transport/krylov.hpp"

#include <Eigen/SparseCholesky>

#include <algorithm>
#include <array>
#include <cmath>

namespace tidemark::transport {

namespace {

using Eigen::Index;
using Eigen::VectorXd;

// SDIRK4, Hairer & Wanner 1996, Table IV.6.5 (from memory; the order conditions are tested).
constexpr int stages = 5;
constexpr double gamma = 0.25;
constexpr double table[stages][stages] = {{gamma},
                                          {1.0 / 2, gamma},
                                          {17.0 / 50, -1.0 / 25, gamma},
                                          {371.0 / 1360, -137.0 / 2720, 15.0 / 544, gamma},
                                          {25.0 / 24, -49.0 / 48, 125.0 / 16, -85.0 / 12, gamma}};
constexpr double abscissa[stages] = {1.0 / 4, 3.0 / 4, 11.0 / 20, 1.0 / 2, 1};
constexpr double low[stages] = {59.0 / 48, -17.0 / 96, 225.0 / 32, -85.0 / 12, 0};

double hermite(double f, double h, double y0, double m0, double y1, double m1) {
    const double g = 1 - f;
    return g * g * (1 + 2 * f) * y0 + f * f * (3 - 2 * f) * y1 + h * f * g * (g * m0 - f * m1);
}

VectorXd hermite(double f, double h, const VectorXd& y0, const VectorXd& m0, const VectorXd& y1,
                 const VectorXd& m1) {
    const double g = 1 - f;
    return g * g * (1 + 2 * f) * y0 + f * f * (3 - 2 * f) * y1 + h * f * g * (g * m0 - f * m1);
}

} // namespace

Stepper::Stepper(const System& system, const Clock& clock, double last, double tolerance,
                 const Law& law)
    : held_(system.held), clock_(clock) {
    if (!(last > 0))
        throw base::RunError("a stage of no length cannot be stepped through");
    const Index all = system.capacity.size(), n = held_ ? all - 1 : all;
    const VectorXd water = system.capacity.head(n);
    const VectorXd plain_sink = water.cwiseProduct(system.loss.head(n));
    const Eigen::SparseMatrix<double> plain =
        held_ ? Eigen::SparseMatrix<double>(system.conductance.topLeftCorner(n, n))
              : system.conductance;
    Eigen::SparseMatrix<double> links = plain;
    VectorXd sink = plain_sink, lossy = VectorXd::Ones(n), column = VectorXd::Zero(n);
    double bath_link = 0;
    if (held_) {
        bath_link = system.conductance.coeff(n, n);
        bath_value_ = system.initial[n];
        bath_decay_ = system.bath_loss;
        column = -VectorXd(system.conductance.col(n).head(n));
        // What reacts in the cells of the wall, and what these lose with the bath.
        wall_gives_ = system.capacity[n] * (system.loss[n] - bath_decay_);
    }
    const VectorXd plain_column = column;
    // Without one, wall nodes are the bath.
    const bool film = !system.unknown.empty() && std::ranges::count(system.unknown, all - 1) == 0;
    const auto follow = [&](double t, const VectorXd& u, double bath) {
        if (!law)
            return;
        VectorXd state(all);
        state[all - 1] = bath; // unless it is among u
        state.head(n) = u;
        if (law.loss) {
            lossy = law.loss(t, state).head(n);
            sink = plain_sink.cwiseProduct(lossy);
        }
        if (!law.diffusion)
            return;
        const VectorXd f = law.diffusion(t, state);
        const auto between = [&](Index i, Index j) {
            return film && std::max(i, j) == all - 1 ? 1 : (f[i] + f[j]) / 2;
        };
        VectorXd diagonal = VectorXd::Zero(n);
        for (Index j = 0; j < n; ++j)
            for (auto k = links.outerIndexPtr()[j]; k < links.outerIndexPtr()[j + 1]; ++k)
                if (const Index i = links.innerIndexPtr()[k]; i != j) {
                    links.valuePtr()[k] = plain.valuePtr()[k] * between(i, j);
                    diagonal[i] -= links.valuePtr()[k];
                }
        if (held_) {
            for (Index i = 0; i < n; ++i)
                if (plain_column[i] != 0)
                    column[i] = plain_column[i] * between(i, n);
            diagonal += column;
            bath_link = column.sum();
        }
        links.diagonal() = diagonal;
    };
    const double scale = std::max(system.initial.cwiseAbs().maxCoeff(), 1e-300);

    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor;
    factor.analyzePattern(plain);
    std::array<double, 3> factored{}; // h, diffusion factor, loss factor
    bool stale = false;               // the factor is far from the coefficients of now
    double h = last / 4096, s = 0, q = 0;

    double begun = 0; // value of a held bath where the step begins
    const auto held = [&](double into) { return begun * std::exp(-bath_decay_ * q * into); };
    const auto slope = [&](const VectorXd& u, double bath) -> VectorXd {
        return (s * (bath * column - links * u) - q * sink.cwiseProduct(u)).cwiseQuotient(water);
    };
    const auto influx_rate = [&](const VectorXd& u, double bath) {
        return held_ ? s * (bath_link * bath - column.dot(u)) : 0.0; // into the cells
    };

    Node node;
    node.u = system.initial.head(n);
    node.dose = VectorXd::Zero(n);
    nodes_.push_back(node);
    std::array<VectorXd, stages> k, stage;
    while (nodes_.back().t < last * (1 - 1e-12)) {
        const double t = nodes_.back().t, step = std::min(h, last - t);
        const auto mean = [&](const std::function<double(double)>& f, double from, double to) {
            return (f(to) - f(from)) / (to - from);
        };
        s = mean(clock.diffusion, t, t + step);
        q = mean(clock.loss, t, t + step);
        const VectorXd& u = nodes_.back().u;
        begun = bath_value_ * std::exp(-bath_decay_ * (clock.loss(t) - clock.loss(0)));
        follow(t, u, begun);
        const VectorXd right = slope(u, begun), dose_right = q * lossy.cwiseProduct(u);
        const double influx_right = influx_rate(u, begun);
        if (stale || factored != std::array{step, s, q}) {
            Eigen::SparseMatrix<double> matrix = step * gamma * s * links;
            matrix.diagonal() += water + step * gamma * q * sink;
            factor.factorize(matrix);
            if (factor.info() != Eigen::Success)
                throw base::RunError(
                    "a time step could not be solved; a coefficient is not usable");
            factored = {step, s, q};
            stale = false;
            ++factorisations_;
        }
        VectorXd up = u, embedded = u;
        VectorXd dose = nodes_.back().dose;
        double influx = nodes_.back().influx;
        bool balanced = true;
        for (int i = 0; i < stages; ++i) {
            VectorXd guess = u;
            for (int j = 0; j < i; ++j)
                guess += step * table[i][j] * k[j];
            const double into = abscissa[i] * step, bath = held(into);
            follow(t + into, guess, bath);
            k[i] = factor.solve(water.cwiseProduct(slope(guess, bath)));
            stage[i] = guess + step * gamma * k[i];
            for (int pass = 0; law && balanced; ++pass) {
                follow(t + into, stage[i], bath);
                const VectorXd more =
                    factor.solve(water.cwiseProduct(slope(stage[i], bath) - k[i]));
                k[i] += more;
                stage[i] = guess + step * gamma * k[i];
                if (step * gamma * more.cwiseAbs().maxCoeff() < 1e-3 * tolerance * scale)
                    break;
                stale = stale || pass > 4;
                balanced = pass < 24;
            }
            const double b = table[stages - 1][i];
            up += step * b * k[i];
            embedded += step * low[i] * k[i];
            dose += step * b * q * lossy.cwiseProduct(stage[i]);
            influx += step * b * influx_rate(stage[i], bath);
        }
        // What averaging the coefficients over the step leaves out: loss against diffusion
        // changing.
        const double half = t + step / 2;
        const double drift =
            std::abs(mean(clock.loss, t, half) * mean(clock.diffusion, half, t + step) -
                     mean(clock.loss, half, t + step) * mean(clock.diffusion, t, half)) /
            std::max(s, 1e-300) * std::max(system.loss.maxCoeff(), bath_decay_) * step / 12;
        const double error = std::max((up - embedded).cwiseAbs().maxCoeff() / scale, drift);
        if (!balanced || !(error <= tolerance)) {
            stale = true;
            h = step / 2;
            if (!(h > 1e-14 * last))
                throw base::RunError(
                    "the time steps shrank to nothing; a coefficient is not usable");
            continue;
        }
        nodes_.back().right = right;
        nodes_.back().dose_right = dose_right;
        nodes_.back().influx_right = influx_right;
        follow(t + step, up, held(step));
        Node next;
        next.t = t + step;
        next.left = slope(up, held(step));
        next.dose_left = q * lossy.cwiseProduct(up);
        next.influx_left = influx_rate(up, held(step));
        next.u = std::move(up);
        next.dose = std::move(dose);
        next.influx = influx;
        nodes_.push_back(std::move(next));
        error_ += error;
        if (error < tolerance / 32 && step == h)
            h = 2 * step;
    }
}

std::size_t Stepper::step_of(double t) const {
    const double rounding = 1e-9 * last() + 1e-6; // [s] of times that are sums over a schedule
    if (!(t >= -rounding && t <= last() + rounding))
        throw base::RunError("asked for the state after " + base::significant(t / 86400, 4) +
                             " days of a stage that was solved from 0 to " +
                             base::significant(last() / 86400, 4));
    const auto it = std::upper_bound(nodes_.begin(), nodes_.end(), t,
                                     [](double v, const Node& n) { return v < n.t; });
    return std::clamp<std::size_t>(static_cast<std::size_t>(it - nodes_.begin()), 1,
                                   nodes_.size() - 1);
}

double Stepper::share(std::size_t i, double t) const {
    const double from = nodes_[i - 1].t, to = nodes_[i].t;
    const double whole = clock_.diffusion(to) - clock_.diffusion(from);
    return whole > 0 ? (clock_.diffusion(t) - clock_.diffusion(from)) / whole
                     : (t - from) / (to - from);
}

State Stepper::at(double t) const {
    const std::size_t i = step_of(t);
    const Node &p = nodes_[i - 1], &n = nodes_[i];
    const double h = n.t - p.t, f = share(i, t);
    const Index m = p.u.size();
    State state{VectorXd(m + held_), VectorXd(m + held_)};
    state.free.head(m) = hermite(f, h, p.u, p.right, n.u, n.left);
    state.dose.head(m) = hermite(f, h, p.dose, p.dose_right, n.dose, n.dose_left);
    if (held_) {
        const auto [value, dose] = held_bath(i, f);
        state.free[m] = value;
        state.dose[m] = dose;
    }
    return state;
}

std::pair<double, double> Stepper::held_bath(std::size_t i, double f) const {
    const double gone =
        (1 - f) * clock_.loss(nodes_[i - 1].t) + f * clock_.loss(nodes_[i].t) - clock_.loss(0);
    return {bath_value_ * std::exp(-bath_decay_ * gone),
            bath_value_ * gone * phi1(0, bath_decay_ * gone)};
}

double Stepper::influx(double t) const {
    const std::size_t i = step_of(t);
    const Node &p = nodes_[i - 1], &n = nodes_[i];
    const double f = share(i, t);
    return hermite(f, n.t - p.t, p.influx, p.influx_right, n.influx, n.influx_left) +
           wall_gives_ * held_bath(i, f).second;
}

} // namespace tidemark::transport
