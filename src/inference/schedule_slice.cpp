// SPDX-License-Identifier: MIT
#include "inference/schedule_slice.hpp"

#include "base/error.hpp"
#include "base/side_by_side.hpp"
#include "cure/two_meshes.hpp"
#include "inference/least_squares.hpp"
#include "inference/schedule_range.hpp"
#include "inference/similar.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

/// Over the thickness of a section, a ring being read to millimetres; of the one run that tells how
/// far so few are off; and of a line, where they cost nothing.
constexpr double cells = 10, fine_cells = 30, line_cells = 48;
constexpr int times = 10; ///< from the slice to the horizon, at even ratios
/// Of what pink needs [1]: far below it all is alike.
constexpr double floor_level = 0.1;

/// Cubic in the logarithms of loss and clock, that bend the levels; quadratic in what is brought.
VectorXd terms(const Draw& d) {
    const double l = std::log(d.loss), k = std::log(clock(true, d)),
                 ratio = std::log(d.salt_speed / d.nitrite_speed), p = std::log(d.partition),
                 n = std::log(d.nitrite * d.dose), s = std::log(d.salt * d.dose);
    VectorXd t(20);
    t << 1, l, k, l * l, l * k, k * k, l * l * l, l * l * k, l * k * k, k * k * k, n, p, ratio, s,
        n * n, n * k, n * l, p * k, ratio * k, s * k;
    return t;
}

/// What one run shows, all as logarithms.
struct Shown {
    VectorXd profile, least, mean_salt; ///< at the slice; over the times
    double core_salt = 0, slice_salt = 0;
    std::array<double, 2> brine{}; ///< salt, nitrite [kg per kg brine]
    VectorXd all() const {
        VectorXd v(profile.size() + least.size() + mean_salt.size() + 4);
        v << profile, least, mean_salt, core_salt, brine[0], brine[1], slice_salt;
        return v;
    }
};

double logged(double value) {
    return std::log(std::max(value, 0.0) + floor_level);
}
double log_of(double value) {
    return std::log(std::max(value, 1e-7));
}

class ScheduleFields : public Fields {
public:
    double from = 0, to = 0; ///< [s]
    Index spots = 0;
    Eigen::MatrixXd fit;  ///< term x value
    double thickness = 0; ///< [m]
    bool bathed = false;  ///< by a brine, when it was cut

    Levels at(const Draw& d, double) const override {
        const VectorXd v = fit.transpose() * terms(d);
        const double need = logged(d.threshold);
        Levels levels{v.head(spots).array() - need, v[spots] - need, {}};
        const Index behind = spots + 2 * times;
        levels.found = {thickness * d.size,      d.temperature,       std::exp(v[behind + 1]),
                        std::exp(v[behind + 2]), std::exp(v[behind]), d.ph,
                        std::exp(v[behind + 3])};
        if (!bathed)
            for (const Look look : {Look::brine_salt, Look::brine_nitrite})
                levels.found[static_cast<std::size_t>(look)].reset();
        return levels;
    }
    double least(const Draw& d, double time) const override {
        return value(d, spots, time) - logged(d.threshold);
    }
    double mean_salt(const Draw& d, double time) const override {
        return std::exp(value(d, spots + times, time));
    }
    double first(const Draw&) const override { return from; }

private:
    double value(const Draw& d, Index column, double time) const {
        const double k =
            std::clamp(std::log(time / from) / std::log(to / from), 0.0, 1.0) * (times - 1);
        const Index whole = std::min<Index>(static_cast<Index>(k), times - 2);
        const double part = k - static_cast<double>(whole);
        const VectorXd t = terms(d);
        return (1 - part) * fit.col(column + whole).dot(t) +
               part * fit.col(column + whole + 1).dot(t);
    }
};

/// The schedule with one draw's numbers in it; a dry cure holds the nitrite of the draw.
cure::Question drawn(const cure::Question& question, const Draw& d, const cure::Setup& setup,
                     const base::Records& records, double cells_across) {
    cure::Question q = with_draw(question, d, setup, records, 0);
    for (cure::Stage& s : q.stages) {
        s.nitrite *= d.nitrite;
        if (s.brine && s.brine->salt)
            *s.brine->salt *= std::min(1.0, d.salt);
        if (s.brine && s.brine->nitrite)
            *s.brine->nitrite *= d.nitrite;
        s.most = *s.duration; // no further than the calendar
    }
    q.base.cells = cells_across;
    return q;
}

} // namespace

double slice_horizon(double time) {
    constexpr double at_least = 30 * 86400.0;
    return std::max(3.2 * time, time + at_least);
}

cure::Question until_slice(const cure::Outcome& o, double time) {
    cure::Question q = o.question;
    const auto& went = o.first().stages;
    for (std::size_t k = 0; k < q.stages.size(); ++k) {
        q.stages[k].until.reset();
        q.stages[k].duration = std::max(went[k].to - went[k].from, 0.0);
        if (went[k].to >= time || k + 1 == q.stages.size()) {
            q.stages.resize(k + 1);
            q.stages[k].duration = slice_horizon(time) - went[k].from;
        }
    }
    return q;
}

ScheduleSlices schedule_slices(const cure::Question& question, const base::Records& library,
                               const std::vector<Draw>& draws, double time, int runs) {
    base::Records records = library;
    const cure::Setup setup = cure::make_piece(question.base, records);
    auto fields = std::make_shared<ScheduleFields>();
    fields->from = time;
    fields->to = slice_horizon(time);
    fields->thickness = 2 * setup.half_thickness;
    fields->bathed = question.stages.back().kind == cure::Stage::Kind::cover;

    std::optional<SliceLines> lines;
    double need = 0, core_x = 0; // of pink, in the middle [kg per kg water]; [m]
    const double usual = setup.section ? cells : line_cells;
    const auto run = [&](const Draw& d, double across) {
        const cure::Question q = drawn(question, d, setup, records, across);
        base::Records own = library;
        const cure::Coefficients c = cure::coefficients(q, own);
        const auto track = cure::coarse_track(q, c);
        const cure::Grid& grid = track->grid();
        if (!lines) { // the first run, in the middle
            if (!c.nitrite)
                throw base::InputError("--stage", "",
                                       "a slice tells by its colour, and this cure has no nitrite",
                                       "add nitrite or premix, or leave the slice out");
            core_x = track->core_at(time, 0).x();
            lines.emplace(grid, setup.power > 0, core_x);
            need = c.kinds.front().levels.cured;
        }
        const cure::Tissue& lean = setup.tissues.at("lean");
        Shown s;
        const auto profile = [&](const SliceLines& on) -> VectorXd {
            return on.at_spots(track->cure(grid, time)).unaryExpr([&](double level) {
                return logged(level / need);
            });
        };
        s.profile = profile(across == usual ? *lines : SliceLines(grid, setup.power > 0, core_x));
        s.least.resize(times);
        s.mean_salt.resize(times);
        for (int k = 0; k < times; ++k) {
            const double t =
                std::min(time * std::pow(fields->to / time, k / (times - 1.0)), track->end());
            s.least[k] = logged(track->core(t, 0) / need);
            s.mean_salt[k] = log_of(lean.salt_share(grid.mean_salt(t)));
        }
        s.core_salt = log_of(track->at(time, 0).core_salt);
        s.slice_salt =
            log_of(lean.salt_share(grid.salt(time).dot(grid.lean_water) / grid.lean_water.sum()));
        if (fields->bathed) {
            const double salt = grid.salt_chain.bath(time), nitrite = grid.nitrite_chain.bath(time);
            s.brine = {log_of(salt / (1 + salt + nitrite)), log_of(nitrite / (1 + salt + nitrite))};
        }
        return s.all();
    };
    const VectorXd middle = run({}, usual);
    fields->spots = lines->count();
    const int held_out = runs / 8;
    const auto all = static_cast<std::size_t>(runs) + static_cast<std::size_t>(held_out);
    std::vector<Draw> chosen;
    for (std::size_t k = 0; k < all; ++k)
        chosen.push_back(draws[(2 * k + 1) * draws.size() / (2 * all)]);
    std::vector<VectorXd> shown(all);
    base::side_by_side(all, [&](std::size_t k) { shown[k] = run(chosen[k], usual); });

    // Those held out lie among the others.
    const auto held = [&](std::size_t k) { return k % 9 == 4; };
    Eigen::MatrixXd A(runs + 1, terms({}).size()), y(runs + 1, middle.size());
    A.row(0) = terms({});
    y.row(0) = middle;
    Index row = 1;
    for (std::size_t k = 0; k < all; ++k)
        if (!held(k)) {
            A.row(row) = terms(chosen[k]);
            y.row(row++) = shown[k];
        }
    fields->fit = least_squares(A, y);

    ScheduleSlices slices{*lines, fields, setup.half_thickness, 0};
    double square = 0;
    for (std::size_t k = 0; k < all; ++k)
        if (held(k)) {
            const VectorXd direct =
                shown[k].head(fields->spots).array() - logged(chosen[k].threshold);
            const Slice own = lines->read(direct, chosen[k].size),
                        fitted = lines->read(fields->at(chosen[k], time).profile, chosen[k].size);
            square +=
                std::pow(*own.top - *fitted.top, 2) + std::pow(*own.bottom - *fitted.bottom, 2);
        }
    slices.error = std::sqrt(square / (2 * held_out));
    if (setup.section) // so few cells are late by days in a thick piece, and alike in every draw
        if (const VectorXd fine = run({}, fine_cells); fine.size() == middle.size())
            fields->fit.row(0) += (fine - middle).transpose();
    return slices;
}

} // namespace tidemark::inference
