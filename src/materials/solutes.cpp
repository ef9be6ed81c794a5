// SPDX-License-Identifier: MIT
/// Salt is the measure of the others, so its own diffusivity ratio is one and needs no record.
#include "materials/solutes.hpp"

#include "materials/lookup.hpp"

namespace tidemark::materials {
namespace {

std::string key_of(const base::Records& records, const std::string& solute) {
    return "solute." + known("solute", solute, records.group("solute"));
}

} // namespace

double partition(base::Records& records, const std::string& solute) {
    return records.si(key_of(records, solute) + ".partition");
}

double diffusivity_ratio(base::Records& records, const std::string& solute) {
    return solute == "salt" ? 1 : records.si(key_of(records, solute) + ".diffusivity-ratio");
}

double equivalent(base::Records& records, const std::string& from, const std::string& to) {
    const auto mass = [&](const std::string& name) {
        return records.si("molar-mass." + known("substance", name, records.group("molar-mass")));
    };
    return mass(to) / mass(from);
}

} // namespace tidemark::materials
