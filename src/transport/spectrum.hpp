// SPDX-License-Identifier: MIT
/// A stage with constant coefficients, solved for all times at once: the system is projected on a
/// shift-and-invert Krylov space that holds the constant vector, so the projection keeps mass
/// exactly, and the small system is solved by its eigenvalues. Not for coefficients that vary in
/// time: use Stepper.
#pragma once

#include "transport/history.hpp"
#include "transport/krylov.hpp"

#include <memory>
#include <utility>
#include <vector>

namespace tidemark::transport {

/// Solved history; all times from 0 to last() cost one small product each.
class Spectrum : public History {
public:
    /// Solves `system` for 0..`last` [s], accurate to `tolerance` (relative, in the water-weighted
    /// norm) from `first` [s] on. Where rounding stops it short, as with a film that is no
    /// hindrance at all, time_error() tells how far it came; throws base::RunError above 1e-5.
    Spectrum(const System& system, double first, double last, double tolerance = 1e-7);

    /// Solves another solute in the space of `donor`, on the same cells. Exact reuse where the two
    /// differ by a factor on all conductances, one loss in all tissue, and what concerns the bath
    /// alone; otherwise, or when the estimated error is above `worst` (0: ten times the tolerance),
    /// a space of its own is made.
    Spectrum(const System& system, const Spectrum& donor, double worst = 0);

    /// One part's share of a history of parts in one bath (join.hpp): `part` is its own system, of
    /// one unit, and its unknowns stand in `whole` from `first` on. It reads its own rows only, so
    /// a question costs what the part alone would cost. Its bath is everybody's: what a finite bath
    /// lost is no measure of what this part took; ask the whole for the balance of mass.
    Spectrum(const Spectrum& whole, const System& part, int first);

    double last() const override { return last_; }
    double first() const { return space_->first; } ///< [s] accurate from here
    State at(double t) const override;
    Eigen::VectorXd arrived(double t, double loss) const override;
    double influx(double t) const override;
    double time_error() const override { return error_; }

    /// Size of the space.
    int vectors() const { return static_cast<int>(space_->basis.cols()); }
    /// Numbers read to tell the state at one time: what a question costs.
    Eigen::Index numbers() const { return (count_ + !held_) * space_->basis.cols(); }

    Follower follow(const Eigen::VectorXd& weights) const override;

    /// arrived() in two steps: the vectors' values on the unknowns but the bath; their amplitudes,
    /// and the bath.
    Eigen::MatrixXd rows() const;
    std::pair<Eigen::VectorXd, double> inner(double t, double loss) const;
    /// Whether the vectors are the same ones.
    bool same_rows(const Spectrum& other) const {
        return space_ == other.space_ && first_ == other.first_ && count_ == other.count_;
    }

private:
    struct Space {
        double first = 0, tolerance = 0;
        Eigen::VectorXd water{}; // of the system it was grown for
        Eigen::MatrixXd basis{}; // free unknowns x vectors, orthonormal in that water
    };
    struct Problem; // the parts of a System the solve needs
    void grow(const Problem& problem);
    bool project(const Problem& problem, double worst);
    void keep(const Problem& problem);
    std::pair<double, double> held_bath(double t) const; ///< its value and dose
    /// Unknowns that have `a` in the space, and a held bath's `bath` last.
    Eigen::VectorXd unknowns(const Eigen::VectorXd& a, double bath) const;
    Eigen::VectorXd in_space(const Eigen::VectorXd& weights) const; ///< weights.u turned round

    double last_ = 0, error_ = 0;
    bool held_ = false;
    double bath_value_ = 0, bath_decay_ = 0; // of a held bath, with what it gives by its dose
    double bath_gives_ = 0;
    std::shared_ptr<Space> space_;
    Eigen::Index first_ = 0, count_ = 0; // rows of the space, besides the bath's, which is last
    Small small_;
    Eigen::VectorXd bath_flux_; // in the space
};

} // namespace tidemark::transport
