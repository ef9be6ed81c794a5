// SPDX-License-Identifier: MIT
/// Volumes of the parts are taken to add up: density = sum m / sum (m / rho).
#include "materials/meat.hpp"

#include "base/error.hpp"
#include "materials/lookup.hpp"

#include <boost/range/adaptor/map.hpp>
#include <boost/range/iterator_range.hpp>

#include <map>

namespace tidemark::materials {
namespace {

/// Volumes of the parts of one kilogram as analysed [m3/kg].
struct Volumes {
    double water, protein, fat, ash;
    double all() const { return water + protein + fat + ash; }
};

Volumes volumes(base::Records& records, const Composition& parts) {
    return {parts.water / records.si("component.water.density"),
            parts.protein / records.si("component.protein.density"),
            parts.fat / records.si("component.fat.density"),
            parts.ash / records.si("component.ash.density")};
}

/// Judgement where the table has no cut of the muscle: loin of beef as eye of round, lean of the
/// belly as shoulder.
const std::map<std::string, std::string> cut_of_muscle{
    {"beef-brisket", "beef-brisket-flat"}, {"beef-loin", "beef-eye-of-round"},
    {"beef-round", "beef-eye-of-round"},   {"beef-tongue", "beef-tongue"},
    {"pork-belly", "pork-shoulder"},       {"pork-ham", "pork-leg"},
    {"pork-loin", "pork-top-loin"},        {"pork-shoulder", "pork-shoulder"},
};

double of_muscle(base::Records& records, const std::string& muscle, const std::string& what) {
    return records.si("muscle." + known("muscle", muscle, muscle_names(records)) + '.' + what);
}

} // namespace

std::vector<std::string> muscle_names(const base::Records& records) {
    return records.group("muscle");
}

std::vector<std::string> cut_names(const base::Records& records) {
    return records.group("cut");
}

std::string species_of(const std::string& muscle) {
    return known("animal", muscle.substr(0, muscle.find('-')), {"beef", "pork"});
}

std::string default_cut(const std::string& muscle) {
    return cut_of_muscle.at(known(
        "muscle", muscle,
        boost::copy_range<std::vector<std::string>>(cut_of_muscle | boost::adaptors::map_keys)));
}

double myoglobin(base::Records& records, const std::string& muscle) {
    return of_muscle(records, muscle, "myoglobin");
}

double ph(base::Records& records, const std::string& muscle) {
    return of_muscle(records, muscle, "ph");
}

Composition composition(base::Records& records, const std::string& cut) {
    const std::string key = "cut." + known("cut", cut, cut_names(records));
    return {records.si(key + ".water"), records.si(key + ".protein"), records.si(key + ".fat"),
            records.si(key + ".ash")};
}

double density(base::Records& records, const Composition& parts) {
    return (parts.water + parts.protein + parts.fat + parts.ash) / volumes(records, parts).all();
}

double water_volume(base::Records& records, const Composition& parts) {
    const Volumes v = volumes(records, parts);
    return v.water / v.all();
}

double fat_volume(base::Records& records, const Composition& parts) {
    const Volumes v = volumes(records, parts);
    return v.fat / v.all();
}

double omega(base::Records& records, const Composition& parts) {
    return water_volume(records, parts) * records.si("component.water.density");
}

double adipose_omega(base::Records& records) {
    return records.si("adipose.water-volume") * records.si("component.water.density");
}

double bone_density(base::Records& records) {
    return records.si("bone.density");
}

} // namespace tidemark::materials
