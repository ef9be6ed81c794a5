// SPDX-License-Identifier: MIT
/// A linear problem C u' = -A u + f with C diagonal and A symmetric, projected on a space of few
/// vectors: shift-and-invert Krylov, from the start and from the source. Part of Spectrum and
/// Prism.
#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCholesky>
#include <Eigen/SparseCore>

namespace tidemark::transport {

/// (1 - exp(-z)) / z, and (1 - that) / z.
double phi1(double z);
double phi2(double z);

/// The projected problem G a' = -T a + f, by its eigenvalues; G is near the identity, or it.
struct Small {
    Eigen::VectorXd rates, start, push;
    Eigen::MatrixXd vectors;
    Small(const Eigen::MatrixXd& T, const Eigen::VectorXd& a0, const Eigen::VectorXd& f);
    Small(const Eigen::MatrixXd& T, const Eigen::MatrixXd& G, const Eigen::VectorXd& a0,
          const Eigen::VectorXd& f);
    Eigen::VectorXd at(double t) const;

private:
    void take(const Eigen::VectorXd& values, const Eigen::MatrixXd& v, const Eigen::VectorXd& a0,
              const Eigen::VectorXd& f);
};

/// The problem, and what its error is measured by.
struct Linear {
    Eigen::SparseMatrix<double> links; ///< A without the sinks
    Eigen::VectorXd sink;              ///< and they
    Eigen::VectorXd water;             ///< C
    Eigen::VectorXd start, source;     ///< u at the start; f
    Eigen::VectorXd even;              ///< what all holds at one level, so that mass is kept
    bool fed_evenly = false;           ///< the source is A x even, but for one loss in all
    double scale = 0;                  ///< of u, in the water-weighted norm

    Eigen::VectorXd apply(const Eigen::VectorXd& x) const {
        return links * x + sink.cwiseProduct(x);
    }
};

struct Krylov {
    Eigen::MatrixXd basis; ///< unknowns x vectors, orthonormal in the water
    Eigen::MatrixXd T;     ///< A on it
    double error = 0;      ///< estimated, relative to the scale [1]
};

using Factor = Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>>;

/// Grows a space that serves all times from `first` to `last` [s] to `tolerance`. `factor` has had
/// analyzePattern() of the links. Throws base::RunError where it stops short
/// above 1e-5, or 1e-3 of a mode that is fed evenly.
Krylov grow(const Linear& p, double first, double last, double tolerance, Factor& factor);

} // namespace tidemark::transport
