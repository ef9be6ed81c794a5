// SPDX-License-Identifier: MIT
/// Levels are held as log(level + floor), the floor well below every target: where nothing has come
/// yet it is flat, and rounding there does no harm.
#include "inference/surface.hpp"

#include "base/error.hpp"
#include "base/side_by_side.hpp"

#include <boost/math/special_functions/chebyshev.hpp>
#include <boost/math/tools/toms748_solve.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr double tolerance = 1e-4;   ///< of the solves; told by them, true to a hundredth of it
constexpr int clock_nodes = 20;      ///< over the time that matters, a factor of 100 or so
constexpr double floor_share = 0.02; ///< of the lowest target

bool is_nitrite(Level level) {
    return level == Level::nitrite_core || level == Level::nitrite_mean;
}

std::array<double, 3> logs(const Similar& s) {
    return {std::log(s.loss), std::log(s.bath), std::log(s.film)};
}

} // namespace

Similarity::Similarity(const cure::Setup& setup, const cure::Grid& grid)
    : setup_(setup), grid_(grid) {
    const auto& kinds = grid.mesh ? grid.mesh->kinds : grid.line->kinds;
    lean_ = static_cast<int>(std::ranges::find(kinds, "lean") - kinds.begin());
    lowest_ = grid.mesh ? std::make_shared<geometry::LowestPoint>(*grid.mesh, lean_)
                        : std::make_shared<geometry::LowestPoint>(*grid.line, lean_);
    donor_ = grid.salt_chain.links().front().history;
    if (setup.clock) {
        throw base::RunError("no range of days is known for a cooler with a log");
    }
    last_ = donor_->last();
    if (setup.follows_salt()) { // scaling knows no such stage: the same with its plain numbers
        first_ = cure::first_of_interest(setup, last_);
        donor_.reset();
        donor_ = solve(false, {})->history;
    }
}

Similarity::Similarity(const cure::Setup& setup, const cure::Grid& grid, double first, double last)
    : Similarity(setup, grid) {
    first_ = first;
    last_ = last;
    known_.clear();
    donor_.reset(); // the next solve makes a space of its own
    donor_ = solve(false, {})->history;
    donor_->front_often();
}

std::shared_ptr<const Similarity::Solve> Similarity::solve(bool nitrite,
                                                           const Similar& similar) const {
    const std::array<double, 4> key{nitrite ? 1.0 : 0.0, similar.loss, similar.bath, similar.film};
    {
        const std::lock_guard lock(asking_);
        if (const auto known = known_.find(key); known != known_.end())
            return known->second;
    }
    transport::Bath bath = nitrite ? setup_.nitrite_bath : setup_.salt_bath;
    bath.concentration = 1 / bath.partition;
    const transport::Bath own = bath;
    bath.water /= similar.bath; // infinite stays so
    bath.film *= similar.film;
    bath.loss *= similar.loss; // in the brine it goes along with that in the meat
    cure::Setup setup = setup_;
    for (auto& [kind, tissue] : setup.tissues) {
        (nitrite ? tissue.nitrite : tissue.salt).loss *= similar.loss;
    }
    auto solve = std::make_shared<Solve>();
    transport::Whole whole;
    if (std::isfinite(bath.film)) {
        whole = grid_.assemble(setup, nitrite, {bath, {}});
    } else {
        std::optional<transport::System>& kept = sections_[nitrite];
        {
            // Always of the solved case, whoever asks first: answers do not hang on that.
            const std::lock_guard lock(asking_);
            if (!kept)
                grid_.assemble(setup_, nitrite, {own, {}}, &kept);
        }
        whole = grid_.assemble(setup, nitrite, {bath, {}}, &kept);
    }
    solve->history = transport::solve(whole, first_, last_, tolerance, donor_.get());
    solve->system = std::move(whole.system);
    const cure::Tissue& tissue = setup.tissues.at("lean");
    solve->loss = nitrite ? tissue.nitrite.loss : tissue.salt.loss; // one serves all tissues
    solve->front = grid_.nodes();
    solve->lean = lean_;
    const std::lock_guard lock(asking_);
    return known_.try_emplace(key, solve).first->second;
}

VectorXd Similarity::Solve::nodal(double t) const {
    return transport::on_front(*history, system, front, t, loss);
}

std::pair<double, double> Similarity::Solve::mean(double t) const {
    std::call_once(mean_.begun, [&] { mean_.at = history->follow(system.mean_weights(lean)); });
    return mean_.at(t);
}

std::pair<double, double> Similarity::Solve::bath(double t) const {
    std::call_once(bath_.begun, [&] {
        bath_.at = history->follow(VectorXd::Unit(system.capacity.size(), system.bath()));
    });
    return bath_.at(t);
}

std::function<double(double)> Similarity::level(Level level, const Similar& similar) const {
    const auto solved = solve(is_nitrite(level), similar);
    if (level == Level::nitrite_mean || level == Level::salt_mean) {
        return [solved](double t) {
            const auto [free, dose] = solved->mean(t);
            return free + solved->loss * dose;
        };
    }
    return [solved, lowest = lowest_](double t) { return (*lowest)(solved->nodal(t)).value; };
}

void Box::widen(const Similar& s) {
    low = {std::min(low.loss, s.loss), std::min(low.bath, s.bath), std::min(low.film, s.film)};
    high = {std::max(high.loss, s.loss), std::max(high.bath, s.bath), std::max(high.film, s.film)};
}

Surface::Surface(const Similarity& coarse, const Similarity& fine, Level level, const Box& box,
                 double low, double high)
    : coarse_(coarse), fine_(fine), level_(level), floor_(floor_share * low) {
    const auto from = logs(box.low), to = logs(box.high);
    for (std::size_t a = 0; a < 3; ++a) {
        const double span = to[a] - from[a];
        // Loss bends a level most: 10 nodes over a factor of 700 keep its days within 0.1 %.
        const int least = a == 0 ? 3 : 2;
        axes_[a] = {from[a], to[a], span < 1e-9 ? 1 : least + static_cast<int>(std::ceil(span))};
    }
    for (int k = 0; k < axes_[0].nodes() * axes_[1].nodes() * axes_[2].nodes(); ++k) {
        const int i = k % axes_[0].nodes(), rest = k / axes_[0].nodes();
        nodes_.push_back({std::exp(axes_[0].at(i)), std::exp(axes_[1].at(rest % axes_[1].nodes())),
                          std::exp(axes_[2].at(rest / axes_[1].nodes()))});
    }
    find_times(box, low, high);
    table_.resize(static_cast<Index>(nodes_.size()), clock_nodes);
    base::side_by_side(nodes_.size(), [&](std::size_t i) {
        const auto f = coarse.level(level, nodes_[i]);
        for (int k = 0; k < clock_nodes; ++k) {
            table_(static_cast<Index>(i), k) = logged(f(std::exp(clock_.at(k))));
        }
    });
    refine(fine);
    Eigen::MatrixXd coefficients(clock_nodes, clock_nodes); // from values at the nodes
    for (int k = 0; k < clock_nodes; ++k) {
        for (int n = 0; n < clock_nodes; ++n) {
            coefficients(k, n) =
                2. / clock_nodes * std::cos(n * std::numbers::pi * (k + 0.5) / clock_nodes);
        }
    }
    table_ = (table_ * coefficients).eval();
}

/// The time that matters: from the lowest target where it comes soonest to the highest where it
/// comes latest. A small bath holds a level back, a good film helps it; loss holds back the core,
/// and draws more into the whole.
void Surface::find_times(const Box& box, double low, double high) {
    const double begin = std::log(coarse_.first()), end = std::log(coarse_.last());
    const auto crossing = [&](const Similar& corner, double target) {
        const auto f = coarse_.level(level_, corner);
        std::pair between{begin, end};
        if (f(std::exp(end)) < target) {
            return std::pair{end, end};
        }
        for (int step = 0; step < 7; ++step) {
            const double middle = 0.5 * (between.first + between.second);
            (f(std::exp(middle)) < target ? between.first : between.second) = middle;
        }
        return between;
    };
    clock_ = {end, begin, clock_nodes};
    for (const double loss : {box.low.loss, box.high.loss}) {
        const Similar fast{loss, box.low.bath, box.high.film},
            slow{loss, box.high.bath, box.low.film};
        clock_.low = std::min(clock_.low, crossing(fast, 0.95 * low).first);
        clock_.high = std::max(clock_.high, crossing(slow, 1.05 * high).second);
    }
    clock_.low = std::min(clock_.low, clock_.high - 0.1);
}

void Surface::refine(const Similarity& fine) {
    const ChebyshevAxis loss{axes_[0].low, axes_[0].high, std::min(5, axes_[0].nodes())};
    const ChebyshevAxis times{clock_.low, clock_.high, 6};
    Eigen::MatrixXd gain(loss.nodes(), times.nodes());
    base::side_by_side(static_cast<std::size_t>(loss.nodes()), [&](std::size_t node) {
        const int i = static_cast<int>(node);
        const Similar at{std::exp(loss.at(i)), 1, 1};
        const auto two = coarse_.level(level_, at), one = fine.level(level_, at);
        for (int k = 0; k < times.nodes(); ++k) {
            const double t = std::min(std::exp(times.at(k)), fine.last());
            gain(i, k) = logged(two(t) + 4. / 3 * (one(t) - two(t))) - logged(two(t));
        }
    });
    for (Index i = 0; i < table_.rows(); ++i) {
        const Eigen::RowVectorXd own =
            loss.weights(std::log(nodes_[static_cast<std::size_t>(i)].loss)).transpose() * gain;
        for (int k = 0; k < clock_nodes; ++k) {
            table_(i, k) += own.dot(times.weights(clock_.at(k)));
        }
    }
}

double Surface::logged(double level) const {
    return std::log(std::max(level, 0.0) + floor_);
}

VectorXd Surface::curve(const Similar& similar) const {
    const auto x = logs(similar);
    const VectorXd a = axes_[0].weights(x[0]), b = axes_[1].weights(x[1]),
                   c = axes_[2].weights(x[2]);
    VectorXd weights(table_.rows());
    Index n = 0;
    for (const double along_c : c) {
        for (const double along_b : b) {
            for (const double along_a : a) {
                weights[n++] = along_a * along_b * along_c;
            }
        }
    }
    return table_.transpose() * weights;
}

double Surface::log_level(const VectorXd& curve, double log_time) const {
    const double x = (2 * log_time - clock_.low - clock_.high) / (clock_.high - clock_.low);
    return boost::math::chebyshev_clenshaw_recurrence(curve.data(), curve.size(), x);
}

std::optional<double> Surface::time(const VectorXd& curve, double target) const {
    const double goal = std::log(target + floor_);
    const auto gap = [&](double log_time) { return log_level(curve, log_time) - goal; };
    if (!(gap(clock_.high) >= 0)) {
        return {};
    }
    // The level rises: halve to a sixteenth of the span, then close in.
    double before = clock_.low, after = clock_.high;
    if (gap(before) >= 0) {
        return std::exp(before);
    }
    for (int step = 0; step < 4; ++step) {
        const double middle = 0.5 * (before + after);
        (gap(middle) < 0 ? before : after) = middle;
    }
    std::uintmax_t most = 30;
    const auto root = boost::math::tools::toms748_solve(
        gap, before, after, [](double l, double r) { return r - l < 1e-7; }, most);
    return std::exp(0.5 * (root.first + root.second));
}

double Surface::error(const Similar& similar, double target) const {
    const auto t = time(curve(similar), target);
    if (!t) {
        return 0;
    }
    const auto two = coarse_.level(level_, similar), one = fine_.level(level_, similar);
    const auto direct = [&](double when) { return two(when) + 4. / 3 * (one(when) - two(when)); };
    constexpr double step = 0.01;
    const double slope =
        std::log(direct(*t * std::exp(step)) / direct(*t * std::exp(-step))) / (2 * step);
    return std::abs(std::log(direct(*t) / target) / slope);
}

} // namespace tidemark::inference
