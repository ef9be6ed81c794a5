// SPDX-License-Identifier: MIT
/// The answer to a case: the pull window, the state of the piece on a day, and how sure the numbers
/// are. Times in seconds, fractions as proportions; nothing here is formatted.
#pragma once

#include "base/record.hpp"
#include "cure/case.hpp"
#include "geometry/section.hpp"
#include "judge/finding.hpp"

#include <functional>
#include <limits>
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

/// One place in the piece on the day reported.
struct Spot {
    double x = 0, y = 0;       ///< [m]
    double depth = 0;          ///< [m] to the nearest wet face
    double salt = 0;           ///< [kg per kg cured tissue]
    double water_salt = 0;     ///< water-phase salt [kg per kg of salt and water]
    double arrived = 0;        ///< nitrite that has arrived, ingoing basis [kg NaNO2 per kg tissue]
    double residual = 0;       ///< nitrite still free [kg NaNO2 per kg tissue]
    double of_equilibrium = 0; ///< salt over the salt at full balance [1]
};

/// The brine on the day reported.
struct BrineState {
    double salt = 0, nitrite = 0; ///< [kg per kg brine]
    double mass = 0;              ///< [kg]; infinite if no amount was given
};

/// Ingoing nitrite by the regulator's arithmetic, not by the model [kg per kg].
struct Ingoing {
    std::optional<double> whole_system; ///< nitrite over meat plus brine; none without both weights
    std::optional<double> limit;        ///< of the law for immersion; none where it sets none
    std::string law;                    ///< "us, cured"
    std::string note;
};

class Solved; ///< the solved fields; opaque

struct Prediction {
    Case question;
    std::string title;            ///< one line: what was asked
    bool has_nitrite = false;     ///< the target is colour; otherwise salt at the core
    double target = 0;            ///< of the core: arrived nitrite, or salt [kg per kg]
    double stable_target = 0;     ///< arrived nitrite for stable colour
    std::optional<double> pull;   ///< [s] first day the core is cured
    std::optional<double> stable; ///< [s] first day the core has nitrite for stable colour
    std::optional<double> salted; ///< [s] first day the mean salt is in the band that tastes cured
    std::optional<double> last_good; ///< [s]
    std::string last_good_reason;    ///< "the mean salt passes 2.5 %", ...
    std::string never;               ///< why there is no pull day, with the remedy; empty otherwise
    double at = 0;                   ///< [s] the time the following hold for
    Spot core;
    Spot mean; ///< of the lean; x, y, depth unused
    BrineState brine_start, brine_end;
    Ingoing ingoing;
    double thiele = 0, fourier = 0;
    double weight = 0, length = 0; ///< of one piece, given or worked out; 0 unknown
    double mass_balance_error = 0;
    /// Of the pull time [s]: a third of what two meshes differ by, at least 0.01 % of it, and the
    /// time integration's share; none without a pull time.
    std::optional<double> discretisation_error;
    double core_error = 0; ///< of the core's target quantity at `at`, likewise [kg per kg]
    double time_error = 0; ///< of the time integration, relative [1]
    int cells = 0;         ///< nodes of the fine mesh
    std::vector<base::Record> parameters;
    std::vector<Derived> derived;
    judge::Findings findings; ///< dangers, warnings and what always holds
    std::shared_ptr<const Solved> solved;
};

/// Answers a case. Throws base::InputError for what the cook wrote, base::RunError otherwise.
/// `progress` (may be empty) is called with a share done [0..1] and a word for the step.
using Progress = std::function<void(double, const std::string&)>;
Prediction predict(const Case& question, base::Records records, const Progress& progress = {});

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
    geometry::Point core{0, 0};
    double time = 0; ///< [s] of the raster
};

/// A picture `columns` cells wide at the prediction's time, with fronts on the days given [s].
Picture picture(const Prediction& prediction, int columns, const std::vector<double>& front_times);

/// Days for the fronts [s]: a handful of round days up to the prediction's time.
std::vector<double> front_days(const Prediction& prediction);

/// One sample of a profile through the core, along the thickness.
struct Sample {
    double time = 0;  ///< [s]
    double depth = 0; ///< [m] from the top face (from the surface for round and ball)
    std::string kind; ///< "lean" or "fat"
    double salt = 0, arrived = 0, residual = 0; ///< [kg per kg]
};
std::vector<Sample> profiles(const Prediction& prediction, const std::vector<double>& times);

} // namespace tidemark::cure
