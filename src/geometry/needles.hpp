// SPDX-License-Identifier: MIT
/// Where the needles of an injector put their brine. Two planes: across the needles (a plan, each
/// needle a spot) and the piece's own section (the needles come from the top). Along
/// a line of cells (sheet, round, ball) the pattern averages out: there the deposit is the same
/// everywhere. Knows where the brine goes, not how much: every deposit has the mean 1 over the
/// lean. Not for brine that collects in seams or runs out of the holes: no model of that is known
/// to us.
#pragma once

#include "geometry/mesh.hpp"

#include <Eigen/Core>

#include <string>
#include <vector>

namespace tidemark::geometry {

/// A pattern of needles, lengths in metres. The deposit around a needle is a Gaussian: what a line
/// of brine becomes by diffusing for a while, so that its spread is a head start in time. 95 % of
/// it lie within `deposit` across, which is 4.90 standard deviations.
struct Needles {
    double spacing = 0;     ///< along a row [m], 2 to 200 mm
    double row_spacing = 0; ///< between rows [m], 2 to 200 mm; 0: as `spacing`
    bool staggered = false; ///< every other row is shifted by half a spacing
    double deposit = 0;     ///< width of the deposit [m], 1 to 200 mm
    double unevenness =
        1;             ///< geometric standard deviation of the amount between needles [1], 1 to 5
    double margin = 0; ///< from the edge to the first needle, at least [m]
    bool stops_at_bone =
        true;          ///< a needle that meets bone is pulled back, and leaves nothing below
    unsigned seed = 1; ///< of the amounts
    bool operator==(const Needles&) const = default;
};

/// Needles that stand `spacing` [m] apart both ways, the rest as is usual (common practice, no
/// source).
Needles usual_needles(double spacing = 0.03);

/// Throws base::InputError headed by `where` for lengths [m] and spreads out of the ranges above.
/// All functions below do so too.
void check(const Needles& needles, const std::string& where);

/// Standard deviation of the deposit in one direction [m].
double deposit_sd(const Needles& needles);

/// Places of the needles in a plan [m]: rows along x, symmetric about its middle, at least the
/// margin from its edge; the middle row, or the one above the middle, is not shifted.
std::vector<Point> pattern(const Box& plan, const Needles& needles);
/// The same in an outline: of the pattern in its box, what lies within.
std::vector<Point> pattern(const Ring& plan, const Needles& needles);

/// Amount per water of lean, at the nodes, relative to its mean [1], for a plan that is a part of
/// the pattern away from every edge: the margin does not count, and the pattern goes on beyond the
/// plan. Rows run along x, or along y if they stand farther apart than the needles in them. A plan
/// of whole spacings with shut faces is a mirror cell of the pattern, so it stands for all of it.
/// `lean_water` [kg per node] weighs the mean. Fat and bone get nothing: what would fall there is
/// shared out over the lean. A node's amount is the mean over the cells around it, so no deposit is
/// lost between nodes; cells wider than the deposit blur it (second order in their size).
Eigen::VectorXd deposits_across(const Mesh& mesh, const Eigen::VectorXd& lean_water,
                                const Needles& needles);

/// The same in the piece's section, averaged along the piece and over where its needles may stand,
/// which is known no better than to half a spacing: a band as strong at every depth, from half a
/// spacing outside the margin on; beside and below a bone by the share of the places from which a
/// needle gets so deep. So nothing jumps when one needle more finds room or meets the bone; what
/// lean between needles falls short by is told by the plane across them. Unevenness averages out
/// along the piece. Throws base::InputError if no lean is reached.
Eigen::VectorXd deposits_along(const Mesh& mesh, const Eigen::VectorXd& lean_water,
                               const Section& section, const Needles& needles);

} // namespace tidemark::geometry
