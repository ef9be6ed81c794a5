// SPDX-License-Identifier: MIT
#include "inference/why.hpp"

#include "base/quantity.hpp"
#include "inference/ranges.hpp"
#include "inference/sampling.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numeric>

namespace tidemark::inference {
namespace {

using Reading = std::optional<double> Slice::*;
constexpr std::array<Reading, 6> readings{&Slice::top,   &Slice::bottom,      &Slice::left,
                                          &Slice::right, &Slice::core_height, &Slice::core_width};
constexpr int trials = 64;  ///< slices made up of each cause, to see what can be told apart
constexpr int judged = 256; ///< draws that judge them

/// The q-quantile of values with weights; values not empty.
double quantile(const std::vector<double>& values, const Eigen::VectorXd& weights, double q) {
    std::vector<std::size_t> order(values.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::sort(order, {}, [&](std::size_t i) { return values[i]; });
    double sum = 0;
    for (const std::size_t i : order) {
        sum += weights[static_cast<Eigen::Index>(i)];
        if (sum >= q * weights.sum()) {
            return values[i];
        }
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

/// Mean depth of the rings that `seen` has.
std::optional<double> ring(const Slice& shown, const Slice& seen) {
    double sum = 0;
    int count = 0;
    for (std::size_t k = 0; k < 4; ++k) {
        if ((seen.every || seen.*readings[k]) && shown.*readings[k]) {
            sum += *(shown.*readings[k]);
            ++count;
        }
    }
    return count > 0 ? std::optional(sum / count) : std::nullopt;
}

/// All that a slice of this kind of piece can show, with the looks of `seen`.
Slice in_full(const Suspect& s, const Slice& seen) {
    Slice full = s.shown.front();
    full.through = false;
    full.found = seen.found;
    return full;
}

std::vector<std::size_t> cluster(const std::vector<Suspect>& all, const Eigen::MatrixXd& apart) {
    std::vector<std::size_t> order(all.size()), group(all.size()), leaders;
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, std::greater<>{}, [&](std::size_t i) { return all[i].prior; });
    for (const std::size_t i : order) {
        const auto joined = std::ranges::find_if(leaders, [&](std::size_t leader) {
            return apart(static_cast<Eigen::Index>(leader), static_cast<Eigen::Index>(i)) <
                   tellable;
        });
        group[i] = static_cast<std::size_t>(joined - leaders.begin());
        if (joined == leaders.end()) {
            leaders.push_back(i);
        }
    }
    return group;
}

} // namespace

Inquiry::Inquiry(const cure::Outcome& p, const base::Records& records, double time, int draws,
                 const cure::Progress& progress, const Inputs* inputs)
    : errors_(records), prediction_(p), records_(records), time_(time),
      horizon_(std::max(p.question.base.horizon, time)),
      slips_(records.find("uncertainty.slip")->si()),
      error_(records.find("uncertainty.slice")->si()),
      suspects_(inference::suspects(p, records, time, draws + trials, 1, progress, inputs)),
      draws_(draws) {}

/// That grey was seen at all is among it.
double Inquiry::log_likely(const Suspect& s, int draw, const Slice& seen) const {
    const Slice& shown = s.shown[draw];
    double sum = log_likelihood(seen, shown) + (seen.through ? 0 : s.log_grey[draw]);
    for (const Look look : looks) {
        const auto k = static_cast<std::size_t>(look);
        if (seen.found[k]) {
            sum += errors_.log_likelihood(look, *seen.found[k], *shown.found[k], slips_);
        }
    }
    return sum;
}

Eigen::VectorXd Inquiry::likelihood(const Suspect& s, const Slice& seen, int count) const {
    Eigen::VectorXd all(count);
    for (int i = 0; i < count; ++i) {
        all[i] = std::exp(log_likely(s, i, seen));
    }
    return all;
}

std::vector<NextLook> Inquiry::next(const Slice& seen) const {
    std::vector<Eigen::VectorXd> weights;
    for (const Suspect& s : suspects_) {
        weights.push_back(s.prior * likelihood(s, seen, draws_));
    }
    return next_looks(suspects_, weights, seen.found, errors_, slips_);
}

std::vector<double> Inquiry::probabilities(const Slice& seen) const {
    std::vector<double> p;
    for (const Suspect& s : suspects_) {
        p.push_back(s.prior * likelihood(s, seen, draws_).mean());
    }
    const double sum = std::accumulate(p.begin(), p.end(), 0.0);
    for (double& x : p) {
        x /= sum;
    }
    return p;
}

Slice Inquiry::read(const Slice& shown, const Slice& like, const Eigen::VectorXd& uniforms) const {
    Slice seen = {.time = shown.time, .error = like.error, .slips = like.slips};
    for (const Look look : looks) {
        const auto k = static_cast<std::size_t>(look);
        if (like.found[k]) {
            const double off = normal_score(uniforms[static_cast<Eigen::Index>(5 + k)]);
            seen.found[k] = errors_.read(look, *shown.found[k], off);
        }
    }
    const double core = std::max(shown.core_height.value_or(0), shown.core_width.value_or(0));
    if (core + like.error * normal_score(uniforms[4]) <= 0 || core <= 0) {
        seen.through = true;
        return seen;
    }
    for (std::size_t k = 0; k < readings.size(); ++k) { // both sizes of the core by one look
        if (like.*readings[k] && shown.*readings[k]) {
            const double off =
                normal_score(uniforms[static_cast<Eigen::Index>(std::min<std::size_t>(k, 4))]);
            seen.*readings[k] = std::max(0.0, *(shown.*readings[k]) + like.error * off);
        }
    }
    if (like.every) {
        seen.every = std::max(0.0, *ring(shown, like) + like.error * normal_score(uniforms[0]));
    }
    return seen;
}

Eigen::MatrixXd Inquiry::told_apart(const Slice& like) const {
    const auto n = static_cast<Eigen::Index>(suspects_.size());
    const Eigen::MatrixXd noise = uniforms(trials, uniforms_of_reading, 7);
    Eigen::MatrixXd apart = Eigen::MatrixXd::Zero(n, n);
    for (Eigen::Index i = 0; i < n; ++i) {
        for (int t = 0; t < trials; ++t) { // of draws that do not judge
            const Slice seen = read(suspects_[i].shown[draws_ + t], like, noise.row(t));
            Eigen::VectorXd evidence(n);
            for (Eigen::Index j = 0; j < n; ++j) {
                evidence[j] = likelihood(suspects_[j], seen, std::min(judged, draws_)).mean();
            }
            for (Eigen::Index j = 0; j < n; ++j) {
                const double right = evidence[i] > evidence[j]   ? 1
                                     : evidence[i] < evidence[j] ? 0
                                                                 : 0.5;
                apart(i, j) += 0.5 * right / trials;
                apart(j, i) += 0.5 * right / trials;
            }
        }
    }
    apart.diagonal().setConstant(0.5);
    return apart;
}

std::vector<std::size_t> Inquiry::groups(const Slice& like) const {
    return cluster(suspects_, told_apart(like));
}

double Inquiry::middling(const Suspect& s, Look look, const Eigen::VectorXd& weights) const {
    std::vector<double> found;
    for (int i = 0; i < draws_; ++i) {
        found.push_back(*s.shown[i].found[static_cast<std::size_t>(look)]);
    }
    return quantile(found, weights, 0.5);
}

More Inquiry::more(const Suspect& s, const Eigen::VectorXd& weights) const {
    std::vector<double> days;
    double never_share = 0;
    for (int i = 0; i < draws_; ++i) {
        const double t = s.model->through_time(s.draws[i], horizon_);
        days.push_back(std::max(0.0, t - time_));
        never_share += std::isinf(t) ? weights[i] : 0;
    }
    return {quantile(days, weights, 0.5), quantile(days, weights, 0.95),
            never_share / weights.sum()};
}

Why Inquiry::explain(const Slice& given) const {
    Why w;
    w.told = prediction_;
    w.seen = given;
    w.seen.error = error_;
    w.seen.slips = slips_;
    w.draws = draws_;
    const Slice& seen = w.seen;
    const Suspect& told = suspects_.front();

    std::vector<double> through;
    w.by_core = seen.core_height || seen.core_width || seen.through;
    for (int i = 0; i < draws_; ++i) {
        through.push_back(told.model->through_time(told.draws[i], horizon_));
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
        w.surprise += seen.through ? beyond < 0 : 0.5 * std::erfc(beyond / error_ / std::sqrt(2.0));
    }
    w.surprise /= draws_;
    w.too_few_days = inference::quantile(through, 0.5) > time_;

    const std::vector<double> p = probabilities(seen);
    const Eigen::VectorXd told_weights = likelihood(told, seen, draws_);
    const Slice full = in_full(told, seen);
    const Eigen::MatrixXd apart = told_apart(seen.through ? full : seen),
                          apart_full = told_apart(full);
    const std::vector<std::size_t> groups = cluster(suspects_, apart);
    std::vector<std::size_t> order(p.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, std::greater<>{}, [&](std::size_t i) { return p[i]; });
    for (const std::size_t i : order) {
        const Suspect& s = suspects_[i];
        const Eigen::VectorXd weights = likelihood(s, seen, draws_);
        Cause c{
            s.text, s.prior,          p[i],     std::log(weights.mean()), typical(s, draws_), {},
            {},     more(s, weights), groups[i]};
        if (s.text.look && !seen.found[static_cast<std::size_t>(*s.text.look)]) {
            c.typical_look = middling(s, *s.text.look, weights);
            c.told_look = middling(told, *s.text.look, told_weights);
        }
        if (s.text.name == "as-told") {
            c.text.title =
                w.too_few_days
                    ? "too few days: as told, half of such pieces or more are still grey by then"
                    : "nothing but the piece: meat varies, and some need longer";
        }
        w.causes.push_back(c);
    }
    w.groups.resize(std::ranges::max(groups) + 1);
    for (std::size_t k = 0; k < w.causes.size(); ++k) {
        w.groups[w.causes[k].group].causes.push_back(k);
        w.groups[w.causes[k].group].probability += w.causes[k].probability;
    }
    std::ranges::stable_sort(w.groups, std::greater<>{}, &Group::probability);
    for (std::size_t g = 0; g < w.groups.size(); ++g) {
        for (const std::size_t k : w.groups[g].causes) {
            w.causes[k].group = g;
        }
    }
    for (std::size_t a = 0; a < order.size(); ++a) {
        for (std::size_t b = a + 1; b < order.size() && w.causes[b].probability > 0.05; ++b) {
            const auto i = static_cast<Eigen::Index>(order[a]),
                       j = static_cast<Eigen::Index>(order[b]);
            if (apart(i, j) < tellable) {
                w.twins.push_back({a, b, apart(i, j), apart_full(i, j)});
            }
        }
    }
    w.next = next(seen);
    w.findings = w.told.findings;
    w.findings.caution(
        "a grey core is neither safe nor unsafe for its colour, and nor is a pink one: go by "
        "time, cold and salt, cook it through or discard it as your local code says");
    w.findings.caution("do not make up for it with more nitrite than your code allows");
    for (const std::string& key : records_.keys()) {
        if (key.starts_with("cause.") || key == "uncertainty.slice" || key == "uncertainty.slip" ||
            key.starts_with("uncertainty.found-")) {
            w.parameters.push_back(*records_.find(key));
        }
    }
    return w;
}

} // namespace tidemark::inference
