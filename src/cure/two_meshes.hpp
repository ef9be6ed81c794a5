// SPDX-License-Identifier: MIT
/// What two meshes, one with twice the cells of the other, say together. Assumes errors that fall
/// as the square of the cells. Not where the two went different ways: one of them may never get
/// there.
#pragma once

#include "cure/solved.hpp"

#include <functional>
#include <optional>

namespace tidemark::cure {

/// Richardson: the value both meshes point to, in their unit.
double extrapolated(double coarse, double fine);
/// The same where either may have none: then it is the fine one's, or none.
std::optional<double> extrapolated(const std::optional<double>& coarse,
                                   const std::optional<double>& fine);

/// Error of a time on the fine mesh [s], which stands for that of the answer.
double fine_error(double coarse, double fine);

/// What the planes along the piece add to the error of a time [s] at which `level` was found on
/// the fine mesh.
double along_error(const Grid& fine, const std::function<double(const Grid&, double)>& level,
                   double time, bool nitrite);

using Level = std::function<double(const Grid&, double)>;

/// When a level rises to its target: searched for on the coarse mesh, then near by on the fine one.
struct Event {
    Level level;
    double target = 0;
    bool nitrite = false;              ///< of which the level is
    std::optional<double> coarse = {}; ///< [s]
    std::optional<double> time = {};   ///< [s] extrapolated from both meshes
    double error = 0;                  ///< [s]

    void search(const Grid& grid, double first, double last); ///< between two times [s]
    void refine(const Grid& fine);
};

} // namespace tidemark::cure
