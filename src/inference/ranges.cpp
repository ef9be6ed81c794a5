// SPDX-License-Identifier: MIT
#include "inference/ranges.hpp"

#include "base/side_by_side.hpp"
#include "base/text.hpp"
#include "cure/two_meshes.hpp"
#include "inference/draws.hpp"
#include "inference/forward.hpp"
#include "inference/mistakes.hpp"
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

std::vector<Days> days_of(const Forward& forward, const std::vector<Draw>& draws) {
    std::vector<Days> days(draws.size());
    in_parts(draws.size(), [&](std::size_t i) { days[i] = forward(draws[i]); });
    return days;
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

/// One surface serves all draws wherever any are asked for, so that two questions alike find the
/// same.
Forward forward_of(const cure::Outcome& p, const base::Records& records, const Draws& draws) {
    std::vector<Draw> all = draws.sample;
    all.insert(all.end(), draws.frozen.begin(), draws.frozen.end());
    all.insert(all.end(), draws.thick.begin(), draws.thick.end());
    return Forward(p, records, all);
}

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
    const std::vector<Index> indices = sobol_indices(logs, Draws::shares);
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

namespace {

/// `own` are the records as the question sets them.
judge::Findings waiting(const cure::Outcome& o, std::size_t stage, double time,
                        base::Records& own) {
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
                                    ? fine.core_water_salt(std::min(time, fine.end()), kind)
                                    : o.pieces[k].stages.back().end.core_water_salt);
    }
    return judge::judge_time(periods, o.has_nitrite, least, own);
}

} // namespace

judge::Findings of_waiting(const cure::Outcome& o, std::size_t stage, double time,
                           const base::Records& records) {
    base::Records own = as_set(o.question.base, records);
    return waiting(o, stage, time, own);
}

BestDay kept_cold(const BestDay& all, const cure::Outcome& o, std::size_t stage,
                  const base::Records& records, int draws, std::optional<double> least) {
    base::Records own = as_set(o.question.base, records);
    const auto safe = [&](const DayChance& d) {
        return !waiting(o, stage, d.time, own).has("long-cure");
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
    const Draws draws = draws_of(p.question.base, p.solved->setup(), records, inputs, ask);
    return fates_of(days_of(forward_of(p, records, draws), draws.sample));
}

Ranges ranges(const cure::Outcome& p, const base::Records& records, const Ask& ask) {
    return ranges(p, records, case_inputs(p.question.base, p.solved->setup(), records), ask);
}

Ranges ranges(const cure::Outcome& p, const base::Records& records, const Inputs& inputs,
              const Ask& ask) {
    return ranges(p, records, inputs, ask,
                  draws_of(p.question.base, p.solved->setup(), records, inputs, ask));
}

Ranges ranges(const cure::Outcome& p, const base::Records& records, const Inputs& inputs,
              const Ask& ask, const Draws& draws) {
    Ranges r;
    r.draws = ask.draws;
    auto slower = base::beside([&] { return slower_by_a_shut_face(p, records); });
    const Forward forward = forward_of(p, records, draws);
    const std::vector<Days> days = days_of(forward, draws.sample);
    r.pull = range(days, &Days::pull);
    r.lasting = range(days, &Days::lasting);
    r.salted = range(days, &Days::salted);
    r.last_good = range(days, &Days::last_good);
    const double horizon = std::max(p.question.base.horizon, p.question.base.at.value_or(0));
    const std::vector<Fate> fates = fates_of(days);
    r.best = kept_cold(best_day(fates, horizon, ask.confidence), p, 0, records, ask.draws);
    if (const auto at = p.question.base.at)
        r.asked = chance_at(fates, *at);
    r.error = checked(forward, draws.sample, days, r.pull);
    share_out(r, inputs, forward, draws.frozen, horizon);
    brine_ends(r, p, draws.sample, records);
    std::vector<double> cured(draws.thick.size()), cured_thick(draws.thick.size());
    in_parts(cured.size(), [&](std::size_t i) {
        cured[i] = days[i].pull;
        cured_thick[i] = forward.pull(draws.thick[i]);
    });
    r.mistakes = mistakes(p, records, cured, cured_thick, slower.get(),
                          r.best.best ? r.best.best->time : horizon);
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
