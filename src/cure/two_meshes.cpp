// SPDX-License-Identifier: MIT
#include "cure/two_meshes.hpp"

#include "base/error.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tidemark::cure {

namespace {

/// In all pieces together: some 3 GB, by the 2.6 kB a cell that 200 pieces took.
constexpr Eigen::Index most_cells = 1'000'000;

/// In one section: some ten seconds, and as much memory as most have.
constexpr double most_in_section = 600'000;

/// Throws InputError where so many cells across the thickness make more than that when halved,
/// before any is made.
void check_cells(const Setup& s, double cells) {
    if (!s.section)
        return;
    constexpr double area_of_node = 0.87; // of the square of their distance: sides of a triangle
    const double spacing = s.half_thickness / cells,
                 nodes = geometry::areas(*s.section).total / (area_of_node * spacing * spacing);
    if (nodes <= most_in_section)
        return;
    const std::string fit =
        std::to_string(static_cast<int>(cells * std::sqrt(most_in_section / nodes)));
    throw base::InputError("--cells", std::to_string(std::lround(cells)),
                           "makes some " + std::to_string(std::lround(nodes / 1e4)) +
                               "0000 cells of this section, too many to be solved; " + fit +
                               " would fit",
                           "give at most " + fit + ", or a narrower width");
}

std::unique_ptr<Grid> filled(std::unique_ptr<Grid> grid, const Coefficients& c, bool across) {
    if (c.pumped)
        inject(*grid, c, across);
    return grid;
}

[[noreturn]] void refuse_too_many(const Coefficients& c, std::size_t fit) {
    const std::string most = std::to_string(c.kinds[fit].first);
    throw base::InputError(
        "--with", std::to_string(c.of.size()) + " pieces",
        "are too many to be solved together; the first " + most + " would fit",
        "give at most " + most +
            " pieces that differ, write equal ones once with pieces = N, or use fewer --cells");
}

std::unique_ptr<Track> fine_track(const Question& question, const Coefficients& c,
                                  const Track& coarse) {
    std::unique_ptr<Grid> across;
    if (c.across)
        across = filled(halved(*c.across, *coarse.across()), c, true);
    std::vector<std::unique_ptr<Grid>> grids;
    Eigen::Index cells = 0;
    for (std::size_t k = 0; k < c.kinds.size(); ++k) {
        grids.push_back(filled(halved(c.kinds[k].setup(), coarse.grid(k)), c, false));
        cells += grids.back()->nodes();
        if (k > 0 && cells > most_cells)
            refuse_too_many(c, k);
    }
    return std::make_unique<Track>(question, c, std::move(grids), std::move(across), &coarse);
}

/// What the planes along the piece add to the error of a time [s] at which the core was cured.
double along_error(const Track& fine, std::size_t kind, double time, bool nitrite) {
    const double by = fine.grid(kind).along_error(time, nitrite), before = 0.98 * time,
                 pace = (fine.core(time, kind) - fine.core(before, kind)) / (time - before);
    return by > 0 && pace > 0 ? by / pace : 0;
}

} // namespace

double extrapolated(double coarse, double fine) {
    return fine + (fine - coarse) / 3;
}

std::optional<double> extrapolated(const std::optional<double>& coarse,
                                   const std::optional<double>& fine) {
    if (!coarse || !fine)
        return fine;
    return extrapolated(*coarse, *fine);
}

Reading extrapolated(const Reading& c, const Reading& f) {
    Reading r = f;
    for (double Reading::*m :
         {&Reading::time, &Reading::mean_salt, &Reading::core_salt, &Reading::core_water_salt,
          &Reading::surface_salt, &Reading::least_salt, &Reading::most_salt, &Reading::core_arrived,
          &Reading::mean_arrived, &Reading::core_residual, &Reading::mean_residual})
        r.*m = std::max(0.0, extrapolated(c.*m, f.*m));
    return r;
}

std::unique_ptr<Track> coarse_track(const Question& question, const Coefficients& c) {
    const double cells = question.base.cells;
    std::unique_ptr<Grid> across;
    if (c.across) {
        // At 24 cells in the piece 32 over the plane, and never fewer than 8 from needle to needle:
        // 16 in a plane of 2 by 2.
        const double height = geometry::bounds(c.across->section->outline).height(),
                     size = std::min(height / 32, c.across->half_thickness / 4) * 24;
        across =
            filled(std::make_unique<Grid>(
                       *c.across, geometry::triangulate(*c.across->section, size / cells, true)),
                   c, true);
    }
    std::vector<std::unique_ptr<Grid>> grids;
    Eigen::Index nodes = 0;
    for (std::size_t k = 0; k < c.kinds.size(); ++k) {
        const Setup& s = c.kinds[k].setup();
        check_cells(s, cells);
        grids.push_back(filled(coarse_grid(s, cells, c.pumped.has_value()), c, false));
        nodes += (s.section ? 4 : 2) * grids.back()->nodes(); // of the fine ones to come
        if (k > 0 && nodes > most_cells)
            refuse_too_many(c, k);
    }
    return std::make_unique<Track>(question, c, std::move(grids), std::move(across));
}

Meshes::Meshes(const Question& q, Coefficients coefficients, const Progress& progress)
    : question(q), c(std::move(coefficients)) {
    const auto report = [&](double done, const char* step) {
        if (progress)
            progress(done, step);
    };
    report(0.1, "search");
    coarse = coarse_track(question, c);
    report(0.4, "fine cells");
    fine = fine_track(question, c, *coarse);
}

std::size_t Meshes::parting() const {
    std::size_t k = 0;
    while (k < c.stages().size() && coarse->spans()[k].met == fine->spans()[k].met)
        ++k;
    return k;
}

bool Meshes::alike(const std::optional<double>& on_coarse,
                   const std::optional<double>& on_fine) const {
    const std::size_t k = parting();
    return k == c.stages().size() || (on_coarse.value_or(0) <= coarse->spans()[k].to &&
                                      on_fine.value_or(0) <= fine->spans()[k].to);
}

std::optional<double> Meshes::together(std::size_t kind, std::optional<double> Times::*time) const {
    const auto &on_coarse = coarse->times(kind).*time, &on_fine = fine->times(kind).*time;
    return alike(on_coarse, on_fine) ? extrapolated(on_coarse, on_fine) : on_fine;
}

std::optional<double> Meshes::cured_error(std::size_t kind) const {
    const auto &on_coarse = coarse->times(kind).cured, &on_fine = fine->times(kind).cured;
    if (!on_fine)
        return std::nullopt;
    if (*on_fine == 0)
        return 0;
    if (on_coarse && alike(on_coarse, on_fine)) {
        // Where the two happen to err alike or apart their difference says nothing, and cells are
        // not trusted below a ten-thousandth. At a corner the error may fall as the cells' size,
        // not yet as its square: then the extrapolated day is off by two thirds of the difference,
        // and by more at the edge of a shut face or under a rub. Where needles put their brine it
        // does not fall smoothly at all: of four hundred schedules drawn at random (test_audit.cpp)
        // it was up to 0.7 % where the meshes happened to agree, and up to one and a half times
        // their difference.
        const bool edges = std::ranges::any_of(
            question.stages, [](const Stage& s) { return s.dry() || !s.sealed.empty(); });
        const double least = c.pumped ? 1.2e-3 : 1e-4,
                     trust = c.pumped ? 6
                             : edges  ? 3.5
                                      : 2,
                     cells = std::max(std::abs(*on_fine - *on_coarse) / 3, least * *on_fine);
        return trust * cells + along_error(*fine, kind, *on_fine, c.nitrite) +
               fine->grid(kind).time_error() * *on_fine;
    }
    if (!alike(on_fine, on_fine) || *on_fine > coarse->end())
        return std::nullopt;
    // The coarse mesh never got there: how far it is short of it then, at the fine one's pace.
    const double level = c.kinds[kind].levels.cured, before = 0.98 * *on_fine,
                 pace = (level - fine->core(before, kind)) / (*on_fine - before);
    return pace > 0 ? std::optional((level - coarse->core(*on_fine, kind)) / pace) : std::nullopt;
}

} // namespace tidemark::cure
