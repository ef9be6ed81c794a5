// SPDX-License-Identifier: MIT
/// The solved fields of a case on two meshes, and the questions asked of them.
/// The finer mesh has exactly half the node distance of the coarser, made from it by splitting, so
/// their difference tells the discretisation error.
#pragma once

#include "cure/setup.hpp"
#include "geometry/field.hpp"
#include "transport/spectrum.hpp"

#include <memory>
#include <optional>
#include <string>

namespace tidemark::cure {

/// One solute on one mesh.
struct SoluteField {
    transport::System system;
    std::unique_ptr<transport::Spectrum> history;
    std::vector<double> loss; ///< per region [1/s]
};

/// One mesh with both solutes. Not movable: the lowest-point finder refers to its mesh.
class Grid {
public:
    Grid(const Setup& setup, geometry::Mesh mesh, double first, double last);
    Grid(const Setup& setup, geometry::Line line, double first, double last);
    Grid(const Grid&) = delete;
    Grid& operator=(const Grid&) = delete;

    /// Value at every node: nitrite free plus reacted, nitrite free, salt [kg per kg water].
    Eigen::VectorXd arrived(double t) const;
    Eigen::VectorXd residual(double t) const;
    Eigen::VectorXd salt(double t) const;

    /// Least lean value of what counts for the cure [kg per kg water], and where.
    geometry::Lowest lowest(double t, bool nitrite) const;
    /// Water-weighted means over the lean [kg per kg water].
    double mean_salt(double t) const;
    double mean_arrived(double t) const;
    double mean_residual(double t) const;

    std::optional<geometry::Mesh> mesh;
    std::optional<geometry::Line> line;
    SoluteField salt_field, nitrite_field;
    int lean = 0;

private:
    void solve(const Setup& setup, double first, double last);
    const std::vector<std::string>& kinds() const { return mesh ? mesh->kinds : line->kinds; }
    std::unique_ptr<geometry::LowestPoint> lowest_;
    transport::Spectrum::Follower salt_mean_, nitrite_mean_;
};

/// Both meshes. The coarse one is solved over the whole span and finds about when things happen;
/// the fine one is then solved for the span that matters.
class Solved {
public:
    Solved(Setup setup, double cells, double horizon);
    /// Makes the fine mesh and solves it for the span [s].
    void refine(double from, double to);
    Setup setup;
    double first = 0, last = 0; ///< span of the coarse mesh [s]
    std::unique_ptr<Grid> coarse, fine;
};

/// First time in [0, last] at which `level` rises to `target`, by scanning and bracketing on the
/// continuous history [s]; none if it does not. `level` must start below the target.
std::optional<double> first_time(const std::function<double(double)>& level, double target,
                                 double first, double last);

} // namespace tidemark::cure
