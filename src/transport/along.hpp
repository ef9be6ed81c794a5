// SPDX-License-Identifier: MIT
/// Planes along a piece: sections that stand side by side from the one of its core to its end, and
/// the modes in which they move apart. Spectral elements (Gauss-Lobatto nodes, which carry the
/// water too): few planes do, and each mode is a section of its own.
#pragma once

#include <Eigen/Core>

#include <limits>

namespace tidemark::transport {

/// The first plane is that of the core, the last the end.
struct Along {
    Eigen::VectorXd place;     ///< [m] from the first
    Eigen::VectorXd weight;    ///< of the piece that goes with each plane [m]
    Eigen::MatrixXd stiffness; ///< what flows to each plane by unit conductivity [1/m]
    double reach = 0, cell = 0;
    int sides = 1; ///< ends like this one: the planes beyond the first are there as often

    Eigen::Index planes() const { return weight.size(); }
    double length() const { return weight.sum(); } ///< [m] of the piece
};

/// A piece of `length` [m] in one plane: without ends, or with both shut for good. Endless: 1.
Along one_plane(double length = 1);

/// A piece of `sides` (1 or 2) times `reach` [m] with its core in the middle of two ends, or at a
/// shut end of one. `cell` [m]: the half-thickness of the section, over the root of what is faster
/// along the piece. On slabs and squares with no face or one side shut this keeps the days of core
/// and mean within 0.05 %, for levels of a hundredth to nine tenths and any length (measured); how
/// far in a case, along_error() tells. `finer`: twice the nodes.
Along along(double reach, double cell, int sides, bool finer = false);

/// The sections move in modes: u(plane j) = sum over k of shape(j, k) a_k, with the waters of the
/// planes orthonormal. In mode k every node of the section loses conductivity x rate to the end.
struct Modes {
    Eigen::VectorXd rate;  ///< [1/m2]
    Eigen::MatrixXd shape; ///< [free plane, mode], [1/m^0.5]
    Eigen::VectorXd share; ///< of what all planes have in common [m^0.5]; 0: meets no bath
    Eigen::Index planes() const { return rate.size(); } ///< that are not the bath itself
};

/// `pull` [1/m]: what an end takes by unit conductivity; 0: shut, infinite: it is the bath.
Modes modes(const Along& along, double pull);

/// What the planes err by after D t [m2], as shares of the bath [1]: the first plane's level, and
/// the mean. By planes with twice the nodes, for an end that is the bath.
double along_error(const Along& along, double diffused);

} // namespace tidemark::transport
