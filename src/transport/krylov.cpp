// SPDX-License-Identifier: MIT
#include "transport/krylov.hpp"

#include "base/error.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/OrderingMethods>

#include <algorithm>
#include <cmath>
#include <deque>
#include <limits>
#include <utility>

namespace tidemark::transport {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

double phi1(double a, double b) {
    if (b < a)
        std::swap(a, b);
    const double z = b - a;
    return std::exp(-a) * (z < 1e-12 ? 1 - z / 2 : -std::expm1(-z) / z);
}

double phi2(double a, double b) {
    if (const double z = b - a; std::abs(z) > 1e-5)
        return (phi1(0, a) - phi1(0, b)) / z;
    // The slope of phi1(0, z) turned round, at the middle: the next term is below 1e-12 of it.
    const double z = (a + b) / 2;
    return z < 1e-3 ? 0.5 - z / 3 + z * z / 8 - z * z * z / 30 : (phi1(0, z) - std::exp(-z)) / z;
}

Spectral::Spectral(const MatrixXd& symmetric) {
    const Eigen::SelfAdjointEigenSolver<MatrixXd> eigen(symmetric);
    rates = eigen.eigenvalues();
    vectors = std::make_shared<MatrixXd>(eigen.eigenvectors());
}

Spectral::Spectral(const MatrixXd& T, const MatrixXd& G) {
    const Eigen::GeneralizedSelfAdjointEigenSolver<MatrixXd> eigen(T, G);
    rates = eigen.eigenvalues();
    vectors = std::make_shared<MatrixXd>(eigen.eigenvectors());
}

Small::Small(Spectral T, const VectorXd& a0, const VectorXd& f, double decay)
    : modes_(std::move(T)), start_(modes_.vectors->transpose() * a0),
      push_(modes_.vectors->transpose() * f), decay_(decay) {
    modes_.rates = modes_.rates.cwiseMax(0.0);
}

VectorXd Small::at(double t) const {
    VectorXd c = modes_.rates * t;
    for (Index j = 0; j < c.size(); ++j)
        c[j] = start_[j] * std::exp(-c[j]) + push_[j] * t * phi1(decay_ * t, c[j]);
    return *modes_.vectors * c;
}

VectorXd Small::integral(double t) const {
    VectorXd c = modes_.rates * t;
    for (Index j = 0; j < c.size(); ++j)
        c[j] = start_[j] * t * phi1(0, c[j]) + push_[j] * t * t * phi2(decay_ * t, c[j]);
    return *modes_.vectors * c;
}

namespace {

/// What a space lacks yet, where a few vectors brought `before` and the next few `now`: less again
/// by as much, but they fall by fits and starts, so no less than a third of that.
double yet_to_come(double before, double now) {
    return now * std::clamp(now / std::max(before, 1e-300), 1. / 3, 1.);
}

constexpr Index few = 4; ///< vectors between two looks

} // namespace

double Small::lacking(double first, double last) const {
    if (modes_.rates.size() <= 2 * few)
        return std::numeric_limits<double>::infinity();
    double most = 0;
    for (const double t : {first, std::sqrt(first * last), last}) {
        const VectorXd tail = at(t).tail<2 * few>();
        most = std::max(most, yet_to_come(tail.head<few>().norm(), tail.tail<few>().norm()));
    }
    return most;
}

Factor::Factor(const Eigen::SparseMatrix<double>& links) {
    Eigen::AMDOrdering<int>()(links, order_);
    order_ = order_.inverse().eval();
    const auto& to = order_.indices();
    std::vector<Eigen::Triplet<double, int>> entries; // numbered, to see where each comes to stand
    entries.reserve(static_cast<std::size_t>(links.nonZeros()));
    const auto each = [&](const auto& use) {
        int k = 0;
        for (int j = 0; j < links.outerSize(); ++j)
            for (Eigen::SparseMatrix<double>::InnerIterator e(links, j); e; ++e, ++k)
                use(k, to[e.row()], to[e.col()]);
    };
    each([&](int k, int i, int j) {
        if (i <= j)
            entries.emplace_back(i, j, k);
    });
    upper_.resize(links.rows(), links.cols());
    upper_.setFromTriplets(entries.begin(), entries.end());
    place_.assign(static_cast<std::size_t>(links.nonZeros()), -1);
    diagonal_.assign(static_cast<std::size_t>(links.rows()), -1);
    for (int k = 0; k < upper_.nonZeros(); ++k)
        place_[static_cast<std::size_t>(upper_.valuePtr()[k])] = k;
    each([&](int k, int i, int j) {
        if (i == j)
            diagonal_[i] = k;
    });
    if (std::ranges::count(diagonal_, -1) > 0)
        throw base::RunError("cells are linked to nothing, not even to themselves");
    factor_.analyzePattern(upper_);
}

void Factor::of(const Linear& p, double sigma) {
    const double* const from = p.links.valuePtr();
    for (std::size_t k = 0; k < place_.size(); ++k)
        if (place_[k] >= 0)
            upper_.valuePtr()[place_[k]] = from[k];
    const VectorXd more = order_ * (p.sink + p.water * sigma);
    for (std::size_t i = 0; i < diagonal_.size(); ++i)
        upper_.valuePtr()[place_[diagonal_[i]]] += more[i];
    factor_.factorize(upper_);
    if (factor_.info() != Eigen::Success)
        throw base::RunError(
            "the cells could not be solved; a diffusivity or a water content is not "
            "a usable number");
}

void Factor::solve(VectorXd& b) {
    turned_.noalias() = order_ * b;
    factor_.matrixL().solveInPlace(turned_);
    turned_.array() /= factor_.vectorD().array();
    factor_.matrixU().solveInPlace(turned_);
    b.noalias() = order_.transpose() * turned_;
}

Krylov grow(const Linear& p, double first, double last, double tolerance, Factor& factor) {
    const Index n = p.water.size();
    factor.of(p, 1 / std::sqrt(first * last)); // between the shortest and the longest time

    const Index most = std::min<Index>(n, 121);
    MatrixXd basis(n, most), T = MatrixXd::Zero(most, most);
    Index k = 0;
    double error = 0;
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
            if (const double was = std::exchange(norm, size()); norm > 0.7 * was)
                break;
        }
        if (!(norm > 1e-13 * before) || k == most)
            return false;
        basis.col(k++) = x / norm;
        return true;
    };
    using ByRows = Eigen::SparseMatrix<double, Eigen::RowMajor>;
    const Eigen::Map<const ByRows> by_rows( // the same: it is symmetric, and quicker so
        n, n, p.links.nonZeros(), p.links.outerIndexPtr(), p.links.innerIndexPtr(),
        p.links.valuePtr());
    Index projected = 0;
    const auto project = [&] { // the vectors that are new, all at once
        const Index more = k - projected;
        const auto vectors = basis.middleCols(projected, more);
        MatrixXd image = by_rows * vectors;
        image += p.sink.asDiagonal() * vectors;
        auto rows = T.block(projected, 0, more, k);
        rows.noalias() = image.transpose() * basis.leftCols(k);
        T.block(0, projected, projected, more) = rows.leftCols(projected).transpose();
        projected = k;
    };

    const auto inverse = [&](VectorXd b) {
        factor.solve(b);
        return b;
    };
    std::deque<VectorXd> chain;
    if (p.start.cwiseAbs().maxCoeff() > 0 && append(p.start, most))
        chain.push_back(basis.col(k - 1));
    if (p.source.cwiseAbs().maxCoeff() > 0 &&
        append(p.fed_evenly ? p.even : inverse(p.source), most))
        chain.push_back(basis.col(k - 1));

    const auto small = [&] {
        project();
        return Small(Spectral(T.topLeftCorner(k, k)),
                     basis.leftCols(k).transpose() * p.water.cwiseProduct(p.start),
                     basis.leftCols(k).transpose() * p.source, p.decay);
    };
    // The small solution's change since the last look tells the error that space had, and with a
    // margin that of the present one.
    // One mode of a piece weighs little beside all of them, and what it lacks is told.
    constexpr double margin = 3;
    const double useful = p.fed_evenly ? 1e-3 : 1e-5;
    const double probes[] = {first, std::sqrt(first * last), last};
    MatrixXd seen = MatrixXd::Zero(0, 3);
    if (k == 0) // nothing to follow
        append(p.even, most);
    Small fine = small();
    for (Index next = p.fed_evenly ? 6 : 18; !chain.empty();) {
        VectorXd x = inverse(p.water.cwiseProduct(chain.front()));
        chain.pop_front();
        if (append(x, 6))
            chain.push_back(basis.col(k - 1));
        if (k < next && !chain.empty())
            continue;
        next = k + few;
        fine = small();
        MatrixXd now(k, 3);
        for (Index j = 0; j < 3; ++j)
            now.col(j) = fine.at(probes[j]);
        MatrixXd change = now;
        change.topRows(seen.rows()) -= seen;
        error = margin * change.colwise().norm().maxCoeff() / p.scale;
        seen = now;
        if (k == n || (chain.empty() && k < most))
            error = 0; // it is all there is, or all that the start and the source lead to
        if (error < tolerance || k == n)
            break;
        if (most < n && k >= most - 1 && error > useful)
            throw base::RunError(
                "the time history did not converge; ask for a shorter span of days");
    }
    // Keeps mass: with the constant in the space, the projected residual has no net water. It comes
    // last, because a chain that met it earlier would no longer be the powers of the inverse.
    append(p.even, most);
    project();
    basis.conservativeResize(Eigen::NoChange, k);
    return {std::move(basis), T.topLeftCorner(k, k), error};
}

} // namespace tidemark::transport
