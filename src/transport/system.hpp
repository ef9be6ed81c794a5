// SPDX-License-Identifier: MIT
/// The semi-discrete system: one solute in cells of a mesh, and one well-mixed bath they share.
///
///     C du/dt = -K u - C L u + source,      db/dt = L u
///
/// u is the concentration in tissue water [kg solute per kg water], b what has reacted, C the water
/// in each cell, K the symmetric matrix of conductances between cells. Linear elements on Delaunay
/// triangles with lumped water are the finite volumes of the dual cells (the box method), so K has
/// zero row sums and every flux leaves one cell for another. Knows cells and coefficients only.
#pragma once

#include "geometry/mesh.hpp"

#include <Eigen/Core>
#include <Eigen/SparseCore>

#include <limits>
#include <vector>

namespace tidemark::transport {

/// Coefficients of one region for one solute.
struct Medium {
    double water = 0;       ///< omega [kg water per m3]
    double diffusivity = 0; ///< water-phase, across fibres [m2/s]
    double ratio = 1;       ///< diffusivity along the fibres over across [1]
    double angle = 0;       ///< fibre direction in the plane of the section [rad]
    double loss = 0;        ///< first-order loss [1/s]
    double initial = 0;     ///< concentration at the start [kg per kg water]
    double along = 1;       ///< diffusivity out of the section over across the fibres [1]
};

/// The bath, well mixed. In the unknowns it stands as w = partition x concentration, the value the
/// tissue water comes to, with a capacity of water / partition.
struct Bath {
    /// [kg water] shared by the cells: per metre of section or round, per m2 of sheet, per ball.
    /// Infinite: the bath is held at its concentration, whatever the cells take of it.
    double water = std::numeric_limits<double>::infinity();
    double concentration = 0; ///< at the start [kg per kg water]
    double partition = 1;     ///< tissue water over bath water at balance [1]
    double film =
        std::numeric_limits<double>::infinity(); ///< film coefficient [m/s], on bath water
    double water_density = 1000;                 ///< [kg water per m3 of bath], used with `film`
    double loss = 0;                             ///< in the bath itself, of a held one too [1/s]
};

/// The assembled system. The bath is the last unknown, and stands in for every node on a wet wall
/// unless there is a film.
struct System {
    Eigen::SparseMatrix<double> conductance; ///< K [kg water per s], symmetric, zero row sums
    Eigen::VectorXd capacity;                ///< C [kg water]; for a held bath its wall cells only
    Eigen::VectorXd loss;                    ///< L [1/s]
    Eigen::VectorXd initial;                 ///< u at the start
    bool held = false;                       ///< the cells do not move the bath
    double bath_capacity = 0;                ///< of the bath itself [kg water / partition]
    double bath_loss = 0;                    ///< [1/s]
    double partition = 1;

    /// The unknowns where all holds 1 [1]; empty: ones. Others are amplitudes (prism.hpp), of which
    /// conductance times these is nothing.
    Eigen::VectorXd even;
    Eigen::VectorXd level() const {
        return even.size() > 0 ? even : Eigen::VectorXd::Ones(capacity.size()).eval();
    }

    std::vector<int> unknown;                  ///< of each node
    std::vector<Eigen::VectorXd> region_water; ///< [region][node], kg water

    int bath() const { return static_cast<int>(capacity.size()) - 1; }
    /// Water-weighted mean over one region of a vector of unknowns.
    double mean(const Eigen::VectorXd& u, int region) const;
    /// Weights w such that mean(u, region) = w.u over the unknowns.
    Eigen::VectorXd mean_weights(int region) const;
};

/// The same cells and conductances with one loss in all tissue [1/s], around a bath that differs in
/// its water and its loss alone.
void change_bath(System& system, double loss, const Bath& bath);

/// [region][node] water of a section or a line, in lumps [kg per m, or as System::capacity].
std::vector<Eigen::VectorXd> region_water(const geometry::Mesh& mesh,
                                          const std::vector<Medium>& media);
std::vector<Eigen::VectorXd> region_water(const geometry::Line& line,
                                          const std::vector<Medium>& media);

/// Assembles a section. `media[r]` belongs to mesh.kinds[r]. Diffusivity is a tensor where ratio is
/// not 1.
System assemble(const geometry::Mesh& mesh, const std::vector<Medium>& media, const Bath& bath);

/// Assembles a line: sheet per m2, long round per metre, ball whole.
System assemble(const geometry::Line& line, const std::vector<Medium>& media, const Bath& bath);

} // namespace tidemark::transport
