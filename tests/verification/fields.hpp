// SPDX-License-Identifier: MIT
/// Sections, fields and points for the checks in the plane.
#pragma once

#include "geometry/mesh.hpp"
#include "transport/spectrum.hpp"

#include <functional>
#include <random>
#include <string>
#include <vector>

namespace tidemark::verification {

/// Ring of an ellipse about (cx, cy) with half axes a, b [m].
geometry::Ring ellipse(double cx, double cy, double a, double b, int points);
/// Ring of a rectangle about the origin, width x height [m], turned by `angle` [rad].
geometry::Ring rectangle(double width, double height, double angle = 0);
/// A checked section of an outline and regions (and seals), measured by its upright box.
geometry::Section section(geometry::Ring outline, std::vector<geometry::Region> regions = {},
                          std::vector<geometry::Seal> seals = {});
/// The mesh refined `times` times over.
geometry::Mesh refined(geometry::Mesh mesh, int times);
/// Index of a kind among the mesh's.
int region_of(const std::vector<std::string>& kinds, const std::string& kind);

/// Values at the nodes from values of the unknowns.
Eigen::VectorXd nodal(const transport::System& system, const Eigen::VectorXd& u);
/// Values of the unknowns when a stage begins from `nodes`, by the rule in chain.hpp: those on wet
/// faces and a finite bath at `value` share what they hold; a held bath has its own.
Eigen::VectorXd begun(const transport::System& system, const Eigen::VectorXd& nodes, double value);
/// A place in a mesh, as a blend of three nodes.
struct Place {
    geometry::Point at{0, 0};
    int triangle = -1;
    double weight[3] = {0, 0, 0};
    double value(const geometry::Mesh& mesh, const Eigen::VectorXd& nodal) const;
};
/// The triangle that holds p, or the nearest to doing so (a refined rim moves by its chord error).
Place locate(const geometry::Mesh& mesh, const geometry::Point& p);
/// `n` places spread over the triangles by area.
std::vector<geometry::Point> random_points(const geometry::Mesh& mesh, int n, unsigned seed);

/// Largest |nodal - exact| over the mesh's first `nodes` nodes (all if 0).
double worst(const geometry::Mesh& mesh, const Eigen::VectorXd& nodal,
             const std::function<double(const geometry::Point&)>& exact, std::size_t nodes = 0);

/// First time at which w.free reaches `value`, by bracketing on the history; [s].
double crossing(const transport::Spectrum& history, const Eigen::VectorXd& weights, double value,
                double from);

} // namespace tidemark::verification
