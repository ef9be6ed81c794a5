// SPDX-License-Identifier: MIT
/// The uncertain inputs of a case in a brine, and what a draw of them means for the physics. Each
/// spread has an owner: a record's own is of the shop and the piece; what all meat shares comes
/// from models/posterior.ini, jointly, on top of it.
///
/// A number the cook set by a flag gives the middle, and keeps the spread of the record it
/// replaces: nobody knows the diffusivity of one piece better for having typed it. Where a flag
/// does away with an input (no loss, a loss that no longer asks the pH) it is gone. Left out, being
/// small beside these: the activation energy of the loss, the water of the meat, sugar. Fat moves
/// along with lean in thickness and speed, with a spread of its own on top; that, and the fibre
/// ratio, act on the days themselves (pace.hpp).
#pragma once

#include "base/record.hpp"
#include "cure/setup.hpp"
#include "inference/inputs.hpp"
#include "inference/pace.hpp"

namespace tidemark::inference {

/// The inputs of a case; all are factors on its value [1] but "cooler" [K] and "ph" [1], which are
/// shifts. `records` as they were before the case's overrides.
Inputs case_inputs(const cure::Case& question, const cure::Setup& setup,
                   const base::Records& records);

/// The inputs of a case, with what slices have taught if they have.
using InputsOf = std::function<Inputs(const cure::Case&, const cure::Setup&)>;

/// The records with the case's overrides applied, but for "loss", which is no record.
base::Records as_set(const cure::Case& question, base::Records records);

/// What a group of inputs is called, how a cook can know it better (empty: in no way), and whose it
/// is: "all meat", "the shop", "the piece", or several of them.
struct Plain {
    std::string name, remedy, owner;
};
Plain plain(const std::string& group);

/// One draw as factors on the case's own numbers [1], but for the last two.
struct Draw {
    double size = 1;          ///< every length of the section
    double salt_speed = 1;    ///< diffusivity of salt at the drawn temperature
    double nitrite_speed = 1; ///< the same of nitrite
    double loss = 1;          ///< rate of loss of nitrite
    double partition = 1;     ///< of both solutes
    double salt = 1;          ///< concentration of the brine [per kg water]
    double nitrite = 1;       ///< the same of nitrite
    double water = 1;         ///< water of the brine
    double meat = 1;          ///< meat that shares it
    double threshold = 1;     ///< nitrite for what the eye calls cured
    double lasting = 1;       ///< nitrite for lasting colour
    double temperature = 0;   ///< of the cooler [K]
    double ph = 0;            ///< of the lean [1]
    double dose = 1;          ///< salts that a rub, a bag or needles bring
    double needles = 1;       ///< strength of the needles' own brine
    double fat = 1;           ///< diffusivity of fat, besides what lean's takes it along
    double fat_water = 1;     ///< water of fat
    double fibres = 1;        ///< diffusivity along the fibres over that across

    /// How much sooner these three let the core be cured, its colour last, and the mean salt reach
    /// either end of the band of taste [1] (pace.hpp): on top of what the other numbers do.
    double pace = 1, pace_lasting = 1, pace_salted = 1, pace_too_salty = 1;
};

/// Turns rows of Inputs::values() into draws.
class Drawing {
public:
    Drawing(const Inputs& inputs, const cure::Case& question, const cure::Setup& setup,
            const base::Records& records);
    Draw operator()(const Eigen::VectorXd& values) const;

private:
    void brine(Draw& draw, double salt, double premix, double ice) const;
    void pace(Draw& draw) const;

    int diffusivity_, handling_, ratio_, thickness_, cooler_, partition_, threshold_, myoglobin_,
        lasting_, eye_, loss_, ph_, salt_, premix_, ice_, dose_, needles_, energy_, fibres_, fat_,
        fat_water_;
    cure::Brine brine_;
    Pace pace_;
    Pace::Span core_, mean_; ///< levels in the middle
    bool coloured_ = false;  ///< the core is judged by nitrite
    double temperature_ = 0, reference_ = 0, diffusion_energy_ = 0, loss_energy_ = 0, ph_lean_ = 0,
           ph_factor_ = 1;
    double pigment_ = 0;    ///< share of the least nitrite for pink that goes with myoglobin
    double seen_ = 0;       ///< where the eye sees cured, from first pink to lasting [1]
    double meat_power_ = 0; ///< of the size, by which the meat in the brine grows
};

} // namespace tidemark::inference
