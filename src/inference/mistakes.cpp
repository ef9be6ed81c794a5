// SPDX-License-Identifier: MIT
#include "inference/mistakes.hpp"

#include "base/side_by_side.hpp"
#include "cure/two_meshes.hpp"
#include "inference/sampling.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace tidemark::inference {
namespace {

constexpr double coarse_cells = 12, coarse_time = 1e-4;

double share(const base::Records& records, const std::string& cause) {
    return records.find("cause." + cause + ".prior")->si();
}

Mistake mistake(const std::string& name, const std::string& remedy, double of,
                const std::vector<double>& cured, double best) {
    const double n = static_cast<double>(cured.size());
    const auto later = [&](double t) {
        return static_cast<double>(std::ranges::count_if(cured, [=](double c) { return c > t; }));
    };
    return {name,
            remedy,
            of,
            {quantile(cured, 0.05), quantile(cured, 0.5), quantile(cured, 0.95),
             static_cast<double>(std::ranges::count(cured, never)) / n},
            later(best) / n};
}

/// The day of the core on coarse cells [s]; infinite if it does not come.
double rough_day(cure::Case c, const base::Records& records, double horizon) {
    c.cells = coarse_cells;
    c.tolerance = coarse_time;
    c.horizon = horizon;
    return cure::run_rough(cure::in_brine(c), records).cured.value_or(never);
}

} // namespace

std::vector<Draw> thicker(std::vector<Draw> draws, const base::Records& records) {
    const base::Record& r = *records.find("cause.thicker.factor");
    const Distribution factor = factor_spread(r.spread, r.value);
    const Eigen::MatrixXd u = uniforms(static_cast<Eigen::Index>(draws.size()), 1, 5);
    for (std::size_t i = 0; i < draws.size(); ++i)
        draws[i].size *= r.si() * factor.at(u(static_cast<Eigen::Index>(i), 0));
    return draws;
}

std::optional<double> slower_by_a_shut_face(const cure::Outcome& p, const base::Records& records) {
    const cure::Case& told = p.question.base;
    cure::Case shut = told;
    std::vector<std::string>& sealed = shut.piece.dimensions.sealed;
    if (told.piece.shape == "ball" || // which lies on a point
        std::ranges::count(sealed, "bottom") + std::ranges::count(sealed, "top") > 0)
        return std::nullopt;
    sealed.push_back("bottom");
    // As far as a face can slow a cure: four times, as where all comes through the two.
    const double day = p.first().cured.value_or(never);
    if (!(day < never))
        return std::nullopt;
    std::array<double, 2> days{};
    base::side_by_side(2, [&](std::size_t as_told) {
        days[as_told] =
            as_told ? rough_day(told, records, 2 * day) : rough_day(shut, records, 6 * day);
    });
    return days[0] / days[1];
}

std::vector<Mistake> mistakes(const cure::Outcome& p, const base::Records& records,
                              const std::vector<double>& cured,
                              const std::vector<double>& cured_thicker,
                              const std::optional<double>& slower, double best) {
    std::vector<Mistake> list;
    list.push_back(mistake("the thickness taken at the wrong place",
                           "measure it at its thickest, twice", share(records, "thicker"),
                           cured_thicker, best));
    if (!slower)
        return list;
    std::vector<double> later = cured;
    for (double& t : later)
        t = t * *slower <= p.question.base.horizon ? t * *slower : never;
    list.push_back(mistake("a face that lay shut", "turn or hang it, so that none does",
                           share(records, "bottom-shut") + share(records, "top-shut"), later,
                           best));
    return list;
}

} // namespace tidemark::inference
