// SPDX-License-Identifier: MIT
/// Muscles and cuts: what they are made of, what they weigh, how much water carries the cure.
/// Compositions are as analysed and densities hold near 4 C; not for cooked or frozen meat.
#pragma once

#include "base/record.hpp"

#include <string>
#include <vector>

namespace tidemark::materials {

/// Mass fractions of a raw cut [kg/kg], as analysed: they need not add up to one.
struct Composition {
    double water = 0;
    double protein = 0;
    double fat = 0;
    double ash = 0;
};

/// Names of the muscles with a diffusivity [text], sorted.
std::vector<std::string> muscle_names(const base::Records& records);

/// Names of the cuts with a composition [text], sorted.
std::vector<std::string> cut_names(const base::Records& records);

/// A muscle or one of the names that cooks have for its cuts.
struct MuscleName {
    std::string muscle; ///< as in models/muscles.ini, "pork-shoulder"
    std::string name;   ///< "picnic"; the muscle itself comes first
};
/// All of them, by muscle.
std::vector<MuscleName> muscle_synonyms(const base::Records& records);

/// The muscle that a cook means [text]: "leg of lamb" is lamb-leg, "pork picnic" and "Picnic" are
/// pork-shoulder. Throws InputError, headed by `where`, naming what may have been meant.
std::string muscle_called(const base::Records& records, const std::string& name,
                          const std::string& where);

/// The muscle whose measurements stand in for this one's [text]; empty where it has its own.
std::string lender(const base::Records& records, const std::string& muscle);

/// That they do, and that the spread is wider for it [text]; empty where it has its own or the user
/// has given one.
std::string lender_note(const base::Records& records, const std::string& muscle);

/// The animal whose colour the muscle is judged by [text]: its own, or its lender's. "pork" or
/// "beef". Throws InputError for another name.
std::string species_of(const base::Records& records, const std::string& muscle);

/// The cut whose lean stands for the muscle [text]. Throws InputError for an unknown muscle.
std::string default_cut(const base::Records& records, const std::string& muscle);

/// Pigment of the muscle [kg myoglobin per kg]. Throws InputError for an unknown muscle.
double myoglobin(base::Records& records, const std::string& muscle);

/// Acidity of the muscle [pH]. Throws InputError for an unknown muscle.
double ph(base::Records& records, const std::string& muscle);

/// Composition of a cut [kg/kg] (usda2014). Throws InputError for an unknown cut.
Composition composition(base::Records& records, const std::string& cut);

/// Density of a piece near 4 C [kg/m3]: volumes of the parts added up (choi1986).
double density(base::Records& records, const Composition& parts);

/// Water by volume near 4 C [m3/m3], the eps of the transport equation.
double water_volume(base::Records& records, const Composition& parts);

/// Water per volume of tissue near 4 C [kg/m3], the omega of the transport equation.
double omega(base::Records& records, const Composition& parts);

/// The same for fat tissue (cap, seam) [kg/m3].
double adipose_omega(base::Records& records);

} // namespace tidemark::materials
