// SPDX-License-Identifier: MIT
/// A question in coefficients: of every kind of piece and every stage its tissues, baths and loads,
/// and what the needles put in.
#pragma once

#include "cure/grid.hpp"
#include "cure/question.hpp"

#include <memory>
#include <optional>
#include <vector>

namespace tidemark::cure {

/// A stage in coefficients, for one piece.
struct StageSetup {
    Stage stage;       ///< its log on the schedule's time
    Setup setup;       ///< tissues at the stage's temperature, its baths, its clock
    double warmth = 0; ///< the stage's temperature [K], of its log the mean: what `setup` is of
    bool on = false;   ///< cover: the brine of the cover before goes on
    /// rub and bag: load less what drips off saturated, and the water that stays [kg per unit].
    struct Dose {
        double load = 0, drip = 0, kept_water = 0;
    } salt, nitrite;
    double lost = 0; ///< rub and bag: water that drips off [kg per kg raw lean]
};

/// What a piece is judged by: concentrations in the water of the lean [kg per kg water], and two
/// records of practice.
struct Levels {
    bool nitrite = false;
    double target = 0, stable_target = 0; ///< of the core: nitrite arrived, or salt [kg/kg]
    double pink = 0;                      ///< first pink, likewise
    double cured = 0, lasting = 0;        ///< of the core
    double salted = 0, too_salty = 0;     ///< of the mean
    double surface = 0;                   ///< depth of the lean that is told as the surface [m]
    double between_needles = 0;           ///< lack of cure that is told, over the core's [1]
};

/// Pieces that do not differ, solved once however many there are.
struct PieceKind {
    std::size_t first = 0;          ///< the first piece of the kind, as asked for
    int count = 1;                  ///< how many there are
    std::vector<StageSetup> stages; ///< with an equal share of each bath, which join() pours
    Levels levels;

    const Setup& setup() const { return stages.front().setup; }
    double units() const { return setup().units * count; } ///< of the cells, in all of the kind
};

struct Coefficients {
    std::vector<PieceKind> kinds;
    std::vector<std::size_t> of; ///< kind of each piece asked for
    double meat = 0;             ///< in all [kg]; 0 if the weight of any piece is unknown
    bool nitrite = false;
    std::optional<Setup>
        across; ///< the plane across the needles, its tissues as of the first stage
    std::optional<Pickle> pumped; ///< the needles' brine
    geometry::Needles needles;    ///< as they stand in this piece
    double lean_gain = 0;         ///< brine put into the lean over its raw weight [1]

    const std::vector<StageSetup>& stages() const { return kinds.front().stages; }
    const Setup& first() const { return kinds.front().setup(); }
};

/// The piece asked for with number `k`, the first 0.
const Piece& piece_of(const Question& question, std::size_t k);

/// Works out the coefficients; the case's overrides are applied to `records`. Throws
/// base::InputError headed by the stage, flag or file at fault.
Coefficients coefficients(const Question& question, base::Records& records);

/// check_shared_out() for every brine and soak water of a question.
void check_shared_out(const Question& question, const Coefficients& c);

/// A grid of the section (or of the plane across the needles) filled with what the needles put in.
void inject(Grid& grid, const Coefficients& c, bool across);

} // namespace tidemark::cure
