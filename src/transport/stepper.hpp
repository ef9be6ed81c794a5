// SPDX-License-Identifier: MIT
/// A stage whose coefficients vary in time, such as a cooler with a log, or with what stands in the
/// cells: L-stable implicit stepping.
///
/// SDIRK4 (Hairer & Wanner, Solving ODEs II, 1996, Table IV.6.5: five stages, order 4, embedded
/// order 3, L-stable, so the surface jump at the start does not ring). Within a step the
/// coefficients stand at their averages over the step, which is exact when diffusion and loss vary
/// in proportion and of second order otherwise. One factorisation a step, kept while step and
/// averages stay the same. For constant coefficients Spectrum is far cheaper.
#pragma once

#include "transport/history.hpp"

#include <functional>
#include <utility>
#include <vector>

namespace tidemark::transport {

/// How coefficients run with time: the integrals from 0 to t of their factors [s]. Identity:
/// constant.
struct Clock {
    std::function<double(double)> diffusion = [](double t) { return t; };
    std::function<double(double)> loss = [](double t) { return t; };
};

/// Coefficients that follow a field: factors of the conductances and of the losses at every unknown
/// [1], from the time [s] and the state with the bath last [kg per kg water]. Between two unknowns
/// stands the mean of theirs; a film on the wall follows nothing. Empty: ones.
struct Law {
    using Factors = std::function<Eigen::VectorXd(double t, const Eigen::VectorXd& u)>;
    Factors diffusion, loss;
    explicit operator bool() const { return diffusion || loss; }
};

class Stepper : public History {
public:
    /// Integrates from 0 to `last` [s] with error per step below `tolerance` times the largest
    /// concentration. `dose` of the states is weighted by the loss factor, so that loss x dose is
    /// what reacted. Throws base::RunError if `last` is not above zero or the step shrinks to
    /// nothing.
    /// Where the coefficients follow a field, every stage of a step is brought to balance with
    /// its own, by corrections with the matrix of some step before.
    Stepper(const System& system, const Clock& clock, double last, double tolerance = 1e-7,
            const Law& law = {});

    double last() const override { return nodes_.back().t; }
    /// Cubic Hermite between steps, with the steps' own slopes. Here as in influx() a time outside
    /// 0..last() [s] is a base::RunError: nothing is known there.
    State at(double t) const override;
    double influx(double t) const override;
    double time_error() const override { return error_; }

    int steps() const { return static_cast<int>(nodes_.size()) - 1; }
    int factorisations() const { return factorisations_; }

private:
    struct Node { // the end of one step; slopes on its left and right side
        double t = 0;
        Eigen::VectorXd u, dose, left, right, dose_left, dose_right;
        double influx = 0, influx_left = 0, influx_right = 0;
    };
    std::size_t step_of(double t) const;
    double share(std::size_t step, double t) const; // of the step gone by, on the diffusion clock
    bool held_ = false;
    /// Of a held bath, its value and dose at a share of a step, with the loss as the step saw it,
    /// at its average, so that the balance holds within steps too.
    std::pair<double, double> held_bath(std::size_t step, double share) const;
    double bath_value_ = 0, bath_decay_ = 0, wall_gives_ = 0, error_ = 0;
    Clock clock_;
    int factorisations_ = 0;
    std::vector<Node> nodes_;
};

} // namespace tidemark::transport
