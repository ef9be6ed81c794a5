// SPDX-License-Identifier: MIT
/// What is asked: one piece or several in one bath, through a schedule of stages. `day` is the
/// schedule of one brine without an end, `bucket` the same of several pieces, `choose` several
/// schedules. Times in seconds from the start, fractions as proportions.
#pragma once

#include "cure/case.hpp"
#include "cure/cooler_log.hpp"
#include "geometry/needles.hpp"

#include <chrono>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::cure {

/// What a stage waits for when it has no duration of its own.
struct Until {
    enum class What { cured, lasting, mean_salt, surface_salt, even };
    What what = What::cured;
    /// Salt [kg per kg], reached from below, in a soak or rest from above; for `even` (most -
    /// least) over mean salt of the lean [1]; for `cured` and `lasting` a mean salt asked for
    /// besides.
    double value = 0;
};

/// One stage. `cover`: brine around the piece; `rub`: dry, what drips off is drained; `bag`: dry,
/// what drips stays with the piece; `soak`: fresh water; `rest`: nothing touches it.
struct Stage {
    enum class Kind { cover, rub, bag, soak, rest };
    Kind kind = Kind::cover;
    std::string where;              ///< heads messages: "--stage 2" or "ham.ini:7: stage"
    std::optional<double> duration; ///< [s]
    std::optional<Until> until;
    double most = 120 * 86400.0;       ///< [s] give up waiting
    std::optional<double> temperature; ///< [K]; none: the cooler's
    std::shared_ptr<const CoolerLog> log;
    std::vector<std::string> sealed; ///< faces shut in this stage, besides the piece's own
    std::optional<Brine> brine;      ///< cover: made anew so; none: the brine before goes on
    bool fresh = false;              ///< cover: the question's brine made anew
    double salt = 0;                 ///< rub, bag: load [kg per kg raw meat]
    double nitrite = 0;              ///< rub, bag: load, sodium nitrite [kg per kg raw meat]
    double nitrate = 0; ///< rub, bag: load, sodium nitrate [kg per kg raw meat]; not followed
    double premix = 0; ///< rub, bag: premix that was asked for and is in these [kg per kg raw meat]
    /// rub, bag: brine that drips [kg per kg raw]; none: the usual of a whole dry cure, shared out
    /// by salt among the stages that give none.
    std::optional<double> purge;
    double water = 0;   ///< soak: [kg] for all pieces
    std::string amount; ///< soak, cover: of its liquid as it was written, "1.5 gal"; empty: not
    int changes = 0;    ///< soak: of the water, at equal intervals

    /// Without an end: the last stage alone may be so, followed as long as anything is looked for.
    bool open() const { return !duration && !until; }
    bool dry() const { return kind == Kind::rub || kind == Kind::bag; }
    bool doses() const { return kind != Kind::soak && kind != Kind::rest; }
};

/// Brine put in by needles before the first stage.
struct Pump {
    double share = 0; ///< brine kept, over the raw weight [1]
    geometry::Needles needles;
    std::optional<Brine> brine; ///< none: the question's
    /// Needles go over the whole width, however narrow; otherwise they keep the margin.
    bool evenly = true;
};

/// More stages than that are a slip in a file, and cost more to solve than a cook will wait.
inline constexpr std::size_t most_stages = 100;

/// A piece besides the first, and the file it was read from, which heads what is wrong with it.
struct OtherPiece {
    Piece piece;
    std::string file;
};

struct Question {
    std::string name; ///< "immersion", or what the cook calls it
    /// When it begins. With it the dates of coolers' logs count; without, a log begins with the
    /// schedule. Either way it runs on through the stages.
    std::optional<std::chrono::local_seconds> start;
    std::optional<std::chrono::local_seconds> ready; ///< when it is wanted; `start` follows from it
    std::optional<std::chrono::local_seconds> asked; ///< now, by the kitchen's clock
    Case base;                                       ///< the first piece, the brine, the cooler
    std::vector<OtherPiece> others;                  ///< with it in every bath
    std::optional<double> container;                 ///< [m3] that meat and brine have to fit in
    std::optional<Pump> pump;                        ///< of a piece alone
    std::vector<Stage> stages;
    /// What the cook cannot or will not use, of all_means(): no change has it.
    std::vector<std::string> without = {};
};

/// Whether its beginning is a day that has gone by.
inline bool too_late(const Question& q) {
    using std::chrono::floor, std::chrono::days;
    return q.start && q.asked && floor<days>(*q.start) < floor<days>(*q.asked);
}

/// From when its dates count: now, to the hour, where the day it would have to begin is past. Only
/// of a question that has a start.
inline std::chrono::local_seconds dates_from(const Question& q) {
    return q.ready && too_late(q) ? std::chrono::ceil<std::chrono::hours>(*q.asked) : *q.start;
}

/// A case kept in its brine, with no end set: the question of `day`.
Question in_brine(const Case& question);

} // namespace tidemark::cure
