// SPDX-License-Identifier: MIT
#include "inference/draws.hpp"

#include "base/side_by_side.hpp"
#include "inference/mistakes.hpp"
#include "inference/sampling.hpp"
#include "inference/sensitivity.hpp"

#include <algorithm>

namespace tidemark::inference {
namespace {

std::vector<Draw> drawn(const Drawing& drawing, const Eigen::MatrixXd& values) {
    std::vector<Draw> draws(static_cast<std::size_t>(values.rows()));
    in_parts(draws.size(),
             [&](std::size_t i) { draws[i] = drawing(values.row(static_cast<Eigen::Index>(i))); });
    return draws;
}

} // namespace

void in_parts(std::size_t n, const std::function<void(std::size_t)>& work) {
    constexpr std::size_t part = 256;
    base::side_by_side((n + part - 1) / part, [&](std::size_t k) {
        for (std::size_t i = part * k; i < std::min(n, part * (k + 1)); ++i)
            work(i);
    });
}

Draws draws_of(const cure::Case& question, const cure::Setup& setup, const base::Records& records,
               const Inputs& inputs, const Ask& ask) {
    const Drawing drawing(inputs, question, setup, records);
    const auto columns = static_cast<Eigen::Index>(inputs.list().size());
    Draws d;
    d.sample = drawn(
        drawing,
        inputs.values(
            uniforms(ask.draws, std::max<Eigen::Index>(1, columns), ask.seed).leftCols(columns)));
    d.frozen = drawn(
        drawing, inputs.values(pick_freeze(Draws::shares, inputs.group_of_columns(), ask.seed)));
    d.thick =
        thicker({d.sample.begin(), d.sample.begin() + std::min(ask.draws, Draws::shares)}, records);
    return d;
}

} // namespace tidemark::inference
