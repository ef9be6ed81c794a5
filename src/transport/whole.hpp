// SPDX-License-Identifier: MIT
/// Whole pieces: one section from end to end, solved in modes along the piece (along.hpp).
///
/// On the planes the system is that of system.hpp with, in every tissue, what flows along besides.
/// As that is the section's water x diffusivity times one matrix, the modes part: each is the
/// section with a conductance to the end at every node, and they meet in the bath alone. A film
/// over an end is taken to hold back fat by as much as lean, of what each lets through: the modes
/// of all tissues are then one set.
#pragma once

#include "transport/along.hpp"
#include "transport/history.hpp"
#include "transport/stepper.hpp"

#include <memory>

namespace tidemark::transport {

struct Whole {
    /// Of all planes; those of the first plane come first, among nodes and among unknowns. Where
    /// there are several planes it has no conductance: the parts below say how they move.
    System system;
    System section;             ///< of one metre, with all of the bath
    Eigen::VectorXd lengthwise; ///< of its unknowns but the bath [kg m2/s]
    Along along;
    Modes modes;
};

/// `lengthwise` of each node: water of one metre x diffusivity along the piece [kg m2/s]. `pull`
/// [1/m] as in modes(). The bath is all of the piece's, and begins at `concentration` [kg per kg].
Whole extrude(System section, const Eigen::VectorXd& lengthwise, const Along& along, double pull,
              double concentration);

/// For each node what `media` are along the piece, of a system assembled from them.
Eigen::VectorXd lengthwise(const System& section, const std::vector<Medium>& media);

/// Solves from whole.system.initial, accurate to `tolerance` from `first` [s] on. A donor is
/// another solute's or a similar case's history on the same cells, whose space is used as far as it
/// serves.
std::shared_ptr<const History> solve(const Whole& whole, double first, double last,
                                     double tolerance, const History* donor = nullptr);
/// Along a clock and a law, which is for one plane only (base::RunError), by steps of `step`
/// (Stepper) between the modes' spaces of `tolerance`.
std::shared_ptr<const History> solve(const Whole& whole, const Clock& clock, double first,
                                     double last, double tolerance, double step,
                                     const Law& law = {});

} // namespace tidemark::transport
