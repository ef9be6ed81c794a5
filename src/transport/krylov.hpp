// SPDX-License-Identifier: MIT
/// A linear problem C u' = -A u + f with C diagonal and A symmetric, projected on a space of few
/// vectors: shift-and-invert Krylov, from the start and from the source. Part of Spectrum and
/// Prism.
#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>

#include <memory>
#include <utility>
#include <vector>

namespace tidemark::transport {

/// (exp(-a) - exp(-b)) / (b - a), and the same of its values at (0, a) and (0, b): what a source
/// that dies away at one rate leaves of what dies away at another, and the integral of that over
/// time. With a = 0, a steady source: (1 - exp(-b)) / b and (1 - that) / b.
double phi1(double a, double b);
double phi2(double a, double b);

/// A symmetric matrix by its eigenvalues and vectors.
struct Spectral {
    Eigen::VectorXd rates;
    std::shared_ptr<const Eigen::MatrixXd> vectors;
    Spectral() = default;
    explicit Spectral(const Eigen::MatrixXd& symmetric);
    /// Of T v = rate G v.
    Spectral(const Eigen::MatrixXd& T, const Eigen::MatrixXd& G);
    Spectral operator*(double factor) const { return {factor * rates, vectors}; }
    Spectral operator+(double rate) const { return {rates.array() + rate, vectors}; }

private:
    Spectral(Eigen::VectorXd r, std::shared_ptr<const Eigen::MatrixXd> v)
        : rates(std::move(r)), vectors(std::move(v)) {}
};

/// The projected problem G a' = -T a + f exp(-decay t); G is near the identity, or it. a0 and f are
/// given multiplied by G.
class Small {
public:
    Small() = default;
    Small(Spectral T, const Eigen::VectorXd& a0, const Eigen::VectorXd& f, double decay);
    Eigen::VectorXd at(double t) const;
    Eigen::VectorXd integral(double t) const; ///< of at() from 0
    /// What a space of powers lacks, from `first` to `last` [s]: the share of its last vectors in
    /// the solution, infinite where it has no more than those.
    double lacking(double first, double last) const;

private:
    Spectral modes_;
    Eigen::VectorXd start_, push_;
    double decay_ = 0;
};

/// The problem C u' = -A u + f exp(-decay t), and what its error is measured by.
struct Linear {
    Eigen::SparseMatrix<double> links; ///< A without the sinks
    Eigen::VectorXd sink;              ///< and they
    Eigen::VectorXd water;             ///< C
    Eigen::VectorXd start, source;     ///< u at the start; f
    Eigen::VectorXd even;              ///< what all holds at one level, so that mass is kept
    bool fed_evenly = false;           ///< the source is A x even, but for one loss in all
    double scale = 0;                  ///< of u, in the water-weighted norm
    double decay = 0;                  ///< of the source [1/s]

    Eigen::VectorXd apply(const Eigen::VectorXd& x) const {
        return links * x + sink.cwiseProduct(x);
    }
};

struct Krylov {
    Eigen::MatrixXd basis; ///< unknowns x vectors, orthonormal in the water
    Eigen::MatrixXd T;     ///< A on it
    double error = 0;      ///< estimated, relative to the scale [1]
};

/// (A + sigma C)^-1 of one problem after another whose links have one pattern: the order in which
/// a factor has few entries, and where these are, are found once. Every unknown has its diagonal
/// among the links.
class Factor {
public:
    /// Throws base::RunError where a diagonal is missing.
    explicit Factor(const Eigen::SparseMatrix<double>& links);
    /// Throws base::RunError where it cannot be.
    void of(const Linear& p, double sigma);
    void solve(Eigen::VectorXd& b); ///< in place

private:
    Eigen::SparseMatrix<double> upper_; ///< of the links in that order
    std::vector<int> place_;            ///< in upper_ of each entry of the links, or -1
    std::vector<int> diagonal_;         ///< in upper_, of each unknown
    Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> order_;
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>, Eigen::Upper, Eigen::NaturalOrdering<int>>
        factor_;
    Eigen::VectorXd turned_;
};

/// Grows a space that serves all times from `first` to `last` [s] to `tolerance`; `factor` is of
/// links like these. Throws base::RunError where it stops short above 1e-5, or 1e-3 of a mode that
/// is fed evenly.
Krylov grow(const Linear& p, double first, double last, double tolerance, Factor& factor);

} // namespace tidemark::transport
