// SPDX-License-Identifier: MIT
#include "inference/schedule_chance.hpp"

#include "base/side_by_side.hpp"
#include "cure/setup.hpp"
#include "inference/case_inputs.hpp"
#include "inference/least_squares.hpp"
#include "inference/sampling.hpp"
#include "inference/similar.hpp"
#include "judge/judge.hpp"
#include "materials/targets.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr int fitted = 40, held_out = 6;          ///< runs
constexpr double shortest = 1.0 / 3, longest = 3; ///< of the length in the middle [1]
constexpr double later = 2.5;      ///< that length over the one at which a wait comes true [1]
constexpr double off_centre = 1.6; ///< a best length over the middle, or under it: looked at anew
constexpr int most_anew = 3;
constexpr double least_length = 6 * 3600; ///< [s]

constexpr Index time = 2; ///< of coordinates(): the clock

/// Terms at a stage `stretch` (logarithm) times as long: the clock goes with the time.
VectorXd terms(VectorXd x, double stretch) {
    x[time] += stretch;
    const double loss = x[0], need = x[1], t = x[time];
    VectorXd rest(20);
    rest << loss * loss, loss * need, loss * t, need * need, need * t, t * t, loss * loss * loss,
        loss * loss * t, loss * t * t, t * t * t, t * x[3], x[3] * x[3], t * x[4], t * x[5],
        stretch, stretch * t, stretch * stretch, loss * loss * need, stretch * loss, stretch * x[3];
    VectorXd all(1 + x.size() + rest.size());
    all << 1, x, rest;
    return all;
}

struct Outcome {
    double core = 0; ///< logarithm of what the core has over what it needs
    double salt = 0; ///< logarithm of the mean at the end [kg/kg]
};

/// A schedule kept by the calendar.
class Kept {
public:
    /// Looked at around `middle` [s]; 0: around the schedule's own length.
    Kept(const cure::Outcome& result, const base::Records& library, double middle)
        : plan(result.question), library_(library), records_(library),
          setup_(cure::make_piece(plan.base, records_)),
          target_(result.has_nitrite ? result.first().target : 0), level_(result.first().target) {
        for (std::size_t k = 0; k < plan.stages.size(); ++k) {
            cure::Stage& s = plan.stages[k];
            const cure::StageResult& was = result.first().stages[k];
            s.duration = std::max(was.to - was.from, 0.0);
            s.until.reset();
        }
        free = last_dosing(plan);
        own = std::max(*plan.stages[free].duration, least_length);
        length = middle > 0 ? std::max(middle, least_length)
                            : own * (result.question.stages[free].until ? later : 1);
        from = result.first().stages[free].from;
    }

    Outcome run(const Draw& d, double stretch) const { return run(plan, d, stretch); }

    /// Of a schedule that differs in its doses or faces, kept to the same days.
    Outcome changed(const cure::Question& other, double stretch) const {
        cure::Question q = other;
        for (std::size_t k = 0; k < q.stages.size(); ++k) {
            q.stages[k].duration = plan.stages[k].duration;
            q.stages[k].until.reset();
        }
        return run(q, {}, stretch);
    }

    cure::Question plan;
    std::size_t free = 0;
    double own = 0, length = 0, from = 0; ///< of the free stage [s]: as it was run, and looked at

    const cure::Setup& setup() const { return setup_; }

private:
    Outcome run(const cure::Question& question, const Draw& d, double stretch) const {
        cure::Question p = with_draw(question, d, setup_, records_, target_);
        p.stages[free].duration = length * std::exp(stretch);
        for (cure::Stage& s : p.stages)
            s.most = *s.duration; // no further than the calendar
        const cure::Rough r = cure::run_rough(p, library_);
        constexpr double none = 1e-9;
        const double core = target_ > 0 ? r.end.core_arrived : r.end.core_salt;
        return {std::log(std::max(core / level_, none)), std::log(std::max(r.end.mean_salt, none))};
    }

    const base::Records& library_;
    base::Records records_;
    cure::Setup setup_;
    double target_, level_;
};

judge::Findings told_later(const cure::Outcome& o, std::size_t stage, const BestDay& best,
                           const base::Records& library) {
    return best.best ? of_waiting(o, stage, best.best->time, library) : judge::Findings();
}

} // namespace

std::size_t last_dosing(const cure::Question& question) {
    std::size_t last = 0;
    for (std::size_t k = 0; k < question.stages.size(); ++k)
        if (question.stages[k].doses())
            last = k;
    return last;
}

std::optional<cure::Question> as_day(const cure::Outcome& result) {
    const cure::Question& plan = result.question;
    const cure::Stage& s = plan.stages.front();
    if (plan.stages.size() > 1 || plan.pump || s.kind != cure::Stage::Kind::cover || s.brine ||
        s.temperature || s.log || !s.sealed.empty())
        return {};
    cure::Case alone = plan.base;
    alone.horizon = std::max(alone.horizon, result.first().stages.front().to);
    return cure::in_brine(alone);
}

struct ScheduleFit::Surface {
    const cure::Outcome& result;
    const base::Records& library;
    const Ask ask;
    const Kept kept;
    Eigen::MatrixXd fit;   ///< terms against both outcomes
    Outcome own;           ///< on the coarse cells
    Eigen::Vector2d shift; ///< from there to the schedule's own run
    double error = 0;      ///< of the core, on runs not fitted
    std::vector<Draw> draws;
    double low = 0, high = 0; ///< logarithms of the band of taste

    Surface(const cure::Outcome& outcome, const base::Records& records, const Inputs& inputs,
            const Ask& asked, double middle)
        : result(outcome), library(records), ask(asked), kept(outcome, records, middle) {
        const Drawing drawing(inputs, kept.plan.base, kept.setup(), library);
        const auto columns = static_cast<Index>(inputs.list().size());
        const bool measured = in_base_brine(kept.plan);
        std::vector<double> stretches;
        const auto sample = [&](int n, std::uint64_t seed, bool stretched) {
            std::vector<Draw> list;
            const Eigen::MatrixXd u = uniforms(n, columns + 1, seed);
            const Eigen::MatrixXd values = inputs.values(u.leftCols(columns));
            for (Index i = 0; i < n; ++i) {
                list.push_back(drawing(values.row(i)));
                if (!measured) // how its salts were measured out is then nothing to it
                    list.back().salt = list.back().nitrite = list.back().dose;
                if (stretched)
                    stretches.push_back(std::log(shortest) +
                                        u(i, columns) * std::log(longest / shortest));
            }
            return list;
        };
        std::vector<Draw> nodes = sample(fitted + held_out, 7, true);
        nodes.push_back({});
        stretches.push_back(std::log(kept.own / kept.length));
        std::vector<Outcome> all(nodes.size());
        base::side_by_side(nodes.size(),
                           [&](std::size_t k) { all[k] = kept.run(nodes[k], stretches[k]); });

        // What counts is on which side of its level a core is: far from it less.
        const auto near = [&](int i) { return 1 / (1 + std::abs(all[i].core)); };
        Eigen::MatrixXd A(fitted, terms(coordinates(nodes[0]), 0).size()), y(fitted, 2);
        VectorXd weight(fitted);
        for (int i = 0; i < fitted; ++i) {
            A.row(i) = terms(coordinates(nodes[i]), stretches[i]);
            y.row(i) << all[i].core, all[i].salt;
            weight[i] = near(i);
        }
        fit.resize(A.cols(), 2);
        fit.col(0) = least_squares(weight.asDiagonal() * A, weight.asDiagonal() * y.col(0));
        fit.col(1) = least_squares(A, y.col(1));
        double square = 0;
        for (int i = fitted; i < fitted + held_out; ++i)
            square += std::pow(near(i) * (at(nodes[i], stretches[i])[0] - all[i].core), 2);
        error = std::sqrt(square / held_out);

        // The surface knows the slopes; the schedule's own run, on finer cells, the level.
        own = all.back();
        const cure::Reading& end = result.first().stages.back().end;
        const double core = result.has_nitrite ? end.core_arrived : end.core_salt;
        shift << std::log(std::max(core / result.first().target, 1e-9)) - own.core,
            std::log(std::max(end.mean_salt, 1e-9)) - own.salt;
        base::Records set = as_set(kept.plan.base, library);
        const materials::Band taste = materials::taste_band(set);
        low = std::log(taste.low);
        high = std::log(taste.high);
        draws = sample(ask.draws, ask.seed, false);
    }

    Eigen::Vector2d at(const Draw& d, double stretch) const {
        return fit.transpose() * terms(coordinates(d), stretch);
    }

    /// With the last dosing stage so long [s].
    DayChance chance(double length, const Eigen::Vector2d& level) const {
        const double stretch = std::log(length / kept.length);
        std::vector<Fate> fates;
        const double t = kept.from + length;
        for (const Draw& d : draws) {
            const Eigen::Vector2d v = at(d, stretch) + level;
            fates.push_back({v[0] >= -1e-6 ? t : never, v[1] >= low - 1e-6 ? t : never,
                             v[1] > high ? 0 : never});
        }
        return chance_at(fates, t);
    }

    BestDay best(const Eigen::Vector2d& level) const {
        std::vector<DayChance> by_day;
        for (const double t : days_to_try(kept.from + longest * kept.length))
            if (t - kept.from >= shortest * kept.length)
                by_day.push_back(chance(t - kept.from, level));
        return best_of(by_day, ask.confidence, draws.size());
    }
};

ScheduleFit::ScheduleFit(const cure::Outcome& result, const base::Records& records,
                         const Inputs& inputs, const Ask& ask)
    : surface_(std::make_unique<Surface>(result, records, inputs, ask, 0)) {
    chance_.as_planned = surface_->chance(surface_->kept.own, surface_->shift);
    // A best day does not hang on the days that were typed: the surface is laid around it.
    for (int anew = 0;; ++anew) {
        chance_.runs += fitted + held_out + 1;
        chance_.best = surface_->best(surface_->shift);
        const auto& best = chance_.best.best;
        const double length = best ? best->time - surface_->kept.from : surface_->kept.length,
                     beside = std::abs(std::log(length / surface_->kept.length));
        if (anew == most_anew || beside < std::log(off_centre))
            break;
        surface_ = std::make_unique<Surface>(result, records, inputs, ask, length);
    }
    chance_.stage = surface_->kept.free;
    chance_.error = surface_->error;
    if (chance_.as_planned.right < ask.confidence) // or no other day is told
        chance_.findings = told_later(result, chance_.stage, chance_.best, records);
}

ScheduleFit::~ScheduleFit() = default;

DayChance chance_as_planned(const cure::Outcome& result, const base::Records& library,
                            const Inputs& inputs, const Ask& ask) {
    if (as_day(result))
        return schedule_chance(result, library, inputs, ask).as_planned;
    return ScheduleFit::as_planned(result, library, inputs, ask);
}

DayChance ScheduleFit::as_planned(const cure::Outcome& result, const base::Records& library,
                                  const Inputs& inputs, const Ask& ask) {
    const Surface s(result, library, inputs, ask, 0);
    return s.chance(s.kept.own, s.shift);
}

BestDay ScheduleFit::near(const cure::Question& changed) const {
    const Surface& s = *surface_;
    const Outcome other = s.kept.changed(changed, std::log(s.kept.own / s.kept.length));
    return s.best(s.shift + Eigen::Vector2d(other.core - s.own.core, other.salt - s.own.salt));
}

ScheduleChance schedule_chance(const cure::Outcome& result, const base::Records& library,
                               const Inputs& inputs, const Ask& ask) {
    const auto day = as_day(result);
    if (!day)
        return ScheduleFit(result, library, inputs, ask).chance();
    const cure::Outcome p = cure::run(*day, library);
    const std::vector<Fate> all = fates(p, library, inputs, ask);
    const BestDay best = best_day(all, day->base.horizon, ask.confidence);
    ScheduleChance c;
    c.best = best;
    c.as_planned = chance_at(all, result.first().stages.front().to);
    c.findings = told_later(result, 0, best, library);
    return c;
}

} // namespace tidemark::inference
