// SPDX-License-Identifier: MIT
/// The texts of models/ as a whole: no idle record, and every spread in a form that can be read.
#include "materials/brine.hpp"
#include "materials/colour.hpp"
#include "materials/diffusion.hpp"
#include "materials/heat.hpp"
#include "materials/kinetics.hpp"
#include "materials/kitchen.hpp"
#include "materials/limits.hpp"
#include "materials/measures.hpp"
#include "materials/meat.hpp"
#include "materials/safety.hpp"
#include "materials/solutes.hpp"
#include "materials/targets.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <regex>
#include <set>

using namespace tidemark;
using namespace tidemark::materials;
using namespace tidemark::materials::test;

namespace {

/// Asks every function for everything it knows.
void use_all(base::Records& records) {
    const double T = celsius(4);
    for (const std::string& muscle : muscle_names(records)) {
        nitrite_diffusivity(records, muscle, T);
        pink_threshold(records, myoglobin(records, muscle));
        loss_rate(records, T, ph(records, muscle), true);
    }
    for (const std::string& cut : cut_names(records)) {
        density(records, composition(records, cut));
    }
    for (const char* species : {"beef", "pork"}) {
        cured_threshold(records, 1e-6, stable_threshold(records, species));
    }
    for (const char* solute : {"salt", "nitrite"}) {
        partition(records, solute);
    }
    for (const std::string& substance : records.group("molar-mass")) {
        equivalent(records, substance, "sodium-nitrite");
    }
    handling_factor(records, "frozen-thawed");
    for (const std::string& item : measure_names(records)) {
        for (const double volume : {5e-6, 15e-6, 240e-6}) {
            measured_mass(records, item, volume);
        }
    }
    for (const std::string& name : premix_names(records)) {
        premix(records, name);
    }
    salt_diffusivity(records, "adipose", T);
    adipose_omega(records);
    records.use("bone.density"); // as src/cure/setup.cpp and src/judge/safety.cpp do
    records.use("growth.c-botulinum-nonproteolytic.water-phase-salt");
    brine_density(records, 0.05, T);
    fibre_ratio(records);
    salt_slope(records);
    free_diffusivity(records, T);
    loss_rate(records, T, 5.6, false);
    brine_loss_rate(records, T, false);
    brine_loss_rate(records, T, true);
    ascorbate_spread(records);
    freezing_point(records, 0.05);
    salometer(records, 0.05);
    taste_band(records);
    for (const std::string& way : ways_afterwards())
        salt_afterwards(records, way);
    salt_floor(records);
    for (const std::string& code : code_names(records)) {
        for (const std::string& product : product_classes(records)) {
            for (const char* method : {"immersion", "pumped", "dry", "ground", "residual"}) {
                for (const char* substance : {"nitrite", "nitrate", "erythorbate"}) {
                    limit_of(records, code, product, method, substance);
                }
            }
        }
    }
    purge(records);
    surface_depth(records);
    told_between_needles(records);
    paces(records);
    least_nitrite(records, "us");
    least_nitrite(records, "canada");
    bacon_share(records);
    rind_factor(records);
    heat_of_fusion(records);
    ice_heat(records);
    water_heat(records);
    fatal_dose(records);
    harmful_dose(records);
    cooler_warning(records, T);
    growth_limits(records);
}

} // namespace

TEST_CASE("No record lies idle: each is used by a function or stands in a table", "[materials]") {
    // Tables: brine by interpolation, toxin times as a list; what is unsure is read by inference.
    // That the program calls these functions is the test of tests/base/test_idle.cpp.
    const char* tables[] = {"brine.density-", "brine.solubility.", "brine.freezing.", "toxin.",
                            "posterior.",     "heat.brine.",       "uncertainty.",    "cause."};
    auto records = base::Records::built_in();
    use_all(records);
    std::set<std::string> idle;
    for (const std::string& key : records.keys()) {
        idle.insert(key);
    }
    for (const base::Record& record : records.used()) {
        idle.erase(record.key);
    }
    std::erase_if(idle, [&](const std::string& key) {
        return std::ranges::any_of(tables, [&](const char* head) { return key.starts_with(head); });
    });
    CHECK(idle == std::set<std::string>{});
}

TEST_CASE("Every spread can be read, and holds its value where it is a range", "[materials]") {
    const std::string number = R"((-?\d+(?:\.\d+)?))";
    const std::regex deviation("(gsd|sd) " + number);
    const std::regex range("range " + number + R"( \.\. )" + number);
    const auto records = base::Records::built_in();
    for (const std::string& key : records.keys()) {
        const base::Record& record = *records.find(key);
        CAPTURE(key, record.spread);
        std::smatch match;
        if (std::regex_match(record.spread, match, deviation)) {
            CHECK(std::stod(match[2]) > (match[1] == "gsd" ? 1 : 0));
        } else if (std::regex_match(record.spread, match, range)) {
            CHECK(std::stod(match[1]) <= record.value);
            CHECK(std::stod(match[2]) >= record.value);
        } else {
            CHECK(record.spread == "none stated");
        }
    }
}

TEST_CASE("Judgements say what they rest on", "[materials]") {
    const auto records = base::Records::built_in();
    for (const std::string& key : records.keys()) {
        const base::Record& record = *records.find(key);
        CAPTURE(key);
        if (record.mark == 'J' || record.mark == 'C' || record.source == "tidemark") {
            CHECK_FALSE(record.note.empty());
        }
        CHECK((record.source == "tidemark") <= (record.mark != 'S')); // nobody's print but ours
    }
}
