// SPDX-License-Identifier: MIT
#include "verification/brick.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::verification {

using Eigen::VectorXd;

transport::System Brick::system(const transport::Medium& lean, const transport::Medium& fat_tissue,
                                const transport::Bath& bath, bool closed) const {
    const double dx = width / 2 / across, dy = thickness / up, dz = length / 2 / along;
    const int layers = static_cast<int>(std::lround(fat / dy)); // of cells, at the top
    transport::System s;
    s.held = std::isinf(bath.water);
    s.partition = bath.partition;
    s.bath_capacity = s.held ? 0 : bath.water / bath.partition;
    int count = 0;
    for (int k = 0; k <= along; ++k)
        for (int j = 0; j <= up; ++j)
            for (int i = 0; i <= across; ++i) {
                const bool wall = i == across || j == 0 || j == up || (ends && k == along);
                s.unknown.push_back(wall && !closed ? -1 : count++);
            }
    for (int& u : s.unknown)
        u = u < 0 ? count : u;
    s.capacity = s.loss = s.initial = VectorXd::Zero(count + 1);
    s.region_water.assign(2, VectorXd::Zero(nodes()));
    std::vector<Eigen::Triplet<double>> entries;
    const auto link = [&](int a, int b, double g) {
        const int p = s.unknown[a], q = s.unknown[b];
        if (p == q)
            return;
        entries.emplace_back(p, p, g);
        entries.emplace_back(q, q, g);
        entries.emplace_back(p, q, -g);
        entries.emplace_back(q, p, -g);
    };
    constexpr double mirrored = 4; // the quarter stands for four
    for (int k = 0; k < along; ++k)
        for (int j = 0; j < up; ++j)
            for (int i = 0; i < across; ++i) { // a cell, of one tissue
                const bool cap = j >= up - layers;
                const transport::Medium& m = cap ? fat_tissue : lean;
                const double flow = mirrored * m.water * m.diffusivity / 4;
                for (int c = 0; c < 8; ++c) {
                    const int a = node(i + c % 2, j + c / 2 % 2, k + c / 4);
                    s.region_water[cap][a] += mirrored * m.water * dx * dy * dz / 8;
                }
                for (int c = 0; c < 4; ++c) { // the four edges of each direction
                    const int p = c % 2, q = c / 2;
                    link(node(i, j + p, k + q), node(i + 1, j + p, k + q), flow * dy * dz / dx);
                    link(node(i + p, j, k + q), node(i + p, j + 1, k + q), flow * dx * dz / dy);
                    link(node(i + p, j + q, k), node(i + p, j + q, k + 1),
                         flow * m.along * dx * dy / dz);
                }
            }
    for (std::size_t a = 0; a < s.unknown.size(); ++a)
        s.capacity[s.unknown[a]] += s.region_water[0][a] + s.region_water[1][a];
    s.loss.setConstant(lean.loss);
    const double tissue = s.capacity[count];
    s.capacity[count] += s.bath_capacity;
    if (s.capacity[count] > 0)
        s.loss[count] *= tissue / s.capacity[count];
    s.conductance.resize(count + 1, count + 1);
    s.conductance.setFromTriplets(entries.begin(), entries.end());
    return s;
}

double Brick::least(const VectorXd& nodal) const {
    const int top = up - static_cast<int>(std::lround(fat / thickness * up));
    int low = 1;
    for (int j = 1; j <= top; ++j)
        if (nodal[node(0, j, 0)] < nodal[node(0, low, 0)])
            low = j;
    if (low == top) // at the cap: one-sided
        low = top - 1;
    const double a = nodal[node(0, low - 1, 0)], b = nodal[node(0, low, 0)],
                 c = nodal[node(0, low + 1, 0)], bend = a - 2 * b + c;
    const double at = bend > 0 ? std::clamp((a - c) / (2 * bend), -1.0, 1.0) : 0;
    return b + at * (c - a) / 2 + at * at * bend / 2;
}

} // namespace tidemark::verification
