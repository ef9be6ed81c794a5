// SPDX-License-Identifier: MIT
#include "transport/spectrum.hpp"

#include "base/error.hpp"

#include <Eigen/Eigenvalues>

#include <cmath>
#include <deque>

namespace tidemark::transport {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// (1 - exp(-z)) / z
double phi1(double z) { return std::abs(z) < 1e-12 ? 1 - z / 2 : -std::expm1(-z) / z; }
/// (1 - phi1(z)) / z
double phi2(double z) {
    return std::abs(z) < 1e-3 ? 0.5 - z / 6 + z * z / 24 - z * z * z / 120 : (1 - phi1(z)) / z;
}

/// The projected problem a' = -T a + f, by eigenvalues.
struct Small {
    VectorXd rates, start, push;
    MatrixXd vectors;
    Small(const MatrixXd& T, const VectorXd& a0, const VectorXd& f) {
        const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(T);
        rates = eigen.eigenvalues().cwiseMax(0.0);
        vectors = eigen.eigenvectors();
        start = vectors.transpose() * a0;
        push = vectors.transpose() * f;
    }
    VectorXd at(double t) const {
        VectorXd c(rates.size());
        for (Index j = 0; j < c.size(); ++j)
            c[j] = start[j] * std::exp(-rates[j] * t) + push[j] * t * phi1(rates[j] * t);
        return vectors * c;
    }
};

} // namespace

Spectrum::Spectrum(const System& system, double first, double last, double tolerance)
    : last_(last), held_(system.held) {
    const Index all = system.capacity.size(), n = held_ ? all - 1 : all;
    const VectorXd water = system.capacity.head(n);
    const VectorXd sink = water.cwiseProduct(system.loss.head(n));
    const Eigen::SparseMatrix<double> links =
        held_ ? Eigen::SparseMatrix<double>(system.conductance.topLeftCorner(n, n))
              : system.conductance;
    VectorXd source = VectorXd::Zero(n);
    if (held_) {
        bath_value_ = system.initial[n];
        source = -bath_value_ * VectorXd(system.conductance.col(n).head(n));
        bath_loss_water_ = system.capacity[n] * system.loss[n];
    }
    const auto apply = [&](const VectorXd& x) -> VectorXd { return links * x + sink.cwiseProduct(x); };

    // (A + sigma C)^-1, sigma between the shortest and the longest time of interest.
    const double sigma = 1 / std::sqrt(first * last);
    Eigen::SparseMatrix<double> shifted = links;
    shifted.diagonal() += sink + sigma * water;
    const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(shifted);
    if (factor.info() != Eigen::Success)
        throw base::RunError("the cells could not be solved; a diffusivity or a water content is not "
                             "a usable number");

    const Index most = std::min<Index>(n, 120);
    MatrixXd basis(n, most), weighted(n, most), T = MatrixXd::Zero(most, most);
    Index k = 0;
    const auto append = [&](VectorXd x) { // orthonormal in the water-weighted product, twice is enough
        const double before = std::sqrt(x.cwiseAbs2().dot(water));
        for (int pass = 0; pass < 2 && k > 0; ++pass)
            x -= basis.leftCols(k) * (weighted.leftCols(k).transpose() * x);
        const double norm = std::sqrt(x.cwiseAbs2().dot(water));
        if (!(norm > 1e-13 * before) || k == most)
            return false;
        basis.col(k) = x / norm;
        weighted.col(k) = water.cwiseProduct(basis.col(k));
        const VectorXd image = apply(basis.col(k));
        T.col(k).head(k + 1) = basis.leftCols(k + 1).transpose() * image;
        T.row(k).head(k + 1) = T.col(k).head(k + 1).transpose();
        ++k;
        return true;
    };

    append(VectorXd::Ones(n)); // keeps mass: the projected residual has no net water
    std::deque<VectorXd> chain;
    const VectorXd u0 = system.initial.head(n);
    if (u0.cwiseAbs().maxCoeff() > 0 && append(u0))
        chain.push_back(basis.col(k - 1));
    if (source.cwiseAbs().maxCoeff() > 0) {
        const VectorXd x = factor.solve(source);
        if (append(x))
            chain.push_back(basis.col(k - 1));
    }

    const auto small = [&](Index size) {
        return Small(T.topLeftCorner(size, size), weighted.leftCols(size).transpose() * u0,
                     basis.leftCols(size).transpose() * source);
    };
    const double scale =
        std::max(std::sqrt(u0.cwiseAbs2().dot(water)), bath_value_ * std::sqrt(water.sum()));
    error_ = 0;
    for (Index next = 16; !chain.empty(); ) {
        const VectorXd x = factor.solve(water.cwiseProduct(chain.front()));
        chain.pop_front();
        if (append(x))
            chain.push_back(basis.col(k - 1));
        if (k < next && !chain.empty())
            continue;
        next = k + 6;
        const Index fewer = std::max<Index>(1, k - 2);
        const Small fine = small(k), coarse = small(fewer);
        error_ = 0;
        for (double t = first; t < 2 * last; t *= std::sqrt(last / first) * 0.999999) {
            VectorXd d = fine.at(t);
            d.head(fewer) -= coarse.at(t);
            error_ = std::max(error_, d.norm() / scale);
        }
        if (error_ < tolerance || k == n)
            break;
        if (k == most)
            throw base::RunError("the time history did not converge; ask for a shorter span of days");
    }
    const Small fine = small(k);
    rates_ = fine.rates;
    start_ = fine.start;
    push_ = fine.push;
    modes_.noalias() = basis.leftCols(k) * fine.vectors;
    if (held_) {
        const VectorXd column = system.conductance.col(n).head(n);
        bath_flux_ = modes_.transpose() * column; // negative conductances
        bath_link_ = -column.sum();
    }
}

Spectrum::Amplitudes Spectrum::amplitudes(double t) const {
    Amplitudes a{VectorXd(rates_.size()), VectorXd(rates_.size())};
    for (Index j = 0; j < rates_.size(); ++j) {
        const double z = rates_[j] * t;
        a.free[j] = start_[j] * std::exp(-z) + push_[j] * t * phi1(z);
        a.dose[j] = start_[j] * t * phi1(z) + push_[j] * t * t * phi2(z);
    }
    return a;
}

State Spectrum::at(double t) const {
    const Amplitudes a = amplitudes(t);
    const Index n = modes_.rows();
    State s{VectorXd(n + held_), VectorXd(n + held_)};
    s.free.head(n).noalias() = modes_ * a.free;
    s.dose.head(n).noalias() = modes_ * a.dose;
    if (held_) {
        s.free[n] = bath_value_;
        s.dose[n] = bath_value_ * t;
    }
    return s;
}

VectorXd Spectrum::arrived(double t, double loss) const {
    const Amplitudes a = amplitudes(t);
    const Index n = modes_.rows();
    VectorXd v(n + held_);
    v.head(n).noalias() = modes_ * (a.free + loss * a.dose);
    if (held_)
        v[n] = bath_value_ * (1 + loss * t);
    return v;
}

double Spectrum::influx(double t) const {
    if (!held_)
        return 0;
    // integral of sum g (w - u) over time, and what reacts in the wall cells
    return bath_link_ * bath_value_ * t + bath_flux_.dot(amplitudes(t).dose) +
           bath_loss_water_ * bath_value_ * t;
}

Spectrum::Follower Spectrum::follow(const VectorXd& weights) const {
    const Index n = modes_.rows();
    return {modes_.transpose() * weights.head(n), held_ ? weights[n] * bath_value_ : 0.0};
}

std::pair<double, double> Spectrum::value(const Follower& f, double t) const {
    const Amplitudes a = amplitudes(t);
    return {f.modes.dot(a.free) + f.held, f.modes.dot(a.dose) + f.held * t};
}

} // namespace tidemark::transport
