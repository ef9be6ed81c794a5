// SPDX-License-Identifier: MIT
/// A stage with constant coefficients, solved for all times at once: the system is projected on a
/// shift-and-invert Krylov space that holds the constant vector, so the projection keeps mass
/// exactly, and the small system is solved by its eigenvalues. Not for coefficients that vary in
/// time: use Stepper.
#pragma once

#include "transport/history.hpp"

#include <Eigen/SparseCholesky>

#include <memory>

namespace tidemark::transport {

/// Solved history; all times from 0 to `last` cost one small product.
class Spectrum : public History {
public:
    /// Solves `system` for 0..`last` [s], accurate to `tolerance` (relative, in the water-weighted
    /// norm) from `first` [s] on; before that the surface layer is thinner than the cells anyway.
    /// Throws base::RunError if the space stops growing before the tolerance is met.
    Spectrum(const System& system, double first, double last, double tolerance = 1e-9);

    double last() const override { return last_; }
    State at(double t) const override;
    Eigen::VectorXd arrived(double t, double loss) const override;
    double influx(double t) const override;
    double time_error() const override { return error_; }

    int vectors() const { return static_cast<int>(modes_.cols()); }
    /// Value of w.free(t) and w.dose(t) for fixed weights, at the cost of a few products.
    struct Follower {
        Eigen::VectorXd modes; // weights in mode space
        double held = 0;       // contribution of a held bath
    };
    Follower follow(const Eigen::VectorXd& weights) const;
    /// {w.free, w.dose} at t.
    std::pair<double, double> value(const Follower& f, double t) const;

private:
    struct Amplitudes {
        Eigen::VectorXd free, dose;
    };
    Amplitudes amplitudes(double t) const;

    double last_ = 0, error_ = 0, bath_value_ = 0, bath_loss_water_ = 0;
    bool held_ = false;
    Eigen::VectorXd rates_, start_, push_, bath_flux_; // mode space
    double bath_link_ = 0;
    Eigen::MatrixXd modes_; // free unknowns x modes
};

} // namespace tidemark::transport
