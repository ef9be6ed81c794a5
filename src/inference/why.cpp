// SPDX-License-Identifier: MIT
#include "inference/why.hpp"

#include "base/text.hpp"
#include "inference/sampling.hpp"
#include "inference/schedule_chance.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

using Reading = std::optional<double> Slice::*;
constexpr std::array<Reading, 6> readings{&Slice::top,   &Slice::bottom,      &Slice::left,
                                          &Slice::right, &Slice::core_height, &Slice::core_width};
constexpr int trials = 64;   ///< slices made up of a cause, to see what fits it
constexpr int judged = 256;  ///< draws that judge them
constexpr int pieces = 4096; ///< drawn by their weights for the days

/// The q-quantile of values with weights; values not empty.
double quantile(const std::vector<double>& values, const VectorXd& weights, double q) {
    std::vector<std::size_t> order(static_cast<std::size_t>(weights.size()));
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::sort(order, {}, [&](std::size_t i) { return values[i]; });
    double sum = 0;
    for (const std::size_t i : order) {
        sum += weights[static_cast<Index>(i)];
        if (sum >= q * weights.sum())
            return values[i];
    }
    return values[order.back()];
}

/// The median of each reading.
Slice typical(const Suspect& s, int count) {
    Slice middle{.time = s.shown.front().time};
    std::vector<double> values(count);
    for (const Reading reading : readings) {
        if (s.shown.front().*reading) {
            std::transform(s.shown.begin(), s.shown.begin() + count, values.begin(),
                           [&](const Slice& shown) { return *(shown.*reading); });
            middle.*reading = inference::quantile(values, 0.5);
        }
    }
    middle.through =
        2 * std::count_if(s.shown.begin(), s.shown.begin() + count, std::mem_fn(&Slice::through)) >
        count;
    return middle;
}

DayRange range(const std::vector<double>& times, const VectorXd& weights) {
    double missing = 0;
    for (Index i = 0; i < weights.size(); ++i)
        missing += std::isinf(times[static_cast<std::size_t>(i)]) ? weights[i] : 0;
    return {quantile(times, weights, 0.05), quantile(times, weights, 0.5),
            quantile(times, weights, 0.95), missing / weights.sum()};
}

} // namespace

Inquiry::Inquiry(const cure::Outcome& outcome, const base::Records& records, double time, int draws,
                 const cure::Progress& progress, const Inputs* inputs)
    : outcome_(outcome), set_(as_set(outcome.question.base, records)), errors_(set_), time_(time),
      slips_(set_.find("uncertainty.slip")->si()),
      causes_(outcome_, records, time, draws + trials, 1, progress, inputs), draws_(draws) {
    const std::vector<double>& told = suspects().front().through;
    const auto cured = std::ranges::count_if(told, [&](double t) { return t <= time_; });
    told_cured_ = static_cast<double>(cured) / static_cast<double>(told.size());
}

/// That grey was seen at all is among it.
VectorXd Inquiry::likelihood(const Suspect& s, const Slice& seen, int count) const {
    VectorXd all(count);
    for (int i = 0; i < count; ++i) {
        const Slice& shown = s.shown[i];
        double sum = log_likelihood(seen, shown) + (seen.through ? 0 : s.log_grey[i]);
        for (const Look look : looks) {
            const auto k = static_cast<std::size_t>(look);
            if (seen.found[k] && shown.found[k])
                sum += errors_.log_likelihood(look, *seen.found[k], *shown.found[k], slips_);
        }
        all[i] = std::exp(sum);
    }
    return all;
}

Inquiry::Weights Inquiry::weights(const std::vector<Suspect>& all, const Slice& seen) const {
    Weights list;
    for (const Suspect& s : all)
        list.push_back(s.prior * likelihood(s, seen, draws_));
    return list;
}

std::vector<NextLook> Inquiry::next(const Slice& seen) const {
    return next_looks(suspects(), weights(suspects(), seen), seen.found, errors_, slips_);
}

std::vector<double> Inquiry::probabilities(const Slice& seen) const {
    std::vector<double> p;
    for (const VectorXd& w : weights(suspects(), seen))
        p.push_back(w.sum());
    const double sum = std::accumulate(p.begin(), p.end(), 0.0);
    for (double& x : p)
        x /= sum;
    return p;
}

std::optional<Pointer> Inquiry::mistake(const Slice& given) const {
    const Slice seen = with_errors(given, set_);
    if (seen.through)
        return {};
    double meat = 0; // as told, or with what varies from one piece of meat to the next
    std::optional<Pointer> most;
    for (const Suspect& s : suspects()) {
        const double p = s.prior * likelihood(s, seen, draws_).mean();
        if (s.text.name == "as-told" || s.text.name == "fast-loss" || s.text.name == "dark-meat")
            meat += p;
        else if (!most || p > most->odds)
            most = Pointer{s.text, p};
    }
    if (!most || most->odds < set_.find("uncertainty.mistake")->si() * meat)
        return {};
    most->odds /= meat;
    return most;
}

/// By slices made up of its draws that do not judge them, of those with grey in them; where hardly
/// any has, that is odd already.
double Inquiry::fit(const Suspect& s, const Slice& seen) const {
    const Eigen::MatrixXd noise = uniforms(trials, uniforms_of_reading, 7);
    const int judges = std::min(judged, draws_);
    const double own = likelihood(s, seen, judges).mean();
    double odder = 1, grey = 1;
    for (int t = 0; t < trials; ++t) {
        const Slice made_up = read(s.shown[draws_ + t], seen, errors_, noise.row(t));
        if (made_up.through)
            continue;
        ++grey;
        odder += likelihood(s, made_up, judges).mean() <= own;
    }
    return std::min(odder / grey, grey / (1 + trials));
}

std::array<double, remedy_count> Inquiry::by_remedy(const Suspect& s, const VectorXd& w) const {
    constexpr double day_that_suits = 0.9; // of such pieces, as the advised day does
    Remedy usual = s.text.remedy;
    if (&s == &suspects().front() && told_cured_ >= day_that_suits)
        usual = Remedy::nothing;
    const bool waits = usual == Remedy::longer || usual == Remedy::nothing;
    std::array<double, remedy_count> sums{};
    for (int i = 0; i < draws_; ++i) {
        const bool in_vain = waits && s.through[i] > too_long * time_;
        sums[static_cast<std::size_t>(in_vain ? Remedy::needles : usual)] += w[i];
    }
    return sums;
}

std::array<double, remedy_count> Inquiry::remedies(const Slice& seen) const {
    std::array<double, remedy_count> sums{};
    double all = 0;
    for (const Suspect& s : suspects()) {
        const auto own = by_remedy(s, s.prior * likelihood(s, seen, draws_));
        for (std::size_t r = 0; r < remedy_count; ++r) {
            sums[r] += own[r];
            all += own[r];
        }
    }
    for (double& x : sums)
        x /= all;
    return sums;
}

Still Inquiry::still(const std::vector<Suspect>& all, const Weights& weights, const Slice& seen,
                     double confidence) const {
    base::Records records = set_;
    const materials::Band taste = materials::taste_band(records);
    std::vector<Fate> fates;
    std::vector<double> cured, salted, last_good;
    Fate fate;
    const auto list = drawn(weights, pieces);
    for (std::size_t i = 0; i < list.size(); ++i) {
        const auto [k, draw] = list[i];
        if (i == 0 || list[i - 1].cause != k || list[i - 1].draw != draw)
            fate = all[k].model->fate(all[k].draws[static_cast<std::size_t>(draw)], taste,
                                      causes_.horizon());
        fates.push_back(fate);
        cured.push_back(std::max(time_, fate.cured));
        salted.push_back(fate.salted);
        last_good.push_back(fate.too_salty);
    }
    std::vector<double> days = days_to_try(causes_.horizon());
    std::erase_if(days, [&](double t) { return t < time_ * (1 - 1e-9); });
    const VectorXd even = VectorXd::Ones(static_cast<Index>(fates.size()));
    return {seen,
            range(cured, even),
            range(salted, even),
            range(last_good, even),
            best_of(chances_at(fates, days), confidence, fates.size()),
            {}};
}

double Inquiry::median(const Suspect& s, Look look, const VectorXd& weights) const {
    std::vector<double> found;
    for (int i = 0; i < draws_; ++i)
        found.push_back(*s.shown[i].found[static_cast<std::size_t>(look)]);
    return quantile(found, weights, 0.5);
}

/// `weights` are shares of all that is possible.
Cause Inquiry::cause(const Suspect& s, const VectorXd& weights, const Why& w) const {
    Cause c;
    c.text = s.text;
    c.prior = s.prior;
    c.probability = weights.sum();
    c.by_remedy = by_remedy(s, weights);
    c.log_evidence = std::log(likelihood(s, w.seen, draws_).mean());
    c.typical = typical(s, draws_);
    c.cured = range(s.through, weights);
    const Suspect& told = suspects().front();
    if (const auto look = s.text.look; look && !w.seen.found[static_cast<std::size_t>(*look)] &&
                                       s.shown.front().found[static_cast<std::size_t>(*look)]) {
        c.typical_look = median(s, *s.text.look, weights);
        c.told_look = median(told, *s.text.look, likelihood(told, w.seen, draws_));
    }
    return c;
}

void Inquiry::surprise(Why& w) const {
    const Slice& seen = w.seen;
    const Suspect& told = suspects().front();
    w.by_core = seen.core_height || seen.core_width || seen.through;
    for (int i = 0; i < draws_; ++i) {
        const Slice& shown = told.shown[i];
        double beyond = 0; // how far the slice is from this draw, on the side of a greater core
        if (seen.through) {
            beyond = shown.through ? -1 : 1;
        } else if (w.by_core) {
            const Reading size = seen.core_height ? &Slice::core_height : &Slice::core_width;
            beyond = *(seen.*size) - (shown.*size).value_or(0);
        } else {
            beyond =
                ring(shown, seen).value_or(0) - ring(seen, seen).value_or(seen.every.value_or(0));
        }
        w.surprise +=
            seen.through ? beyond < 0 : 0.5 * std::erfc(beyond / seen.error / std::sqrt(2.0));
    }
    w.surprise /= draws_;
    w.told_cured = told_cured_;
}

Why Inquiry::explain(const Slice& given, double confidence) const {
    Why w;
    w.told = outcome_;
    w.seen = with_errors(given, set_);
    w.draws = draws_;
    surprise(w);

    std::vector<Suspect> pairs;
    Weights all = weights(suspects(), w.seen);
    const auto sum = [](const VectorXd& v) { return v.sum(); };
    if (!w.seen.through) {
        const auto leader = [&] {
            return static_cast<std::size_t>(std::ranges::max_element(all, {}, sum) - all.begin());
        };
        w.fit = fit(suspects()[leader()], w.seen);
        w.paired = w.fit < fits_from;
        if (w.paired) {
            pairs = causes_.pairs();
            for (VectorXd& v : weights(pairs, w.seen))
                all.push_back(std::move(v));
            if (const std::size_t k = leader(); k >= suspects().size())
                w.fit = fit(pairs[k - suspects().size()], w.seen);
        }
    }
    std::vector<Suspect> list = suspects();
    list.insert(list.end(), pairs.begin(), pairs.end());
    w.next = next_looks(list, all, w.seen.found, errors_, slips_);

    double total = 0;
    for (const VectorXd& v : all)
        total += v.sum();
    std::array<double, remedy_count> remedies{};
    for (std::size_t k = 0; k < all.size(); ++k) {
        const Suspect& s = k < suspects().size() ? suspects()[k] : pairs[k - suspects().size()];
        w.causes.push_back(cause(s, all[k] / total, w));
        for (std::size_t r = 0; r < remedy_count; ++r)
            remedies[r] += w.causes.back().by_remedy[r];
    }
    std::ranges::stable_sort(w.causes, std::greater<>{}, &Cause::probability);
    for (std::size_t r = 0; r < remedy_count; ++r)
        w.remedies.push_back({static_cast<Remedy>(r), remedies[r]});
    std::ranges::stable_sort(w.remedies, std::greater<>{}, &RemedyShare::probability);
    w.still = still(list, all, w.seen, confidence);
    w.still.remedy = w.remedies.front();

    constexpr double likely = 0.5;
    w.still.best =
        kept_cold(w.still.best, outcome_, last_dosing(outcome_.question), set_, draws_, likely);
    w.findings = w.told.findings;
    const DayRange& cured = w.still.cured;
    const double until = w.still.best.likely()    ? w.still.best.best->time
                         : std::isinf(cured.late) ? cured.half
                                                  : cured.late; // to which it may be left
    if (std::isfinite(until)) {
        const judge::Findings waiting =
            of_waiting(outcome_, last_dosing(outcome_.question), until, set_);
        w.still.too_long = waiting.has("long-cure");
        w.findings.supersede(waiting);
    }
    if (causes_.ring_error() > 0)
        w.findings.note("what slices of a schedule show is fitted to some runs on coarse cells, a "
                        "ring to " +
                        base::significant(1e3 * causes_.ring_error(), 2) + " mm");
    if (outcome_.question.pump)
        w.findings.note(
            "rings are those of the section averaged along the piece; grey that is left "
            "between needles is no ring, and counts for the day alone");
    for (const std::string& key : set_.keys()) {
        if (key.starts_with("cause.") || key.starts_with("uncertainty.sli") ||
            key.starts_with("uncertainty.found-"))
            w.parameters.push_back(*set_.find(key));
    }
    return w;
}

} // namespace tidemark::inference
