// SPDX-License-Identifier: MIT
#include "transport/whole.hpp"

#include "base/error.hpp"

#include "transport/prism.hpp"
#include "transport/spectrum.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tidemark::transport {

using Eigen::Index;
using Eigen::VectorXd;

Eigen::VectorXd lengthwise(const System& section, const std::vector<Medium>& media) {
    VectorXd flow = VectorXd::Zero(static_cast<Index>(section.unknown.size()));
    for (std::size_t r = 0; r < media.size(); ++r)
        flow += media[r].diffusivity * media[r].along * section.region_water[r];
    return flow;
}

Whole extrude(System section, const VectorXd& flow, const Along& along, double pull,
              double concentration) {
    Whole w;
    w.along = along;
    w.modes = modes(along, along.planes() > 1 ? pull : 0);
    const Index n = section.bath(), planes = along.planes(), free = w.modes.planes(),
                nodes = static_cast<Index>(section.unknown.size());
    w.lengthwise = VectorXd::Zero(n);
    for (Index i = 0; i < nodes; ++i)
        if (const int k = section.unknown[static_cast<std::size_t>(i)]; k < n)
            w.lengthwise[k] += flow[i];

    System& s = w.system;
    s.held = section.held;
    s.partition = section.partition;
    s.bath_capacity = section.bath_capacity;
    s.bath_loss = section.bath_loss;
    const Index bath = free * n;
    for (const VectorXd& water : section.region_water)
        s.region_water.push_back((water * along.weight.transpose()).reshaped());
    s.unknown.reserve(static_cast<std::size_t>(planes * nodes));
    for (Index j = 0; j < planes; ++j)
        for (const int k : section.unknown)
            s.unknown.push_back(static_cast<int>(j < free && k < n ? j * n + k : bath));
    s.capacity = s.loss = s.initial = VectorXd::Zero(bath + 1);
    double sink = s.bath_capacity * s.bath_loss, water = s.bath_capacity;
    const double wall = section.capacity[n] - section.bath_capacity, // of one metre
        wall_sink = section.capacity[n] * section.loss[n] - sink;
    const double value = section.partition * concentration;
    double amount = s.bath_capacity * value;
    const double wall_amount = section.capacity[n] * section.initial[n] - amount;
    for (Index j = 0; j < planes; ++j) {
        const double m = along.weight[j];
        water += m * wall;
        sink += m * wall_sink;
        amount += m * wall_amount;
        if (j < free) {
            s.capacity.segment(j * n, n) = m * section.capacity.head(n);
            s.loss.segment(j * n, n) = section.loss.head(n);
            s.initial.segment(j * n, n) = section.initial.head(n);
        } else {
            water += m * section.capacity.head(n).sum();
            sink += m * section.capacity.head(n).dot(section.loss.head(n));
            amount += m * section.capacity.head(n).dot(section.initial.head(n));
        }
    }
    s.capacity[bath] = water;
    s.loss[bath] = water > 0 ? sink / water : 0;
    s.initial[bath] = s.held || !(water > 0) ? value : amount / water;
    if (planes == 1)
        s.conductance = along.weight[0] * section.conductance;
    w.section = std::move(section);
    return w;
}

std::shared_ptr<const History> solve(const Whole& whole, double first, double last,
                                     double tolerance, const History* donor) {
    if (whole.along.planes() == 1) {
        const auto* space = dynamic_cast<const Spectrum*>(donor);
        return space ? std::make_shared<Spectrum>(whole.system, *space)
                     : std::make_shared<Spectrum>(whole.system, first, last, tolerance);
    }
    const auto* prism = dynamic_cast<const Prism*>(donor);
    auto reduction = std::make_shared<Reduction>(whole, first, last, tolerance,
                                                 prism ? &prism->reduction() : nullptr);
    // Few numbers: much closer than the modes, so that similar cases take over the space within
    // that.
    const auto* alike = prism ? dynamic_cast<const Spectrum*>(&prism->amplitudes()) : nullptr;
    auto amplitudes =
        alike && alike->first() == reduction->first() && alike->last() == reduction->last()
            ? std::make_shared<Spectrum>(reduction->system, *alike, tolerance)
            : std::make_shared<Spectrum>(reduction->system, reduction->first(), reduction->last(),
                                         tolerance / 10);
    return std::make_shared<Prism>(std::move(reduction), std::move(amplitudes), prism);
}

std::shared_ptr<const History> solve(const Whole& whole, const Clock& clock, double first,
                                     double last, double tolerance, double step, const Law& law) {
    if (law) { // modes are parted by coefficients that are the same everywhere
        if (whole.along.planes() > 1)
            throw base::RunError("coefficients that follow a field are for a section without ends");
        return std::make_shared<Stepper>(whole.system, clock, last, step, law);
    }
    // The clock's own span, with room for a cooler that warms up.
    const double all = clock.diffusion(last);
    auto reduction = std::make_shared<Reduction>(whole, first * all / last / 4, 2 * all, tolerance);
    auto amplitudes = std::make_shared<Stepper>(reduction->system, clock, last, step);
    return std::make_shared<Prism>(std::move(reduction), std::move(amplitudes));
}

} // namespace tidemark::transport
