// SPDX-License-Identifier: MIT
#include "inference/ranges.hpp"

#include "base/side_by_side.hpp"
#include "base/text.hpp"
#include "cure/two_meshes.hpp"
#include "inference/case_inputs.hpp"
#include "inference/forward.hpp"
#include "inference/mistakes.hpp"
#include "inference/sampling.hpp"
#include "inference/sensitivity.hpp"
#include "judge/judge.hpp"
#include "materials/limits.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <iterator>

namespace tidemark::inference {
namespace {

constexpr double early = 0.05, late = 0.95;
constexpr Eigen::Index share_draws = 1024; ///< the shares then are good to a few hundredths

/// Work that takes microseconds each, in parts side by side.
void in_parts(std::size_t n, const std::function<void(std::size_t)>& work) {
    constexpr std::size_t part = 256;
    base::side_by_side((n + part - 1) / part, [&](std::size_t k) {
        for (std::size_t i = part * k; i < std::min(n, part * (k + 1)); ++i)
            work(i);
    });
}

std::vector<Days> days_of(const Forward& forward, const std::vector<Draw>& draws) {
    std::vector<Days> days(draws.size());
    in_parts(draws.size(), [&](std::size_t i) { days[i] = forward(draws[i]); });
    return days;
}

std::vector<Draw> drawn(const Drawing& drawing, const Eigen::MatrixXd& values) {
    std::vector<Draw> draws(static_cast<std::size_t>(values.rows()));
    in_parts(draws.size(),
             [&](std::size_t i) { draws[i] = drawing(values.row(static_cast<Eigen::Index>(i))); });
    return draws;
}

DayRange range(const std::vector<Days>& all, double Days::*member) {
    std::vector<double> times;
    for (const Days& days : all) {
        times.push_back(days.*member);
    }
    const double count = static_cast<double>(times.size());
    const double missing = static_cast<double>(std::ranges::count(times, never));
    return {quantile(times, early), quantile(times, 0.5), quantile(times, late), missing / count};
}

std::vector<Fate> fates_of(const std::vector<Days>& all) {
    std::vector<Fate> list;
    for (const Days& d : all) {
        list.push_back({d.pull, d.salted, d.last_good});
    }
    return list;
}

std::vector<Draw> sampled(const Drawing& drawing, const Inputs& inputs, const Ask& ask) {
    const auto columns = static_cast<Eigen::Index>(inputs.list().size());
    return drawn(
        drawing,
        inputs.values(
            uniforms(ask.draws, std::max<Eigen::Index>(1, columns), ask.seed).leftCols(columns)));
}

/// Draws of the answer, and those that share out its spread. One surface serves both wherever
/// either is asked for, so that two questions alike find the same.
struct Pieces {
    std::vector<Draw> sample, frozen, thick;
    Forward forward;

    Pieces(const cure::Outcome& p, const base::Records& records, const Inputs& inputs,
           const Ask& ask)
        : Pieces(p, records, inputs, ask,
                 Drawing(inputs, p.question.base, p.solved->setup(), records)) {}

private:
    Pieces(const cure::Outcome& p, const base::Records& records, const Inputs& inputs,
           const Ask& ask, const Drawing& drawing)
        : sample(sampled(drawing, inputs, ask)),
          frozen(drawn(drawing, inputs.values(pick_freeze(share_draws, inputs.group_of_columns(),
                                                          ask.seed)))),
          thick(thicker({sample.begin(), sample.begin() + thick_draws(ask)}, records)),
          forward(p, records, all_of()) {}
    static int thick_draws(const Ask& ask) { return std::min<int>(ask.draws, share_draws); }
    std::vector<Draw> all_of() const {
        std::vector<Draw> all = sample;
        all.insert(all.end(), frozen.begin(), frozen.end());
        all.insert(all.end(), thick.begin(), thick.end());
        return all;
    }
};

/// The brine at its weak end for salt and at its strong end for nitrite, where the law looks.
void brine_ends(Ranges& r, const cure::Outcome& p, const std::vector<Draw>& draws,
                base::Records records) {
    const cure::Pickle& k = p.solved->setup().pickle;
    std::vector<double> salt, nitrite;
    for (const Draw& d : draws) {
        salt.push_back(d.salt);
        nitrite.push_back(d.nitrite);
    }
    const double weak = k.salt / k.water * quantile(salt, early);
    r.brine_salt_low = weak / (weak + (1 - k.salt) / k.water);
    if (p.ingoing.whole_system) {
        r.ingoing_high = *p.ingoing.whole_system * quantile(nitrite, late);
        const double limit = p.ingoing.limit.value_or(never);
        if (*r.ingoing_high > limit && *p.ingoing.whole_system <= limit) {
            r.findings.tell("measured-high",
                            "as it was measured out the brine may bring " +
                                base::significant(1e6 * *r.ingoing_high, 3) +
                                " ppm of ingoing nitrite, above the limit: weigh the premix");
        }
        const double least =
                         p.question.base.product == "cured"
                             ? materials::least_nitrite(records, p.question.base.law).value_or(0)
                             : 0,
                     low = *p.ingoing.whole_system * quantile(nitrite, early);
        if (low < least && *p.ingoing.whole_system >= least) {
            r.findings.tell("measured-low", "as it was measured out the brine may bring only " +
                                                base::significant(1e6 * low, 3) +
                                                " ppm of ingoing nitrite, below the " +
                                                base::significant(1e6 * least, 3) +
                                                " ppm that the " + p.question.base.law +
                                                " code asks of cured meat");
        }
    }
}

void share_out(Ranges& r, const Inputs& inputs, const Forward& forward,
               const std::vector<Draw>& draws, double horizon) {
    Eigen::VectorXd logs(static_cast<Eigen::Index>(draws.size()));
    in_parts(draws.size(), [&](std::size_t i) {
        logs[static_cast<Eigen::Index>(i)] = std::log(std::min(horizon, forward.pull(draws[i])));
    });
    const std::vector<Index> indices = sobol_indices(logs, share_draws);
    const std::vector<std::string> groups = inputs.groups();
    for (std::size_t g = 0; g < groups.size(); ++g) {
        const Plain words = plain(groups[g]);
        r.shares.push_back(
            {groups[g], words.name, words.remedy, words.owner, indices[g].first, indices[g].total});
    }
    std::ranges::stable_sort(r.shares, std::greater<>{}, &SpreadShare::total);
}

/// Solves the draws that stand for the ends and the middle of the pull day.
double checked(const Forward& forward, const std::vector<Draw>& draws, const std::vector<Days>& all,
               const DayRange& pull) {
    const std::array wanted{pull.early, pull.half, pull.late};
    std::array<double, wanted.size()> errors{};
    base::side_by_side(wanted.size(), [&](std::size_t k) {
        if (wanted[k] < never) {
            const auto nearest = std::ranges::min_element(
                all, {}, [&](const Days& days) { return std::abs(days.pull - wanted[k]); });
            errors[k] = forward.error(draws[nearest - all.begin()]);
        }
    });
    return std::ranges::max(errors);
}

} // namespace

double quantile(std::vector<double> values, double q) {
    // Type 1: a value that was there, so that infinity needs no arithmetic.
    const auto rank =
        static_cast<std::ptrdiff_t>(std::ceil(q * static_cast<double>(values.size()) - 1e-9)) - 1;
    const auto at = values.begin() + std::max<std::ptrdiff_t>(0, rank);
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

judge::Findings of_waiting(const cure::Outcome& o, std::size_t stage, double time,
                           const base::Records& records) {
    const std::vector<cure::StageResult>& stages = o.first().stages;
    if (time <= stages[stage].to) {
        return {};
    }
    std::vector<judge::Period> periods;
    for (const cure::StageResult& s : stages) {
        periods.push_back(
            {s.stage.open() ? "cooler" : s.stage.where, s.temperature, s.to - s.from});
    }
    periods[stage].lasts = time - stages[stage].from;
    double least = never; // salt over salt and water at a core, as far as it was followed
    const cure::Track& fine = *o.solved->fine;
    for (std::size_t k = 0; k < o.pieces.size(); ++k) {
        const std::size_t kind = o.solved->c.of[k];
        least = std::min(least, stages.back().stage.open()
                                    ? fine.at(std::min(time, fine.end()), kind).core_water_salt
                                    : o.pieces[k].stages.back().end.core_water_salt);
    }
    base::Records own = as_set(o.question.base, records);
    return judge::judge_time(periods, o.has_nitrite, least, own);
}

BestDay kept_cold(const BestDay& all, const cure::Outcome& o, std::size_t stage,
                  const base::Records& records, int draws, std::optional<double> least) {
    const auto safe = [&](const DayChance& d) {
        return !of_waiting(o, stage, d.time, records).has("long-cure");
    };
    if (all.by_day.empty() || safe(all.by_day.back()))
        return all;
    const auto end = std::partition_point(all.by_day.begin(), all.by_day.end(), safe);
    BestDay kept =
        best_of({all.by_day.begin(), end}, all.confidence, static_cast<std::size_t>(draws));
    if (!kept.best || kept.best->right < least.value_or(all.confidence))
        return all;
    kept.as_set = all.as_set;
    kept.by_day = all.by_day;
    return kept;
}

std::vector<Fate> fates(const cure::Outcome& p, const base::Records& records, const Inputs& inputs,
                        const Ask& ask) {
    const Pieces pieces(p, records, inputs, ask);
    return fates_of(days_of(pieces.forward, pieces.sample));
}

Ranges ranges(const cure::Outcome& p, const base::Records& records, const Ask& ask) {
    return ranges(p, records, case_inputs(p.question.base, p.solved->setup(), records), ask);
}

Ranges ranges(const cure::Outcome& p, const base::Records& records, const Inputs& inputs,
              const Ask& ask) {
    Ranges r;
    r.draws = ask.draws;
    const Pieces pieces(p, records, inputs, ask);
    const auto& [sample, frozen, thick, forward] = pieces;
    const std::vector<Days> days = days_of(forward, sample);
    r.pull = range(days, &Days::pull);
    r.lasting = range(days, &Days::lasting);
    r.salted = range(days, &Days::salted);
    r.last_good = range(days, &Days::last_good);
    const double horizon = std::max(p.question.base.horizon, p.question.base.at.value_or(0));
    const std::vector<Fate> fates = fates_of(days);
    r.best = kept_cold(best_day(fates, horizon, ask.confidence), p, 0, records, ask.draws);
    if (const auto at = p.question.base.at)
        r.asked = chance_at(fates, *at);
    r.error = checked(forward, sample, days, r.pull);
    share_out(r, inputs, forward, frozen, horizon);
    brine_ends(r, p, sample, records);
    std::vector<double> cured(thick.size()), cured_thick(thick.size());
    in_parts(thick.size(), [&, &many = thick, &of = forward](std::size_t i) {
        cured[i] = days[i].pull;
        cured_thick[i] = of.pull(many[i]);
    });
    r.mistakes =
        mistakes(p, records, cured, cured_thick, r.best.best ? r.best.best->time : horizon);
    if (r.best.best) { // the day that is advised
        r.findings.add(of_waiting(p, 0, r.best.best->time, records));
    }
    const base::Records now = as_set(p.question.base, records);
    for (const char* key : {"uncertainty.thickness", "uncertainty.cooler", "uncertainty.weighed"}) {
        r.parameters.push_back(*now.find(key));
    }
    return r;
}

} // namespace tidemark::inference
