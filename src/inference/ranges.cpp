// SPDX-License-Identifier: MIT
#include "inference/ranges.hpp"

#include "base/text.hpp"
#include "cure/solved.hpp"
#include "inference/case_inputs.hpp"
#include "inference/forward.hpp"
#include "inference/sampling.hpp"
#include "inference/sensitivity.hpp"
#include "judge/judge.hpp"
#include "materials/limits.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::inference {
namespace {

constexpr double early = 0.05, late = 0.95;
constexpr Eigen::Index share_draws = 1024; ///< the shares then are good to a few hundredths

std::vector<Draw> drawn(const Drawing& drawing, const Eigen::MatrixXd& values) {
    std::vector<Draw> draws;
    for (Eigen::Index i = 0; i < values.rows(); ++i) {
        draws.push_back(drawing(values.row(i)));
    }
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

double chance(const std::vector<Days>& all, const std::function<bool(const Days&)>& good) {
    return static_cast<double>(std::ranges::count_if(all, good)) / static_cast<double>(all.size());
}

/// The brine at its weak end for salt and at its strong end for nitrite, where the law looks.
void brine_ends(Ranges& r, const cure::Prediction& p, const std::vector<Draw>& draws,
                base::Records records) {
    const cure::Pickle& k = p.solved->setup.pickle;
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
            r.findings.warn("measured-high",
                            "as it was measured out the brine may bring " +
                                base::significant(1e6 * *r.ingoing_high, 3) +
                                " ppm of ingoing nitrite, above the limit: weigh the premix");
        }
        const double least = materials::least_nitrite(records, p.question.law).value_or(0),
                     low = *p.ingoing.whole_system * quantile(nitrite, early);
        if (low < least && *p.ingoing.whole_system >= least) {
            r.findings.warn("measured-low", "as it was measured out the brine may bring only " +
                                                base::significant(1e6 * low, 3) +
                                                " ppm of ingoing nitrite, below the " +
                                                base::significant(1e6 * least, 3) +
                                                " ppm that the " + p.question.law +
                                                " code asks of cured meat");
        }
    }
}

void share_out(Ranges& r, const Inputs& inputs, const Forward& forward,
               const std::vector<Draw>& draws, double horizon) {
    Eigen::VectorXd logs(static_cast<Eigen::Index>(draws.size()));
    for (std::size_t i = 0; i < draws.size(); ++i) {
        logs[static_cast<Eigen::Index>(i)] = std::log(std::min(horizon, forward.pull(draws[i])));
    }
    const std::vector<Index> indices = sobol_indices(logs, share_draws);
    const std::vector<std::string> groups = inputs.groups();
    for (std::size_t g = 0; g < groups.size(); ++g) {
        const Plain words = plain(groups[g]);
        r.shares.push_back(
            {groups[g], words.name, words.remedy, indices[g].first, indices[g].total});
    }
    std::ranges::stable_sort(r.shares, std::greater<>{}, &SpreadShare::total);
}

/// Solves the draws that stand for the ends and the middle of the pull day.
double checked(const Forward& forward, const std::vector<Draw>& draws, const std::vector<Days>& all,
               const DayRange& pull) {
    double worst = 0;
    for (const double wanted : {pull.early, pull.half, pull.late}) {
        if (wanted < never) {
            const auto nearest = std::ranges::min_element(
                all, {}, [&](const Days& days) { return std::abs(days.pull - wanted); });
            worst = std::max(worst, forward.error(draws[nearest - all.begin()]));
        }
    }
    return worst;
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

Ranges ranges(const cure::Prediction& p, const base::Records& records, int draws,
              std::uint64_t seed) {
    return ranges(p, records, case_inputs(p.question, p.solved->setup, records), draws, seed);
}

Ranges ranges(const cure::Prediction& p, const base::Records& records, const Inputs& inputs,
              int draws, std::uint64_t seed) {
    Ranges r;
    r.draws = draws;
    const Drawing drawing(inputs, p.question, p.solved->setup, records);
    const auto columns = static_cast<Eigen::Index>(inputs.list().size());
    const std::vector<Draw> sample = drawn(
        drawing,
        inputs.values(uniforms(draws, std::max<Eigen::Index>(1, columns), seed).leftCols(columns)));
    const std::vector<Draw> frozen =
        drawn(drawing, inputs.values(pick_freeze(share_draws, inputs.group_of_columns(), seed)));
    std::vector<Draw> all = sample;
    all.insert(all.end(), frozen.begin(), frozen.end());
    const Forward forward(p, records, all);

    std::vector<Days> days;
    for (const Draw& d : sample) {
        days.push_back(forward(d));
    }
    r.pull = range(days, &Days::pull);
    r.lasting = range(days, &Days::lasting);
    r.salted = range(days, &Days::salted);
    r.last_good = range(days, &Days::last_good);
    r.open = chance(days, [](const Days& d) { return d.pull < never && d.pull <= d.last_good; });
    if (r.pull.late < never) {
        r.advised = r.pull.late;
        r.open_advised = chance(
            days, [&](const Days& d) { return d.pull <= *r.advised && *r.advised <= d.last_good; });
    }
    r.error = checked(forward, sample, days, r.pull);
    share_out(r, inputs, forward, frozen, std::max(p.question.horizon, p.question.at.value_or(0)));
    brine_ends(r, p, sample, records);
    if (r.advised) { // by the late day meat has been in the cooler longest
        base::Records own = as_set(p.question, records);
        r.findings.add(judge::judge_time({{"cooler", p.question.temperature, *r.advised}},
                                         p.has_nitrite, p.core.water_salt, own));
    }
    const base::Records now = as_set(p.question, records);
    for (const char* key : {"uncertainty.thickness", "uncertainty.cooler", "uncertainty.weighed"}) {
        r.parameters.push_back(*now.find(key));
    }
    return r;
}

} // namespace tidemark::inference
