// SPDX-License-Identifier: MIT
#include "transport/spectrum.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tidemark::transport {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

struct Spectrum::Problem : Linear {
    explicit Problem(const System& s) : held(s.held), n(s.capacity.size() - (s.held ? 1 : 0)) {
        water = s.capacity.head(n);
        sink = water.cwiseProduct(s.loss.head(n));
        links =
            held ? Eigen::SparseMatrix<double>(s.conductance.topLeftCorner(n, n)) : s.conductance;
        start = s.initial.head(n);
        source = VectorXd::Zero(n);
        if (held) {
            bath_value = s.initial[n];
            column = s.conductance.col(n).head(n);
            source = -bath_value * column;
            decay = s.bath_loss;
            // Into the cells, what reacts in those of the wall, and what these lose with the bath.
            bath_gives = s.conductance.coeff(n, n) + s.capacity[n] * (s.loss[n] - decay);
        }
        even = s.level().head(n);
        scale = std::max(std::sqrt(start.cwiseAbs2().dot(water)),
                         bath_value * std::sqrt(even.cwiseAbs2().dot(water)));
    }

    bool held;
    Index n;
    VectorXd column;
    double bath_value = 0, bath_gives = 0;
};

Spectrum::Spectrum(const System& system, double first, double last, double tolerance)
    : last_(last), space_(std::make_shared<Space>(Space{first, tolerance})) {
    const Problem problem(system);
    grow(problem);
    keep(problem);
}

Spectrum::Spectrum(const System& system, const Spectrum& donor, double worst)
    : last_(donor.last_), space_(donor.space_) {
    const Problem problem(system);
    if (problem.n != space_->water.size() || problem.held != donor.held_ ||
        !project(problem, worst > 0 ? worst : 10 * donor.space_->tolerance)) {
        space_ = std::make_shared<Space>(Space{donor.space_->first, donor.space_->tolerance});
        grow(problem);
    }
    keep(problem);
}

Spectrum::Spectrum(const Spectrum& whole, const System& part, int first)
    : last_(whole.last_), error_(whole.error_), space_(whole.space_), first_(first),
      small_(whole.small_) {
    keep(Problem(part));
}

void Spectrum::keep(const Problem& p) {
    held_ = p.held;
    count_ = p.n - !held_;
    bath_value_ = p.bath_value;
    bath_decay_ = p.decay;
    bath_gives_ = p.bath_gives;
    if (held_)
        bath_flux_ = in_space(p.column); // negative conductances
}

void Spectrum::grow(const Problem& p) {
    Factor factor(p.links);
    Krylov space = transport::grow(p, space_->first, last_, space_->tolerance, factor);
    small_ = Small(Spectral(space.T), space.basis.transpose() * p.water.cwiseProduct(p.start),
                   space.basis.transpose() * p.source, p.decay);
    error_ = space.error;
    space_->basis = std::move(space.basis);
    space_->water = p.water;
}

bool Spectrum::project(const Problem& p, double worst) {
    const MatrixXd& basis = space_->basis;
    // Amplitudes of the same number may be of other modes: without the constant no mass is kept.
    constexpr double rounding = 1e-11;
    const VectorXd& water = space_->water;
    const VectorXd outside = p.even - basis * (basis.transpose() * water.cwiseProduct(p.even));
    if (outside.cwiseAbs2().dot(water) > rounding * rounding * p.even.cwiseAbs2().dot(water))
        return false;
    MatrixXd image = p.links * basis;
    image += p.sink.asDiagonal() * basis;
    const MatrixXd T = basis.transpose() * image;
    // The waters differ at the bath alone, if at all: when its partition does.
    MatrixXd G = MatrixXd::Identity(basis.cols(), basis.cols());
    bool alike = true;
    for (Index i = 0; i < p.n; ++i)
        if (const double more = p.water[i] - space_->water[i]; more != 0) {
            G += more * basis.row(i).transpose() * basis.row(i);
            alike = false;
        }
    const Small small(alike ? Spectral(T) : Spectral(T, G),
                      basis.transpose() * p.water.cwiseProduct(p.start),
                      basis.transpose() * p.source, p.decay);
    error_ = small.lacking(space_->first, last_) / p.scale;
    if (!(error_ < worst))
        return false;
    small_ = small;
    return true;
}

VectorXd Spectrum::unknowns(const VectorXd& a, double bath) const {
    VectorXd u(count_ + 1);
    u.head(count_).noalias() = space_->basis.middleRows(first_, count_) * a;
    u[count_] = held_ ? bath : space_->basis.bottomRows<1>().dot(a);
    return u;
}

VectorXd Spectrum::in_space(const VectorXd& weights) const {
    VectorXd w = space_->basis.middleRows(first_, count_).transpose() * weights.head(count_);
    if (!held_)
        w += weights[count_] * space_->basis.bottomRows<1>().transpose();
    return w;
}

std::pair<double, double> Spectrum::held_bath(double t) const {
    return {bath_value_ * std::exp(-bath_decay_ * t), bath_value_ * t * phi1(0, bath_decay_ * t)};
}

Eigen::MatrixXd Spectrum::rows() const {
    return space_->basis.middleRows(first_, count_);
}

std::pair<VectorXd, double> Spectrum::inner(double t, double loss) const {
    const auto [free, dose] = held_bath(t);
    VectorXd a = small_.at(t) + loss * small_.integral(t);
    const double bath = held_ ? free + loss * dose : space_->basis.bottomRows<1>().dot(a);
    return {std::move(a), bath};
}

State Spectrum::at(double t) const {
    const auto [free, dose] = held_bath(t);
    return {unknowns(small_.at(t), free), unknowns(small_.integral(t), dose)};
}

VectorXd Spectrum::arrived(double t, double loss) const {
    const auto [free, dose] = held_bath(t);
    return unknowns(small_.at(t) + loss * small_.integral(t), free + loss * dose);
}

double Spectrum::influx(double t) const {
    return held_ ? bath_gives_ * held_bath(t).second + bath_flux_.dot(small_.integral(t)) : 0.0;
}

History::Follower Spectrum::follow(const VectorXd& weights) const {
    return [this, w = in_space(weights), share = held_ ? weights[count_] : 0.0](double t) {
        const auto [free, dose] = held_bath(t);
        return std::pair(w.dot(small_.at(t)) + share * free,
                         w.dot(small_.integral(t)) + share * dose);
    };
}

} // namespace tidemark::transport
