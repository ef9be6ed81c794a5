// SPDX-License-Identifier: MIT
/// Rasters, fronts and profiles of what was solved: what pictures and tables are drawn from.
#pragma once

#include "cure/outcome.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::cure {

/// The section as a raster and the cure front on some days; what a picture needs.
struct Picture {
    geometry::Section section; ///< outline, fat and bone; a disc or a strip for the 1-D shapes
    double x0 = 0, y0 = 0, step = 0; ///< [m] centre of the first cell, cell size
    int nx = 0, ny = 0;              ///< row-major from the bottom left
    std::vector<char> kind;          ///< 'l' lean, 'f' fat, 'b' bone, ' ' outside
    std::vector<double> arrived;     ///< [kg per kg]; NaN outside tissue
    std::vector<double> salt;        ///< [kg per kg]; NaN outside tissue
    struct Front {
        double time = 0; ///< [s]
        std::vector<std::vector<geometry::Point>> lines;
    };
    std::vector<Front> fronts; ///< where the target is just met
    /// Lean that has less than the target, and less than colour that lasts or the target, whichever
    /// is more: rings with that lean on their left [m].
    std::vector<geometry::Ring> uncured, unlasting;
    geometry::Point core{0, 0};
    double time = 0; ///< [s] of the raster
};

/// The section of piece `number` at `time` [s] as a raster `columns` wide (0: none), with the
/// fronts at `front_times` [s].
Picture picture(const Outcome& outcome, double time, int columns,
                const std::vector<double>& front_times, std::size_t number = 0);
/// The plane across the needles of a pumped piece at `time` [s].
std::optional<Picture> across_at(const Outcome& outcome, double time, int columns);

/// A day on which the middle is still grey, about half way to the cured core [s]; the outcome's own
/// time where that comes before.
double grey_day(const Outcome& outcome);

/// Days for the fronts [s]: a handful of round days up to the outcome's time.
std::vector<double> front_days(const Outcome& outcome);

/// Piece `number` through the whole schedule, up to the outcome's time or to when it is taken out
/// before the others; denser where things happen fast.
std::vector<Reading> course(const Outcome& outcome, std::size_t number = 0);

/// What is told of a piece day by day.
struct ByDay {
    std::vector<Reading> course;
    std::vector<Picture> pictures; ///< of the section on the days of profile_times(), no raster
};
/// The days of the fronts, and the day of the answer if it is not among them [s].
std::vector<double> profile_times(const Outcome& outcome);
/// Of each piece.
std::vector<ByDay> by_day(const Outcome& outcome);

/// One sample of a profile through the core, along the thickness.
struct Sample {
    double time = 0;  ///< [s]
    double depth = 0; ///< [m] from the top face (from the surface for round and ball)
    std::string kind; ///< "lean" or "fat"
    double salt = 0, arrived = 0, residual = 0; ///< [kg per kg]
};
std::vector<Sample> profiles(const Outcome& outcome, const std::vector<double>& times);

} // namespace tidemark::cure
