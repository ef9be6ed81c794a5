// SPDX-License-Identifier: MIT
/// Rasters and fronts of a solved grid, for predictions and for schedules.
#pragma once

#include "cure/prediction.hpp"
#include "cure/solved.hpp"

#include <vector>

namespace tidemark::cure {

/// What a picture is drawn from.
struct View {
    const Setup& setup;
    const Grid& grid;
    bool nitrite = true;  ///< fronts are of arrived nitrite; otherwise of salt
    double target = 0;    ///< of the fronts [kg per kg]
    geometry::Point core; ///< [m]; for a line, y is the coordinate along it
};

/// The section at `time` [s] as a raster `columns` wide, with the fronts at `front_times` [s].
Picture draw(const View& view, double time, int columns, const std::vector<double>& front_times);

} // namespace tidemark::cure
