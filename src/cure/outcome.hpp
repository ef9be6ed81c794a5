// SPDX-License-Identifier: MIT
/// What becomes of a question: the days of each piece, its state, the stages and baths it went
/// through, and how sure the numbers are. Times in seconds, fractions as proportions; nothing here
/// is formatted.
#pragma once

#include "base/record.hpp"
#include "cure/question.hpp"
#include "geometry/section.hpp"
#include "judge/finding.hpp"
#include "materials/limits.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tidemark::cure {

/// A number the model worked out from the records, for the reader who wants to check.
struct Derived {
    std::string name; ///< "diffusivity of salt in lean at the cooler's temperature"
    double si = 0;
    std::string unit; ///< SI unit
};

/// One place in a piece at one time.
struct Spot {
    double x = 0, y = 0;       ///< [m]
    double depth = 0;          ///< [m] to the nearest wet face
    double salt = 0;           ///< [kg per kg cured tissue]
    double water_salt = 0;     ///< water-phase salt [kg per kg of salt and water]
    double arrived = 0;        ///< nitrite that has arrived, ingoing basis [kg NaNO2 per kg tissue]
    double residual = 0;       ///< nitrite still free [kg NaNO2 per kg tissue]
    double of_equilibrium = 0; ///< salt over the salt at full balance, of a brine without end [1]
};

/// A brine or a soak's water at one time.
struct BrineState {
    double salt = 0, nitrite = 0; ///< [kg per kg brine]
    double mass = 0;              ///< [kg]; infinite if no amount was given
};

/// The brine on one day.
struct BrineDay {
    double time = 0; ///< [s]
    BrineState brine;
};

/// The piece at one time; salt in kg per kg cured meat, nitrite in kg NaNO2 per kg raw meat.
struct Reading {
    double time = 0; ///< [s]
    double mean_salt = 0, core_salt = 0,
           surface_salt = 0;              ///< surface: PieceOutcome::surface_depth of lean
    double least_salt = 0, most_salt = 0; ///< over the lean
    double core_water_salt = 0;           ///< [kg per kg salt and water]
    double core_arrived = 0; ///< least arrived nitrite of the lean, between needles too
    double mean_arrived = 0, core_residual = 0, mean_residual = 0;
    double even() const { return mean_salt > 0 ? (most_salt - least_salt) / mean_salt : 0; }
};

/// A stage as one piece went through it.
struct StageResult {
    Stage stage;
    double from = 0, to = 0; ///< [s]; a stage without an end goes to Outcome::at
    double temperature = 0;  ///< mean over the stage [K]
    bool met = true;         ///< the `until` came true
    bool barely = false;     ///< only on one of the two meshes: too near never to build on
    Reading end;
    std::optional<double> gone; ///< rub, bag: [s] from the start, when the salt on it was used up
    BrineState bath_start, bath_end; ///< cover and soak (last water), around all pieces
    /// Of a piece, or where no weight is known of a metre or square metre of it [kg]: what goes
    /// with the bath or the drip, and what the piece takes, negative in a soak.
    double salt_left = 0, nitrite_left = 0;
    double salt_taken = 0, nitrite_taken = 0;
};

/// One of the pieces, or several equal ones.
struct PieceOutcome {
    Piece piece;
    std::string name;                ///< "piece 2 (beef round, 65 mm)", its number as asked for
    double weight = 0, length = 0;   ///< of one, given or worked out; 0 unknown
    double target = 0;               ///< of the core: arrived nitrite, or salt [kg per kg]
    double pink_target = 0;          ///< arrived nitrite for the first pink
    double stable_target = 0;        ///< arrived nitrite for stable colour
    std::optional<double> cured;     ///< [s] the core has its target
    std::optional<double> lasting;   ///< [s] and its colour lasts
    std::optional<double> salted;    ///< [s] the mean salt is in the band that tastes cured
    std::optional<double> last_good; ///< [s] last time to end the last cover, rub or bag stage
    std::string last_good_reason;    ///< "the mean salt passes 2.5 %"
    std::string never;               ///< why it is not cured, with the remedy; empty otherwise
    Spot core;                       ///< at Outcome::at
    Spot mean;                       ///< of the lean then; x, y, depth unused
    bool core_between_needles =
        false; ///< the least-cured lean is between needles, not in the section
    double thiele = 0, fourier = 0;
    /// Of the cured time [s]: a third of what two meshes differ by, at least 0.01 % of it, and the
    /// time integration's share; none: cannot be told.
    std::optional<double> cured_error;
    double core_error = 0; ///< of the core's target quantity at Outcome::at, likewise [kg per kg]
    double salt_error = 0; ///< of the mean salt then [kg per kg]
    double surface_depth = 0; ///< [m] of the lean that readings tell as the surface
    Reading start;            ///< after the needles
    std::vector<StageResult> stages;

    /// Sooner in time, never last.
    bool sooner(const PieceOutcome& other) const {
        return cured && (!other.cured || *cured < *other.cured);
    }
};

/// What one method puts in, by the regulator's arithmetic [kg per kg].
struct MethodDose {
    std::string method; ///< "immersion", "pumped", "dry"
    double nitrite = 0;
    std::optional<materials::Limit> limit;
};

/// Ingoing nitrite by the regulator's arithmetic, not by the model [kg per kg].
struct Ingoing {
    std::optional<double> whole_system; ///< by all methods; none without the weights it needs
    std::optional<double> limit;        ///< the lowest of their limits; none where there is none
    std::string law;                    ///< "us, cured"
    std::string note;                   ///< "over meat and brine"
    std::vector<MethodDose> doses;
};

class Meshes; ///< the solved fields; opaque

/// Read off two meshes. Where a wait comes true on one of them alone they go different ways from
/// there: what follows is then the finer one's, and that stage is `barely`.
struct Outcome {
    Question question;
    std::string title;        ///< one line: what was asked
    bool has_nitrite = false; ///< the target is colour; otherwise salt at the core
    double at = 0; ///< [s] the time reported: the one asked for, the end, or when all are cured
    std::vector<PieceOutcome> pieces; ///< as asked for, the first first
    std::vector<BrineDay> brine;      ///< of a brine without an end, from the start to `at`
    /// What is too salty before all is cured, of several pieces.
    std::vector<std::string> take_out;
    Ingoing ingoing;
    /// The needles' own brine, of all pieces together, weighed out; none where they have none.
    std::optional<Brine> needles;
    Brine weighed; ///< the question's brine as it is weighed out, where that is known
    double salt_used = 0, nitrite_used = 0; ///< put in, all pieces [kg]
    double gain = 0;                        ///< of weight by the needles [1]
    double meat = 0;                        ///< all pieces, raw [kg]; 0 unknown
    int hands = 0;                          ///< times the cook has to do something
    double mass_balance_error = 0;          ///< over all stages and stage changes [1]
    double time_error = 0;                  ///< of the time integration, relative [1]
    int cells = 0;                          ///< nodes of the fine meshes
    std::vector<base::Record> parameters;
    std::vector<Derived> derived; ///< of the first piece
    judge::Findings findings;     ///< dangers, warnings and what always holds
    std::shared_ptr<const Meshes> solved;

    const PieceOutcome& first() const { return pieces.front(); }
    PieceOutcome& first() { return pieces.front(); }
    /// The first that is never cured, else the last to be.
    const PieceOutcome& slowest() const;
    /// How long the cure is given, by the schedule or as far as was looked [s].
    double horizon() const;
};

/// Follows a question on two meshes. Throws base::InputError for what the cook wrote,
/// base::RunError otherwise. `progress` (may be empty) is called with a share done [0..1] and a
/// word for the step.
using Progress = std::function<void(double, const std::string&)>;
Outcome run(const Question& question, base::Records records, const Progress& progress = {});

/// The same told at another time of a last stage without an end, `at` [s] from the start; solved
/// anew only where it has not been solved as far.
Outcome told_at(const Outcome& outcome, double at, const base::Records& records);

/// The outcome of a schedule on its coarse cells alone, a tenth of the work of run(): for what
/// needs many runs and knows how far they are off.
struct Rough {
    std::optional<double> cured; ///< [s]
    double end_time = 0;         ///< [s]
    Reading end;
    double target = 0; ///< of the core, as in PieceOutcome
};
Rough run_rough(const Question& question, base::Records records);
/// The first piece of such a run, to be read at any time [s] of its last stage, which has a length.
struct RoughRun {
    std::function<Reading(double)> at;
    double target = 0; ///< as in Rough
};
RoughRun read_rough(const Question& question, base::Records records);

} // namespace tidemark::cure
