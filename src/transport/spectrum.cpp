// SPDX-License-Identifier: MIT
#include "transport/spectrum.hpp"

#include "base/error.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/SparseCholesky>

#include <cmath>
#include <deque>
#include <utility>

namespace tidemark::transport {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// (1 - exp(-z)) / z
double phi1(double z) {
    return std::abs(z) < 1e-12 ? 1 - z / 2 : -std::expm1(-z) / z;
}
/// (1 - phi1(z)) / z
double phi2(double z) {
    return std::abs(z) < 1e-3 ? 0.5 - z / 6 + z * z / 24 - z * z * z / 120 : (1 - phi1(z)) / z;
}

/// The projected problem G a' = -T a + f, by its eigenvalues; G is near the identity, or it.
struct Small {
    VectorXd rates, start, push;
    MatrixXd vectors;
    Small(const MatrixXd& T, const VectorXd& a0, const VectorXd& f) {
        const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(T);
        take(eigen.eigenvalues(), eigen.eigenvectors(), a0, f);
    }
    Small(const MatrixXd& T, const MatrixXd& G, const VectorXd& a0, const VectorXd& f) {
        const Eigen::GeneralizedSelfAdjointEigenSolver<MatrixXd> eigen(T, G);
        take(eigen.eigenvalues(), eigen.eigenvectors(), a0, f);
    }
    void take(const VectorXd& values, const MatrixXd& v, const VectorXd& a0, const VectorXd& f) {
        rates = values.cwiseMax(0.0);
        vectors = v;
        start = v.transpose() * a0; // a0 and f come multiplied by G
        push = v.transpose() * f;
    }
    VectorXd at(double t) const {
        VectorXd c(rates.size());
        for (Index j = 0; j < c.size(); ++j)
            c[j] = start[j] * std::exp(-rates[j] * t) + push[j] * t * phi1(rates[j] * t);
        return vectors * c;
    }
};

} // namespace

struct Spectrum::Problem {
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
            bath_loss_water = s.capacity[n] * s.loss[n];
        }
        scale =
            std::max(std::sqrt(start.cwiseAbs2().dot(water)), bath_value * std::sqrt(water.sum()));
    }
    VectorXd apply(const VectorXd& x) const { return links * x + sink.cwiseProduct(x); }

    bool held;
    Index n;
    VectorXd water, sink, start, source, column;
    Eigen::SparseMatrix<double> links;
    double bath_value = 0, bath_loss_water = 0, scale = 0;
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
        bath_link_ = -p.column.sum();
    }
}

void Spectrum::grow(const Problem& p) {
    const double first = space_->first;
    // (A + sigma C)^-1, sigma between the shortest and the longest time of interest.
    const double sigma = 1 / std::sqrt(first * last_);
    Eigen::SparseMatrix<double> shifted = p.links;
    shifted.diagonal() += p.sink + sigma * p.water;
    const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(shifted);
    if (factor.info() != Eigen::Success)
        throw base::RunError(
            "the cells could not be solved; a diffusivity or a water content is not "
            "a usable number");

    const Index most = std::min<Index>(p.n, 121);
    MatrixXd basis(p.n, most), T = MatrixXd::Zero(most, most);
    Index k = 0;
    // Orthonormal in the water-weighted product. The shifted inverse is symmetric in it, so a new
    // vector meets only the last few in earnest; the full pass takes out what rounding leaves.
    const auto append = [&](VectorXd x, Index recent) {
        const auto size = [&] { return std::sqrt(x.cwiseAbs2().dot(p.water)); };
        const auto clear = [&](Index from) {
            const auto before = basis.middleCols(from, k - from);
            x -= before * (before.transpose() * p.water.cwiseProduct(x));
        };
        const double before = size();
        if (k > 0)
            clear(std::max<Index>(0, k - recent));
        double norm = size();
        for (int pass = 0; pass < 3 && k > 0 && norm > 1e-13 * before; ++pass) {
            clear(0);
            if (const double last = std::exchange(norm, size()); norm > 0.7 * last)
                break;
        }
        if (!(norm > 1e-13 * before) || k == most)
            return false;
        basis.col(k) = x / norm;
        T.col(k).head(k + 1) = basis.leftCols(k + 1).transpose() * p.apply(basis.col(k));
        T.row(k).head(k + 1) = T.col(k).head(k + 1).transpose();
        ++k;
        return true;
    };

    std::deque<VectorXd> chain;
    if (p.start.cwiseAbs().maxCoeff() > 0 && append(p.start, most))
        chain.push_back(basis.col(k - 1));
    if (p.source.cwiseAbs().maxCoeff() > 0 && append(factor.solve(p.source), most))
        chain.push_back(basis.col(k - 1));

    const auto small = [&] {
        return Small(T.topLeftCorner(k, k),
                     basis.leftCols(k).transpose() * p.water.cwiseProduct(p.start),
                     basis.leftCols(k).transpose() * p.source);
    };
    // The small solution's change since the last look tells the error that space had, and with a
    // margin that of the present one.
    constexpr double margin = 3, useful = 1e-5;
    const double probes[] = {first, std::sqrt(first * last_), last_};
    MatrixXd seen = MatrixXd::Zero(0, 3);
    if (k == 0) // nothing to follow
        append(VectorXd::Ones(p.n), most);
    Small fine = small();
    for (Index next = 18; !chain.empty();) {
        const VectorXd x = factor.solve(p.water.cwiseProduct(chain.front()));
        chain.pop_front();
        if (append(x, 6))
            chain.push_back(basis.col(k - 1));
        if (k < next && !chain.empty())
            continue;
        next = k + 4;
        fine = small();
        MatrixXd now(k, 3);
        for (Index j = 0; j < 3; ++j)
            now.col(j) = fine.at(probes[j]);
        MatrixXd change = now;
        change.topRows(seen.rows()) -= seen;
        error_ = margin * change.colwise().norm().maxCoeff() / p.scale;
        seen = now;
        if (error_ < space_->tolerance || k == p.n)
            break;
        if (k >= most - 1 && error_ > useful)
            throw base::RunError(
                "the time history did not converge; ask for a shorter span of days");
    }
    // Keeps mass: with the constant in the space, the projected residual has no net water. It comes
    // last, because a chain that met it earlier would no longer be the powers of the inverse.
    if (append(VectorXd::Ones(p.n), most))
        fine = small();
    rates_ = fine.rates;
    start_ = fine.start;
    push_ = fine.push;
    vectors_ = fine.vectors;
    basis.conservativeResize(Eigen::NoChange, k);
    space_->basis = std::move(basis);
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

Spectrum::Follower Spectrum::follow(const VectorXd& weights) const {
    return {in_space(weights), held_ ? weights[count_] * bath_value_ : 0.0};
}

std::pair<double, double> Spectrum::value(const Follower& f, double t) const {
    const Amplitudes a = amplitudes(t);
    return {f.weights.dot(a.free) + f.held, f.weights.dot(a.dose) + f.held * t};
}

} // namespace tidemark::transport
