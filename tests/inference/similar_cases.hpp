// SPDX-License-Identifier: MIT
/// Cases for the tests of this folder, all invented, and a case as one draw has it, for solving
/// directly.
#pragma once

#include "base/text.hpp"
#include "common.hpp"
#include "cure/outcome.hpp"
#include "cure/two_meshes.hpp"
#include "inference/case_inputs.hpp"
#include "materials/kinetics.hpp"

#include <string>
#include <vector>

namespace tidemark::inference {

using test::built_in;
inline Inputs by_records(const cure::Case& c, const cure::Setup& setup) {
    return case_inputs(c, setup, built_in());
}

inline cure::Case invented(const std::string& shape, double thickness, double weight = 0) {
    cure::Case c;
    c.piece.shape = shape;
    c.piece.dimensions.thickness = thickness;
    c.brine.salt = 0.05;
    c.brine.nitrite = 200e-6;
    if (weight > 0) { // so much brine as meat and half as much again
        c.piece.weight = shape == "ball" ? 0 : weight;
        if (shape != "ball" && shape != "sheet") // a draw keeps the proportions of a piece, and
            c.piece.shut_ends = 2;               // a direct solve its weight
        c.brine.mass = 1.5 * weight;
    }
    return c;
}

inline void set(cure::Case& c, const std::string& key, double value, const std::string& unit) {
    std::erase_if(c.overrides, [&](const auto& o) { return o.key == key; });
    c.overrides.push_back({key, base::significant(value, 14) + ' ' + unit, "--set"});
}

/// With the middle's fat and fibres, for what is to be as exact as a surface is.
inline void keep_fat_and_fibres(const Inputs& inputs, Eigen::MatrixXd& values) {
    for (const char* name : {"fat", "fat-water", "fibre-ratio"})
        if (inputs.column(name) >= 0)
            values.col(inputs.column(name)).setOnes();
}

/// The case with the numbers of one draw. `p` is the middle's prediction.
inline cure::Case drawn_case(const cure::Outcome& p, const Inputs& inputs,
                             const Eigen::VectorXd& values, const Draw& draw) {
    cure::Case c = p.question.base;
    const cure::Setup& middle = p.solved->setup();
    const auto value = [&](const char* name) {
        return inputs.column(name) < 0 ? 1.0 : values[inputs.column(name)];
    };
    geometry::Dimensions& d = c.piece.dimensions;
    for (double* length :
         {&d.thickness, &d.width, &d.fat_cap, &d.bone_diameter, &d.bone_depth, &c.piece.length}) {
        *length *= draw.size;
    }
    if (inputs.column("cooler") >= 0) {
        c.temperature += values[inputs.column("cooler")];
    }
    base::Records now = as_set(c, built_in());
    const char* energy = "diffusion.activation-energy";
    set(c, energy, now.si(energy) * value("activation-energy"), "J/mol");
    const std::string diffusivity = "muscle." + c.piece.muscle + ".diffusivity";
    set(c, diffusivity, now.si(diffusivity) * value("diffusivity") * value("handling"), "m2/s");
    if (middle.tissues.contains("fat")) { // goes along with the lean
        set(c, "adipose.diffusivity",
            now.si("adipose.diffusivity") * value("diffusivity") * value("handling") * value("fat"),
            "m2/s");
        set(c, "adipose.water-volume", now.si("adipose.water-volume") * value("fat-water"), "");
    }
    set(c, "diffusion.fibre-ratio", now.si("diffusion.fibre-ratio") * value("fibre-ratio"), "");
    for (const char* key : {"solute.salt.partition", "solute.nitrite.partition"}) {
        set(c, key, now.si(key) * value("partition"), "");
    }
    const double loss = middle.tissues.at("lean").nitrite.loss;
    if (loss > 0) {
        set(c, "loss", loss * draw.loss, "1/s");
    }
    if (const double own = middle.nitrite_bath.loss; own > 0) { // in the brine it goes along
        const char* key = "kinetics.brine-loss-ascorbate";
        const double now_lost = materials::brine_loss_rate(now, c.temperature, true);
        set(c, key, now.si(key) * own * draw.loss / now_lost, "1/s");
    }
    if (p.has_nitrite) {
        const char* ratio = "solute.nitrite.diffusivity-ratio";
        set(c, ratio, now.si(ratio) * value("nitrite-ratio"), "");
        set(c, "colour.threshold.base", 1e6 * p.first().target * draw.threshold, "ppm");
        set(c, "colour.threshold.slope", 0, "g/kg");
        set(c, "colour.eye", 0, ""); // the level is that
        for (const char* key : {"colour.stable.pork", "colour.stable.beef"}) {
            set(c, key, 1e6 * p.first().stable_target * draw.lasting, "ppm");
        }
    }
    cure::Brine& b = c.brine;
    for (auto* part : {&b.salt, &b.salt_added}) {
        if (*part) {
            **part *= value("salt");
        }
    }
    for (auto* part : {&b.nitrite, &b.premix}) {
        if (*part) {
            **part *= value("premix");
        }
    }
    if (b.ice) {
        *b.ice *= value("ice");
    }
    return c;
}

} // namespace tidemark::inference
