// SPDX-License-Identifier: MIT
#include "transport/cases.hpp"

#include "geometry/shapes.hpp"

#include <algorithm>
#include <random>

namespace tidemark::transport_tests {

namespace {

class Dice {
public:
    explicit Dice(unsigned seed) : engine_(seed) {}
    double between(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(engine_);
    }
    bool chance(double p) { return between(0, 1) < p; }
    int below(int n) { return std::uniform_int_distribution<int>(0, n - 1)(engine_); }

private:
    std::mt19937 engine_;
};

geometry::Section random_section(Dice& dice, std::string& what) {
    geometry::Dimensions d;
    d.thickness = dice.between(0.04, 0.12);
    d.width = d.thickness * dice.between(1.2, 2);
    switch (dice.below(4)) {
    case 0:
        what = "disc";
        d.width = 0;
        return geometry::disc(d, what);
    case 1:
        what = "block";
        if (dice.chance(0.5))
            d.fat_cap = d.thickness * dice.between(0.05, 0.2);
        if (dice.chance(0.5))
            d.sealed = {dice.chance(0.5) ? "bottom" : "left"};
        return geometry::block(d, what);
    case 2:
        what = "loin";
        d.fat_cap = d.thickness * dice.between(0.05, 0.12);
        d.bones = dice.below(4);
        if (d.bones > 0)
            d.bone_diameter = d.thickness * dice.between(0.06, 0.12);
        return geometry::loin(d, what);
    default:
        what = "ham";
        d.bones = 1;
        if (dice.chance(0.5))
            d.fat_cap = d.thickness * dice.between(0.05, 0.1);
        return geometry::ham(d, what);
    }
}

} // namespace

transport::System Case::assemble() const {
    return mesh ? transport::assemble(*mesh, media, bath) : transport::assemble(*line, media, bath);
}

double Case::highest() const {
    double top = bath.partition * bath.concentration;
    for (const auto& m : media)
        top = std::max(top, m.initial);
    return top;
}

Case random_case(unsigned seed, bool isotropic, bool lossless) {
    Dice dice(seed);
    Case c;
    double thickness = 0;
    if (seed % 2) {
        const int power = dice.below(3);
        thickness = dice.between(0.015, 0.06);
        std::vector<geometry::Layer> layers = {{"lean", thickness}};
        if (dice.chance(0.6))
            layers.push_back({"fat", thickness * dice.between(0.05, 0.3)});
        c.what = "line of power " + std::to_string(power);
        c.line = geometry::line(layers, 30 + dice.below(60), power, power == 0 && dice.chance(0.5),
                                true);
    } else {
        const auto s = random_section(dice, c.what);
        thickness = s.thickness / 2;
        c.mesh = geometry::triangulate(s, s.thickness / dice.between(8, 16));
    }
    const auto& kinds = c.mesh ? c.mesh->kinds : c.line->kinds;
    for (const auto& kind : kinds) {
        const bool fat = kind == "fat";
        transport::Medium m;
        m.water = fat ? dice.between(70, 200) : dice.between(500, 800);
        m.diffusivity = (fat ? 1e-10 : 2.4e-10) * dice.between(0.5, 2);
        m.ratio = isotropic ? 1 : dice.between(1, 1.6);
        m.angle = dice.between(-1.5, 1.5);
        m.loss = lossless || dice.chance(0.3) ? 0 : dice.between(1e-7, 3e-6);
        m.initial = dice.chance(0.5) ? 0 : dice.between(0, 0.1);
        c.media.push_back(m);
    }
    c.bath.concentration = dice.between(0.03, 0.3);
    c.bath.partition = dice.between(0.85, 1.05);
    if (dice.chance(0.7)) { // finite: a share of the piece's water
        const auto held = c.assemble();
        double water = 0;
        for (const auto& w : held.region_water)
            water += w.sum();
        c.bath.water = water * dice.between(0.3, 5);
    }
    if (dice.chance(0.4))
        c.bath.film = dice.between(1e-8, 1e-6);
    if (!lossless && dice.chance(0.5))
        c.bath.loss = dice.between(1e-7, 1e-6);
    c.last = 2 * thickness * thickness / 2.4e-10;
    return c;
}

} // namespace tidemark::transport_tests
