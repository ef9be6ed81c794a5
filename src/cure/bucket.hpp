// SPDX-License-Identifier: MIT
/// Several different pieces in one bucket: they share one well-mixed brine, and the slowest of them
/// says when all is cured. Times in seconds, fractions as proportions.
/// Pieces hang free in the brine. Where they lie on each other, the face that touches is sealed for
/// good ("bottom" in the piece's dimensions); turning them on a day is for a Plan. Not for pieces
/// put in or taken out on different days: what comes out of the bucket stays in it here.
#pragma once

#include "cure/prediction.hpp"
#include "cure/setup.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::cure {

/// One of the pieces, or several equal ones.
struct BucketPiece {
    Piece piece;
    std::string name;                ///< "piece 2 (beef round, 65 mm)", its number as asked for
    double weight = 0;               ///< of one [kg]; 0 unknown
    double target = 0;               ///< of the core: arrived nitrite, or salt [kg per kg]
    double depth = 0;                ///< of the core to the nearest wet face [m]
    std::optional<double> pull;      ///< [s] first day the core is cured
    std::optional<double> last_good; ///< [s]
    std::string last_good_reason;
    std::string never;     ///< why there is no pull day, with the remedy; empty otherwise
    double thiele = 0;     ///< of nitrite at the core's depth [1]
    double pull_error = 0; ///< of the pull time [s], as in Prediction::discretisation_error
    /// On the day reported for the bucket, of the lean and at the core.
    double mean_salt = 0, core_salt = 0;       ///< [kg per kg cured tissue]
    double core_water_salt = 0;                ///< [kg per kg salt and water]
    double mean_arrived = 0, core_arrived = 0; ///< nitrite, ingoing basis [kg per kg tissue]
};

/// The brine on one day.
struct BrineDay {
    double time = 0; ///< [s]
    BrineState brine;
};

struct Bucket {
    double temperature = 0;   ///< of the cooler [K]
    bool has_nitrite = false; ///< the target is colour; otherwise salt at the core
    std::vector<BucketPiece> pieces;
    std::size_t slowest = 0;         ///< the first that is never cured, else the last to be
    std::optional<double> all_cured; ///< [s]
    double at = 0;               ///< [s] the day reported: all_cured, else the end of the search
    std::vector<BrineDay> brine; ///< from the start to `at`
    Ingoing ingoing;             ///< over all meat
    double meat = 0;             ///< in the bucket [kg]; 0 unknown
    std::vector<std::string>
        take_out; ///< what is too salty, or has too much nitrite, before all is cured
    double mass_balance_error = 0, time_error = 0; ///< [1]
    int cells = 0;                                 ///< nodes of the fine meshes
    std::vector<base::Record> parameters;
    judge::Findings findings; ///< dangers, warnings and what always holds
};

/// A piece besides the first, and the file it was read from, which heads what is wrong with it.
struct OtherPiece {
    Piece piece;
    std::string file;
};

/// The setups, each with an equal share of the bucket's brine: join() pours them together. Throws
/// base::InputError headed by the file at fault.
std::vector<Setup> bucket_setups(const Case& first, const std::vector<OtherPiece>& others,
                                 base::Records& records);
/// All meat in the bucket [kg]; 0 if the weight of any piece is unknown.
double meat_of(const Case& first, const std::vector<OtherPiece>& others,
               const std::vector<Setup>& setups);

/// Solves all pieces at once. The brine, the cooler, the horizon and the numbers of the model are
/// those of `first`. Throws base::InputError for what the cook wrote.
Bucket predict_bucket(const Case& first, const std::vector<OtherPiece>& others,
                      base::Records records, const Progress& progress = {});

} // namespace tidemark::cure
