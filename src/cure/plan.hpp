// SPDX-License-Identifier: MIT
/// A schedule of stages, and what it makes of a piece: the answer to `plan`, and of each method
/// that `choose` sets side by side. Times in seconds from the start, fractions as proportions.
#pragma once

#include "cure/cooler_log.hpp"
#include "cure/prediction.hpp"
#include "geometry/needles.hpp"
#include "materials/limits.hpp"

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
    std::string where;                 ///< heads messages: "--stage 2" or "ham.ini:7: stage"
    std::optional<double> duration;    ///< [s]
    std::optional<Until> until;        ///< one of the two is given
    double most = 120 * 86400.0;       ///< [s] give up waiting
    std::optional<double> temperature; ///< [K]; none: the cooler's
    std::shared_ptr<const CoolerLog> log;
    std::vector<std::string> sealed; ///< faces shut in this stage, besides the piece's own
    std::optional<Brine> brine;      ///< cover: made anew so; none: the brine before goes on
    bool fresh = false;              ///< cover: the question's brine made anew
    double salt = 0;                 ///< rub, bag: load [kg per kg raw meat]
    double nitrite = 0;              ///< rub, bag: load, sodium nitrite [kg per kg raw meat]
    double nitrate = 0; ///< rub, bag: load, sodium nitrate [kg per kg raw meat]; not followed
    /// rub, bag: brine that drips [kg per kg raw]; none: the usual of a whole dry cure, shared out
    /// by salt among the stages that give none.
    std::optional<double> purge;
    double water = 0; ///< soak: [kg] for all pieces
    int changes = 0;  ///< soak: of the water, at equal intervals
};

/// Brine put in by needles before the first stage.
struct Pump {
    double share = 0; ///< brine kept, over the raw weight [1]
    geometry::Needles needles;
    std::optional<Brine> brine; ///< none: the question's
    /// Needles go over the whole width, the outer ones half a spacing from its edges; otherwise
    /// they keep the margin.
    bool evenly = true;
};

/// More stages than that are a slip in a file, and cost more to solve than a cook will wait.
inline constexpr std::size_t most_stages = 100;

struct Plan {
    std::string name; ///< "immersion", or what the cook calls it
    /// When it begins. With it the dates of coolers' logs count; without, a log begins with the
    /// schedule. Either way it runs on through the stages.
    std::optional<std::chrono::local_seconds> start;
    Case base; ///< the piece, its brine, the cooler
    std::optional<Pump> pump;
    std::vector<Stage> stages;
};

/// The piece at one time; salt in kg per kg cured meat, nitrite in kg NaNO2 per kg raw meat.
struct Reading {
    double time = 0; ///< [s]
    double mean_salt = 0, core_salt = 0,
           surface_salt = 0;              ///< surface: PlanResult::surface_depth of lean
    double least_salt = 0, most_salt = 0; ///< over the lean
    double core_water_salt = 0;           ///< [kg per kg salt and water]
    double core_arrived = 0; ///< least arrived nitrite of the lean, between needles too
    double mean_arrived = 0, core_residual = 0, mean_residual = 0;
    double even() const { return mean_salt > 0 ? (most_salt - least_salt) / mean_salt : 0; }
};

struct StageResult {
    Stage stage;
    double from = 0, to = 0; ///< [s]
    double temperature = 0;  ///< mean over the stage [K]
    bool met = true;         ///< the `until` came true
    bool barely = false;     ///< only on one of the two meshes: too near never to build on
    Reading end;
    std::optional<double> gone; ///< rub, bag: [s] from the start, when the salt on it was used up
    BrineState bath_start, bath_end; ///< cover and soak (last water)
    /// Of a piece, or where no weight is known of a metre or square metre of it [kg]: what goes
    /// with the bath or the drip, and what the piece takes, negative in a soak.
    double salt_left = 0, nitrite_left = 0;
    double salt_taken = 0, nitrite_taken = 0;
};

/// Regulator's arithmetic for all that is put in by one method [kg per kg raw meat].
struct MethodDose {
    std::string method; ///< "immersion", "pumped", "dry"
    double nitrite = 0;
    std::optional<materials::Limit> limit;
};

class PlanSolved; ///< the solved fields; opaque

/// Read off two meshes. Where a wait comes true on one of them alone they go different ways from
/// there: what follows is then the finer one's, and that stage is `barely`.
struct PlanResult {
    Plan plan;
    bool has_nitrite = false;
    double target = 0, stable_target = 0; ///< as in Prediction
    std::vector<StageResult> stages;
    Reading start;                   ///< after the needles
    std::vector<Reading> course;     ///< through the whole schedule, for a figure
    std::optional<double> cured;     ///< [s] the core has its target
    std::optional<double> lasting;   ///< [s] and its colour lasts
    std::optional<double> last_good; ///< [s] last time to end the last cover, rub or bag stage
    std::string last_good_reason;
    std::optional<double> even_time; ///< [s] salt even to the spread asked of the last stage
    double surface_depth = 0;        ///< [m] of the lean that readings tell as the surface
    Spot core;                       ///< at the end
    bool core_between_needles =
        false; ///< the least-cured lean is between needles, not in the section
    std::vector<MethodDose> doses;
    double ingoing = 0;                     ///< of all methods together [kg per kg raw meat]
    std::optional<double> ingoing_limit;    ///< the lowest of their limits
    double salt_used = 0, nitrite_used = 0; ///< put in, all pieces [kg]
    double gain = 0;                        ///< of weight by the needles [1]
    double weight = 0;                      ///< of one piece, raw [kg]; 0 unknown
    int hands = 0;                          ///< times the cook has to do something
    double thiele = 0;
    double mass_balance_error = 0;     ///< over all stages and stage changes [1]
    std::optional<double> cured_error; ///< [s] of the cells; none: cannot be told
    double salt_error = 0;             ///< of the mean salt at the end [kg per kg]
    std::vector<base::Record> parameters;
    judge::Findings findings; ///< dangers, warnings and what always holds
    std::shared_ptr<const PlanSolved> solved;
};

/// Runs a schedule. Throws base::InputError for what the cook wrote, base::RunError otherwise.
PlanResult run(const Plan& plan, base::Records records, const Progress& progress = {});

/// The outcome of a schedule on its coarse cells alone, a tenth of the work of run(): for what
/// needs many runs and knows how far they are off.
struct Rough {
    std::optional<double> cured; ///< [s]
    double end_time = 0;         ///< [s]
    Reading end;
    double target = 0; ///< of the core, as in PlanResult
};
Rough run_rough(const Plan& plan, base::Records records);

/// The section at a time [s], and for a pumped piece the plane across the needles.
Picture section_at(const PlanResult& result, double time, int columns,
                   const std::vector<double>& front_times);
std::optional<Picture> across_at(const PlanResult& result, double time, int columns);

} // namespace tidemark::cure
