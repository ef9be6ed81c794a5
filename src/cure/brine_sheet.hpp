// SPDX-License-Identifier: MIT
/// A brine before the meat goes in: how strong, how cold, and what the law makes of it.
/// Arithmetic only: nothing here knows how long the cure takes.
#pragma once

#include "base/record.hpp"
#include "cure/chill.hpp"
#include "cure/make_brine.hpp"
#include "judge/judge.hpp"
#include "materials/limits.hpp"

#include <optional>
#include <string>
#include <vector>

namespace tidemark::cure {

/// What is asked.
struct BrineQuestion {
    Brine brine;
    std::string muscle = "pork-loin"; ///< whose water shares the salt
    double weight = 0;                ///< [kg] of one piece, raw; 0: not given
    int pieces = 1;
    double beside = 0;           ///< [kg] of other meat in the same brine, raw
    double temperature = 277.15; ///< of the cooler [K]
    std::string law = "us";
    std::string product = "cured";
    bool rind = false;             ///< the rind is on
    std::optional<double> pick_up; ///< pickle taken up, over the green weight; the gain is weighed
    std::optional<double> pump;    ///< the same, injected
    Way way = Way::brine;          ///< needles go with `pump`
    /// Targets in place of a recipe.
    struct Wish {
        double salt = 0, nitrite = 0;    ///< as Targets
        std::optional<double> container; ///< [m3]
        std::optional<double> scale;     ///< finest step of the scales [kg]; none: 1 g, or 0.1 g
        std::string salt_item = "fine-salt", sugar_item = "white-sugar"; ///< for the spoons
    };
    std::optional<Wish> wish;
    std::optional<double> container; ///< [m3] that meat and a known brine have to fit in

    /// [kg] in the brine, of a dry cure one piece; 0: not known.
    double meat() const { return dry(way) ? weight : weight > 0 ? weight * pieces + beside : 0; }
};

/// One thing that goes into the pot.
struct Ingredient {
    std::string name;            ///< "salt"
    double mass = 0;             ///< [kg]
    double factor = 1;           ///< by which a spoon of it may be off either way
    std::optional<double> spoon; ///< [m3] nearly that by spoons, when targets were given
};

/// A number of the brine, and how far the spoons may move it.
struct Figure {
    enum class Kind { mass, volume, percent, per_kg, ppm, degrees, density, temperature };
    std::string key;  ///< "salt"
    std::string name; ///< "salt, by weight"
    Kind kind = Kind::mass;
    double value = 0, low = 0, high = 0; ///< SI
};

/// What goes into the meat by one method of the regulator [kg per kg green meat].
struct Dose {
    std::string method;    ///< "immersion", "pick-up", "pumped", "dry", "ground"
    std::string substance; ///< "nitrite", "nitrate", "erythorbate"
    double value = 0, low = 0, high = 0;
    std::optional<materials::Limit> limit; ///< its value already cut for the rind
    bool judged = false;                   ///< the method of this cure
};

/// The brine as it is cooled.
struct Cooled {
    double salt_hot = 0;                ///< of the hot brine [kg/kg]
    Chilled mixed;                      ///< with the ice and cold water given
    double limit = 0;                   ///< no meat may go in above this [K]
    double ice_for_limit = 0;           ///< in all, with what else is given [kg]
    double salt_then = 0;               ///< and the strength with that [kg/kg]
    std::optional<double> ice_in_place; ///< of the recipe's water, kept back as ice [kg]
};

struct BrineSheet {
    BrineQuestion question;
    Brine recipe; ///< what is weighed, of a dry cure for one piece; rounded when targets were given
    std::optional<Brine> exact;          ///< before rounding, when targets were given
    double step = 0;                     ///< it was rounded to [kg]
    std::vector<Ingredient> ingredients; ///< of the recipe, in the order of the pot
    Pickle pickle;
    std::vector<Figure> figures;
    std::vector<Dose> doses;
    std::optional<Cooled> cooled;
    std::optional<double> least;   ///< ingoing nitrite the code asks for [kg/kg]
    double fatal = 0, harmful = 0; ///< sodium nitrite swallowed by an adult [kg]
    judge::Findings findings;      ///< dangers, warnings and what always holds
    std::vector<base::Record> parameters;

    /// Meat that the recipe is for [kg]: all pieces, or one in a dry cure.
    double meat() const { return question.meat(); }
    const Figure* figure(const std::string& key) const;     ///< nullptr: not known
    const Dose* judged(const std::string& substance) const; ///< nullptr: not known
};

/// Works the sheet out. Throws InputError headed by the flag at fault.
BrineSheet work_out(const BrineQuestion& question, base::Records records);

} // namespace tidemark::cure
