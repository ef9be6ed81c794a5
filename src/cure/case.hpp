// SPDX-License-Identifier: MIT
/// What the cook describes: the piece, the brine, the cooler and the question. SI inside; the flags
/// and the case file fill it in. Holds no result.
#pragma once

#include "cure/recipe.hpp"
#include "geometry/shapes.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::cure {

/// The piece of meat.
struct Piece {
    std::string muscle = "pork-loin"; ///< a muscle of models/muscles.ini
    std::string cut;             ///< a composition of models/cuts.ini; empty: the muscle's usual
    std::string shape = "sheet"; ///< one of shape_names(), or "outline"
    std::string outline_file;    ///< for shape "outline"
    geometry::Dimensions dimensions; ///< [m]; thickness is asked for by every shape but "outline"
    double length = 0;               ///< [m] along the piece; 0: not given
    double weight = 0;               ///< [kg] of one piece, raw; 0: not given
    int shut_ends = 0;               ///< of its two, kept from the brine
    int pieces = 1;                  ///< equal pieces sharing the brine
    double marbling = 0;             ///< volume fraction of fat inside the lean [1]
    bool frozen = false;             ///< frozen and thawed before curing
    /// [s] from the start: taken out of what it shares with others and kept, which go on without
    /// it.
    std::optional<double> out;
    std::optional<double>
        fibre_angle;    ///< [rad] in the section; none: fibres run out of the section
    std::string called; ///< what the cook calls the cut, "collar"; empty: as the muscle
    bool operator==(const Piece&) const = default;

    /// Whether a face or an end is kept from the brine.
    bool lies() const { return !dimensions.sealed.empty() || shut_ends > 0; }
    void hang_free() {
        dimensions.sealed.clear();
        shut_ends = 0;
    }
};

/// The cook's own name for the cut, "collar", or the muscle's, "pork shoulder".
std::string cut_name(const Piece& piece);

/// The question.
struct Case {
    std::string name;
    Piece piece;
    Brine brine;
    double temperature = 277.15;               ///< of the cooler [K]
    std::string law = "us", product = "cured"; ///< the code it is judged by (materials/limits.hpp)
    bool rind = false;                         ///< the rind is on, which lowers limits of bacon
    std::optional<double> at;                  ///< [s] ask for this time instead of searching
    double horizon = 120 * 86400.0;            ///< [s] give up searching here
    double cells = 24;       ///< coarse cells across the thickness; the answer uses twice as many
    double tolerance = 1e-6; ///< of the time integration: a thousandth of what these cells err by
    /// Overrides of records, key to text with unit ("2.5e-10 m2/s"), and the flag each came from.
    struct Override {
        std::string key, text, where;
    };
    std::vector<Override> overrides;
};

/// "sheet", "round", "ball", "block", "loin", "ham", "outline".
const std::vector<std::string>& shape_names();

} // namespace tidemark::cure
