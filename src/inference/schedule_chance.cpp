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

#include <Eigen/LU>

#include <algorithm>
#include <cmath>
#include <functional>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

/// Runs that are fitted, runs that try the fit, readings of each at as many lengths.
struct Effort {
    int fitted, held_out, readings;
};
constexpr Effort dense{24, 6, 6}, sparse{40, 6, 1}; ///< where one run has all lengths; where not
constexpr double shortest = 1.0 / 3, longest = 3;   ///< of the length in the middle [1]
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

/// What comes of a schedule whose free stage has a length [s].
using ByLength = std::function<Outcome(double)>;

/// A schedule kept by the calendar.
class Kept {
public:
    Kept(const cure::Outcome& result, const base::Records& library)
        : plan(result.question), library_(library), records_(library),
          setup_(cure::make_piece(plan.base, records_)),
          target_(result.has_nitrite ? result.first().target : 0) {
        for (std::size_t k = 0; k < plan.stages.size(); ++k) {
            cure::Stage& s = plan.stages[k];
            const cure::StageResult& was = result.first().stages[k];
            s.duration = std::max(was.to - was.from, 0.0);
            s.until.reset();
        }
        free = last_dosing(plan);
        own = std::max(*plan.stages[free].duration, least_length);
        around = own * (result.question.stages[free].until ? later : 1);
        from = result.first().stages[free].from;
    }

    /// One draw of it, for lengths up to `farthest` [s]. Where nothing comes after the free stage
    /// one solve serves them all.
    ByLength of(const Draw& d, double farthest) const {
        const cure::Question q = with_draw(plan, d, setup_, records_, target_);
        if (free + 1 < q.stages.size())
            return [this, q](double length) { return run(q, length); };
        const cure::RoughRun run = cure::read_rough(long_as(q, farthest), library_);
        return [this, run](double length) { return outcome(run.at(from + length), run.target); };
    }

    /// Of a schedule that differs in its doses or faces, kept to the same days.
    Outcome changed(const cure::Question& other) const {
        cure::Question q = with_draw(other, {}, setup_, records_, target_);
        for (std::size_t k = 0; k < q.stages.size(); ++k) {
            q.stages[k].duration = plan.stages[k].duration;
            q.stages[k].until.reset();
        }
        return run(q, own);
    }

    cure::Question plan;
    std::size_t free = 0;
    /// Of the free stage [s]: as it was run, to be looked around, and where it begins.
    double own = 0, around = 0, from = 0;

    const cure::Setup& setup() const { return setup_; }

private:
    cure::Question long_as(cure::Question q, double length) const {
        q.stages[free].duration = length;
        for (cure::Stage& s : q.stages)
            s.most = *s.duration; // no further than the calendar
        return q;
    }

    Outcome run(const cure::Question& q, double length) const {
        const cure::Rough r = cure::run_rough(long_as(q, length), library_);
        return outcome(r.end, r.target);
    }

    /// `target` is the draw's own.
    Outcome outcome(const cure::Reading& end, double target) const {
        constexpr double none = 1e-9;
        const double core = target_ > 0 ? end.core_arrived : end.core_salt;
        return {std::log(std::max(core / target, none)), std::log(std::max(end.mean_salt, none))};
    }

    const base::Records& library_;
    base::Records records_;
    cure::Setup setup_;
    double target_; ///< of the core, before it is drawn; 0: salt counts
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
    const Inputs& inputs;
    const Ask ask;
    const Kept kept;
    const Drawing drawing;
    const Effort effort;
    double middle = 0;   ///< length looked around [s]
    double farthest = 0; ///< length the runs were solved to [s]
    VectorXd places;     ///< of the nodes within the lengths [0, 1]
    std::vector<Draw> nodes;
    std::vector<ByLength> runs; ///< of the nodes, and at the end of no draw at all
    int solved = 0;
    Eigen::MatrixXd fit;   ///< terms against both outcomes
    Outcome own;           ///< on the coarse cells
    Eigen::Vector2d shift; ///< from there to the schedule's own run
    double error = 0;      ///< of the core, on runs not fitted
    std::vector<Draw> draws;
    Eigen::MatrixX4d cubics[2]; ///< of their outcomes in the stretch, a row each
    double low = 0, high = 0;   ///< logarithms of the band of taste

    Surface(const cure::Outcome& outcome, const base::Records& records, const Inputs& given,
            const Ask& asked)
        : result(outcome), inputs(given), ask(asked), kept(outcome, records),
          drawing(given, kept.plan.base, kept.setup(), records),
          effort(kept.free + 1 == kept.plan.stages.size() ? dense : sparse),
          nodes(sample(effort.fitted + effort.held_out, 7, &places)),
          draws(sample(ask.draws, ask.seed)) {
        base::Records set = as_set(kept.plan.base, records);
        const materials::Band taste = materials::taste_band(set);
        low = std::log(taste.low);
        high = std::log(taste.high);
        nodes.push_back({});
        lay(kept.around);
    }

    std::vector<Draw> sample(int n, std::uint64_t seed, VectorXd* beside = nullptr) const {
        const auto columns = static_cast<Index>(inputs.list().size());
        const Eigen::MatrixXd u = uniforms(n, columns + 1, seed);
        const Eigen::MatrixXd values = inputs.values(u.leftCols(columns));
        std::vector<Draw> list;
        for (Index i = 0; i < n; ++i) {
            list.push_back(drawing(values.row(i)));
            if (!in_base_brine(kept.plan)) // how its salts were measured out is nothing to it
                list.back().salt = list.back().nitrite = list.back().dose;
        }
        if (beside)
            *beside = u.col(columns);
        return list;
    }

    /// Fits it around a length of the free stage [s].
    void lay(double around) {
        middle = std::max(around, least_length);
        if (longest * middle > farthest) {
            farthest = longest * longest * middle; // room for the best day to be later
            runs.resize(nodes.size());
            base::side_by_side(nodes.size(),
                               [&](std::size_t k) { runs[k] = kept.of(nodes[k], farthest); });
            solved += static_cast<int>(nodes.size());
        }
        const int each = effort.readings, fitted = effort.fitted;
        const Index n = fitted * each;
        const auto stretch = [&](int node, int k) {
            const double place = std::fmod(places[node] + static_cast<double>(k) / each, 1.0);
            return std::log(shortest) + place * std::log(longest / shortest);
        };
        std::vector<std::vector<Outcome>> all(nodes.size() - 1);
        base::side_by_side(all.size(), [&](std::size_t i) {
            for (int k = 0; k < each; ++k)
                all[i].push_back(runs[i](middle * std::exp(stretch(static_cast<int>(i), k))));
        });

        // What counts is on which side of its level a core is: far from it less.
        const auto near = [](const Outcome& o) { return 1 / (1 + std::abs(o.core)); };
        Eigen::MatrixXd A(n, terms(coordinates(nodes[0]), 0).size()), y(n, 2);
        VectorXd weight(n);
        for (int i = 0; i < fitted; ++i)
            for (int k = 0; k < each; ++k) {
                const Outcome& o = all[i][k];
                const Index row = i * each + k;
                A.row(row) = terms(coordinates(nodes[i]), stretch(i, k));
                y.row(row) << o.core, o.salt;
                weight[row] = near(o);
            }
        fit.resize(A.cols(), 2);
        fit.col(0) = least_squares(weight.asDiagonal() * A, weight.asDiagonal() * y.col(0));
        fit.col(1) = least_squares(A, y.col(1));
        double square = 0;
        for (int i = fitted; i < fitted + effort.held_out; ++i)
            for (int k = 0; k < each; ++k)
                square += std::pow(
                    near(all[i][k]) * (at(nodes[i], stretch(i, k))[0] - all[i][k].core), 2);
        error = std::sqrt(square / (effort.held_out * each));

        // The surface knows the slopes; the schedule's own run, on finer cells, the level.
        own = runs.back()(kept.own);
        const cure::Reading& end = result.first().stages.back().end;
        const double core = result.has_nitrite ? end.core_arrived : end.core_salt;
        shift << std::log(std::max(core / result.first().target, 1e-9)) - own.core,
            std::log(std::max(end.mean_salt, 1e-9)) - own.salt;
        follow_draws();
    }

    Eigen::Vector2d at(const Draw& d, double stretch) const {
        return fit.transpose() * terms(coordinates(d), stretch);
    }

    /// Both outcomes of every draw are cubics of the stretch: read off at four.
    void follow_draws() {
        const Eigen::Vector4d s = Eigen::Vector4d::LinSpaced(-1, 1);
        Eigen::Matrix4d powers;
        powers << Eigen::Vector4d::Ones(), s, s.cwiseAbs2(), s.array().cube().matrix();
        const auto solve = powers.fullPivLu();
        for (auto& c : cubics)
            c.resize(static_cast<Index>(draws.size()), 4);
        for (std::size_t i = 0; i < draws.size(); ++i) {
            const VectorXd x = coordinates(draws[i]);
            Eigen::Matrix<double, 4, 2> seen;
            for (Index k = 0; k < 4; ++k)
                seen.row(k) = terms(x, s[k]).transpose() * fit;
            const Eigen::Matrix<double, 4, 2> c = solve.solve(seen);
            for (Index k = 0; k < 2; ++k)
                cubics[k].row(static_cast<Index>(i)) = c.col(k).transpose();
        }
    }

    /// With the last dosing stage so long [s].
    DayChance chance(double length, const Eigen::Vector2d& level) const {
        const double stretch = std::log(length / middle);
        const Eigen::Vector4d powers(1, stretch, stretch * stretch, std::pow(stretch, 3));
        const VectorXd core = (cubics[0] * powers).array() + level[0],
                       salt = (cubics[1] * powers).array() + level[1];
        std::vector<Fate> fates;
        fates.reserve(draws.size());
        const double t = kept.from + length;
        for (Index i = 0; i < core.size(); ++i)
            fates.push_back({core[i] >= -1e-6 ? t : never, salt[i] >= low - 1e-6 ? t : never,
                             salt[i] > high ? 0 : never});
        return chance_at(fates, t);
    }

    BestDay best(const Eigen::Vector2d& level) const {
        std::vector<DayChance> by_day;
        for (const double t : days_to_try(kept.from + longest * middle))
            if (t - kept.from >= shortest * middle)
                by_day.push_back(chance(t - kept.from, level));
        return best_of(by_day, ask.confidence, draws.size());
    }
};

ScheduleFit::ScheduleFit(const cure::Outcome& result, const base::Records& records,
                         const Inputs& inputs, const Ask& ask)
    : surface_(std::make_unique<Surface>(result, records, inputs, ask)) {
    chance_.as_planned = surface_->chance(surface_->kept.own, surface_->shift);
    // A best day does not hang on the days that were typed: the surface is laid around it.
    for (int anew = 0;; ++anew) {
        chance_.best = surface_->best(surface_->shift);
        const auto& best = chance_.best.best;
        const double length = best ? best->time - surface_->kept.from : surface_->middle,
                     beside = std::abs(std::log(length / surface_->middle));
        if (anew == most_anew || beside < std::log(off_centre))
            break;
        surface_->lay(length);
    }
    chance_.best = kept_cold(chance_.best, result, surface_->kept.free, records, ask.draws);
    chance_.runs = surface_->solved;
    chance_.stage = surface_->kept.free;
    chance_.error = surface_->error;
    if (!chance_.good_as_planned()) // or no other day is told
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
    const Surface s(result, library, inputs, ask);
    return s.chance(s.kept.own, s.shift);
}

BestDay ScheduleFit::near(const cure::Question& changed) const {
    const Surface& s = *surface_;
    const Outcome other = s.kept.changed(changed);
    return s.best(s.shift + Eigen::Vector2d(other.core - s.own.core, other.salt - s.own.salt));
}

ScheduleChance schedule_chance(const cure::Outcome& result, const base::Records& library,
                               const Inputs& inputs, const Ask& ask) {
    const auto day = as_day(result);
    if (!day)
        return ScheduleFit(result, library, inputs, ask).chance();
    const cure::Outcome p = cure::run(*day, library);
    const std::vector<Fate> all = fates(p, library, inputs, ask);
    const BestDay best =
        kept_cold(best_day(all, day->base.horizon, ask.confidence), result, 0, library, ask.draws);
    ScheduleChance c;
    c.best = best;
    c.as_planned = chance_at(all, result.first().stages.front().to);
    c.findings = told_later(result, 0, best, library);
    return c;
}

} // namespace tidemark::inference
