// SPDX-License-Identifier: MIT
#include "transport/spectrum.hpp"

#include "transport/krylov.hpp"

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
            bath_link = s.conductance.coeff(n, n);
            bath_loss_water = s.capacity[n] * s.loss[n];
        }
        even = s.level().head(n);
        scale = std::max(std::sqrt(start.cwiseAbs2().dot(water)),
                         bath_value * std::sqrt(even.cwiseAbs2().dot(water)));
    }

    bool held;
    Index n;
    VectorXd column;
    double bath_value = 0, bath_link = 0, bath_loss_water = 0;
};

Spectrum::Spectrum(const System& system, double first, double last, double tolerance)
    : last_(last), space_(std::make_shared<Space>(Space{first, tolerance})) {
    const Problem problem(system);
    grow(problem);
    keep(problem);
}

Spectrum::Spectrum(const System& system, const Spectrum& donor)
    : last_(donor.last_), space_(donor.space_) {
    const Problem problem(system);
    if (problem.n != space_->water.size() || problem.held != donor.held_ || !project(problem)) {
        space_ = std::make_shared<Space>(Space{donor.space_->first, donor.space_->tolerance});
        grow(problem);
    }
    keep(problem);
}

Spectrum::Spectrum(const Spectrum& whole, const System& part, int first)
    : last_(whole.last_), error_(whole.error_), space_(whole.space_), first_(first),
      rates_(whole.rates_), start_(whole.start_), push_(whole.push_), vectors_(whole.vectors_) {
    keep(Problem(part));
}

void Spectrum::keep(const Problem& p) {
    held_ = p.held;
    count_ = p.n - !held_;
    bath_value_ = p.bath_value;
    bath_loss_water_ = p.bath_loss_water;
    if (held_) {
        bath_flux_ = in_space(p.column); // negative conductances
        bath_link_ = p.bath_link;
    }
}

void Spectrum::grow(const Problem& p) {
    Factor factor;
    factor.analyzePattern(p.links);
    Krylov space = transport::grow(p, space_->first, last_, space_->tolerance, factor);
    const Small fine(space.T, space.basis.transpose() * p.water.cwiseProduct(p.start),
                     space.basis.transpose() * p.source);
    error_ = space.error;
    rates_ = fine.rates;
    start_ = fine.start;
    push_ = fine.push;
    vectors_ = fine.vectors;
    space_->basis = std::move(space.basis);
    space_->water = p.water;
}

bool Spectrum::project(const Problem& p) {
    const MatrixXd& basis = space_->basis;
    const Index k = basis.cols(), fewer = k - 5;
    if (fewer < 1) // a donor that had nothing to follow: its space says nothing of an error
        return false;
    MatrixXd image = p.links * basis;
    image += p.sink.asDiagonal() * basis;
    const MatrixXd T = basis.transpose() * image;
    // The waters differ at the bath alone, if at all: when its partition does.
    MatrixXd G = MatrixXd::Identity(k, k);
    for (Index i = 0; i < p.n; ++i)
        if (const double more = p.water[i] - space_->water[i]; more != 0)
            G += more * basis.row(i).transpose() * basis.row(i);
    const VectorXd a0 = basis.transpose() * p.water.cwiseProduct(p.start),
                   f = basis.transpose() * p.source;
    const Small fine(T, G, a0, f);
    const Small coarse(T.topLeftCorner(fewer, fewer), G.topLeftCorner(fewer, fewer), a0.head(fewer),
                       f.head(fewer));
    error_ = 0;
    for (const double t : {space_->first, std::sqrt(space_->first * last_), last_}) {
        VectorXd d = fine.at(t);
        d.head(fewer) -= coarse.at(t);
        error_ = std::max(error_, std::sqrt(std::abs(d.dot(G * d))) / p.scale);
    }
    if (!(error_ < 10 * space_->tolerance))
        return false;
    rates_ = fine.rates;
    start_ = fine.start;
    push_ = fine.push;
    vectors_ = fine.vectors;
    return true;
}

Spectrum::Amplitudes Spectrum::amplitudes(double t) const {
    VectorXd free(rates_.size()), dose(rates_.size());
    for (Index j = 0; j < rates_.size(); ++j) {
        const double z = rates_[j] * t;
        free[j] = start_[j] * std::exp(-z) + push_[j] * t * phi1(z);
        dose[j] = start_[j] * t * phi1(z) + push_[j] * t * t * phi2(z);
    }
    return {vectors_ * free, vectors_ * dose};
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

State Spectrum::at(double t) const {
    const Amplitudes a = amplitudes(t);
    return {unknowns(a.free, bath_value_), unknowns(a.dose, bath_value_ * t)};
}

VectorXd Spectrum::arrived(double t, double loss) const {
    const Amplitudes a = amplitudes(t);
    return unknowns(a.free + loss * a.dose, bath_value_ * (1 + loss * t));
}

double Spectrum::influx(double t) const {
    if (!held_)
        return 0;
    // integral of sum g (w - u) over time, and what reacts in the wall cells
    return (bath_link_ + bath_loss_water_) * bath_value_ * t + bath_flux_.dot(amplitudes(t).dose);
}

History::Follower Spectrum::follow(const VectorXd& weights) const {
    return [this, w = in_space(weights),
            held = held_ ? weights[count_] * bath_value_ : 0.0](double t) {
        const Amplitudes a = amplitudes(t);
        return std::pair(w.dot(a.free) + held, w.dot(a.dose) + held * t);
    };
}

} // namespace tidemark::transport
