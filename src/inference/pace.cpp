// SPDX-License-Identifier: MIT
#include "inference/pace.hpp"

#include "base/side_by_side.hpp"
#include "inference/chebyshev.hpp"
#include "inference/few_cells.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <memory>
#include <numbers>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr int times = 30, heights = 16;
constexpr double soon = 0.03, late = 20; ///< Fourier numbers of the salt, by the way in [1]
constexpr double reach = 1.2;            ///< of levels' logarithms beyond what is asked for [1]
constexpr double more_water = 1.25, more_fibres = 1.25;
const ChebyshevAxis wet_axis{-1.4, 1.4, 3}; ///< where more water is tried
const ChebyshevAxis fat_axis{-2.4, 2.4,
                             7}; ///< of the logarithm of fat's factor; the middle is none
const ChebyshevAxis fine_axis{-1.4, 1.4, 3}; ///< where halved cells are tried
/// Of the logarithm of the loss number, either way: by straight lines, for where a core hardly
/// comes to a level the days bend sharply.
constexpr double most_loss = 1.8;
constexpr int losses = 9;

/// Factor at a node; the middle one's is 1 to the last digit.
double factor(const ChebyshevAxis& axis, int k) {
    return 2 * k + 1 == axis.nodes() ? 1 : std::exp(axis.at(k));
}

bool shut(const cure::Piece& piece, const char* face) {
    return std::ranges::count(piece.dimensions.sealed, face) > 0;
}

/// The logarithm of the time at which a level is reached, of the level's.
class Course {
public:
    Course(const VectorXd& t, const VectorXd& level) {
        constexpr double least = 1e-3, still = 1e-4; // nothing yet; at balance
        for (Index k = 0; k < t.size(); ++k) {
            const double log = std::log(std::max(level[k], least));
            if (level[k] > least && (level_.empty() || log > level_.back() + still)) {
                level_.push_back(log);
                time_.push_back(std::log(t[k]));
            }
        }
    }
    bool there() const { return level_.size() > 2; }
    double low() const { return level_.front(); }
    double high() const { return level_.back(); }
    /// By the parabola through the nearest three, of which one lies below and one above.
    double operator()(double level) const {
        const auto above = std::ranges::upper_bound(level_, level);
        const auto k =
            std::clamp<std::ptrdiff_t>(above - level_.begin(), 1, std::ssize(level_) - 2);
        const double *x = &level_[static_cast<std::size_t>(k - 1)],
                     *y = &time_[static_cast<std::size_t>(k - 1)];
        const double by = (y[1] - y[0]) / (x[1] - x[0]),
                     bend = ((y[2] - y[1]) / (x[2] - x[1]) - by) / (x[2] - x[0]);
        return y[0] + (level - x[0]) * (by + (level - x[1]) * bend);
    }

private:
    std::vector<double> level_, time_;
};

} // namespace

bool Pace::has_fat(const cure::Case& question, const cure::Setup& setup) {
    return question.piece.dimensions.fat_cap > 0 && !shut(question.piece, "top") &&
           setup.tissues.contains("fat");
}

bool Pace::has_fibres(const cure::Case& question, const cure::Setup& setup) {
    const transport::Medium& lean = setup.tissues.at("lean").salt;
    return question.piece.fibre_angle ? lean.ratio != 1
                                      : lean.along != 1 && setup.whole && setup.shut_ends < 2;
}

Pace::Pace(const cure::Case& question, const cure::Setup& setup, const Span& core,
           const Span& mean) {
    const bool fat = has_fat(question, setup), fibres = has_fibres(question, setup);
    if (!fat && !fibres)
        return;
    const cure::Tissue& lean = setup.tissues.at("lean");
    const int open = shut(question.piece, "top") || shut(question.piece, "bottom") ? 1 : 2;
    const double way = std::min(2 * setup.half_thickness / open, setup.to_end()),
                 unit = way * way / lean.salt.diffusivity;
    VectorXd t(times);
    for (int k = 0; k < times; ++k)
        t[k] = soon * unit * std::pow(late / soon, k / (times - 1.0));
    cure::Setup section = setup;
    section.shut_ends = 2; // ends only multiply what is missing
    const double out = std::pow(setup.to_end(), -2) * lean.salt.diffusivity;
    const Few few(section, question.cells);
    std::vector<Altered> changes; // by fat; with more water; with the fibre ratio less and more
    for (int k = 0; fat && k < fat_axis.nodes(); ++k)
        changes.push_back({factor(fat_axis, k), 1, 1});
    for (int k = 0; fat && k < wet_axis.nodes(); ++k)
        changes.push_back({factor(wet_axis, k), more_water, 1});
    const auto of_fat = changes.size();
    for (const double f : {1 / more_fibres, 1.0, more_fibres})
        if (fibres)
            changes.push_back({1, 1, f});
    // In a section by itself fibres that run out of it do nothing.
    const auto in_section = [&](Altered c) {
        if (lean.salt.ratio == 1)
            c.fibres = 1;
        return c;
    };
    // What halved cells change, and a third of that more, is found for a few of fat's.
    std::vector<Altered> few_changes;
    for (int k = 0; fat && k < fine_axis.nodes(); ++k)
        few_changes.push_back({factor(fine_axis, k), 1, 1});
    for (const Altered& c : changes)
        if (!fat || c.fibres != 1)
            few_changes.push_back(c);
    using Key = std::array<double, 4>; // of a solve: what was changed, on which cells
    const auto key = [&](const Altered& change, bool halved) {
        const Altered c = in_section(change);
        return Key{c.fat, c.water, c.fibres, halved ? 1.0 : 0.0};
    };
    std::map<Key, Came> known;
    for (const Altered& c : changes)
        known[key(c, false)];
    for (const Altered& c : few_changes)
        for (const bool halved : {false, true})
            known[key(c, halved)];
    std::vector<std::pair<const Key, Came>*> wanted;
    for (auto& one : known)
        wanted.push_back(&one);
    base::side_by_side(wanted.size(), [&](std::size_t k) {
        auto& [of, came] = *wanted[k];
        came = few.solve(t, {of[0], of[1], of[2]}, of[3] > 0);
    });
    const auto solve = [&](const Altered& c, bool halved) -> const Came& {
        return known.at(key(c, halved));
    };
    const auto finer = [&](const Altered& c, Followed of) {
        return VectorXd(4 * (solve(c, true).at[of] - solve(c, false).at[of]) / 3);
    };
    std::vector<Came> solved;
    for (const Altered& c : changes) {
        Came came = solve(c, false);
        for (const Followed of : {of_core, of_mean}) {
            if (fat && c.fibres == 1) {
                const VectorXd by =
                    fine_axis.weights(std::clamp(std::log(c.fat), fine_axis.low, fine_axis.high));
                for (int k = 0; k < fine_axis.nodes(); ++k)
                    came.at[of] += by[k] * finer({factor(fine_axis, k), 1, 1}, of);
            } else
                came.at[of] += finer(c, of);
        }
        solved.push_back(
            with_ends(came, t, out * lean.salt.along * (lean.salt.ratio != 1 ? 1 : c.fibres)));
    }
    // Nitrite's field is that of the salt on another clock, less what is lost.
    const bool nitrite = setup.pickle.nitrite > 0;
    const double faster = lean.nitrite.diffusivity / lean.salt.diffusivity,
                 loss = nitrite ? lean.nitrite.loss / faster : 0,
                 in_bath = nitrite ? setup.nitrite_bath.loss / faster : 0;
    const auto tabulate = [&](Followed of, const Span& span, double lost) {
        std::vector<Course> all;
        for (const auto& came : solved)
            all.emplace_back(t, of == of_core ? arrived(t, came, lost * loss, lost * in_bath)
                                              : came.at[of]);
        Table table;
        if (!std::ranges::all_of(all, &Course::there))
            return table;
        double low = std::log(span.low) - reach, high = std::log(span.high) + reach;
        for (const Course& c : all) {
            low = std::max(low, c.low());
            high = std::min(high, c.high());
        }
        low = std::min(low, high); // what is never reached goes as what is
        table.low = low;
        table.step = (high - low) / (heights - 1);
        const Index n = fat_axis.nodes(), fats = fat ? n + wet_axis.nodes() : 0;
        table.logs.resize(heights, fats + (fibres ? 2 : 0));
        for (int j = 0; j < heights; ++j) {
            const double x = low + j * table.step;
            auto row = table.logs.row(j);
            for (Index k = 0; k < fats; ++k)
                row[k] =
                    all[static_cast<std::size_t>(n / 2)](x) - all[static_cast<std::size_t>(k)](x);
            for (int k = 0; fat && k < wet_axis.nodes(); ++k) // what the water alone adds
                row[n + k] -= row.head(n).dot(fat_axis.weights(wet_axis.at(k)));
            if (fibres)
                row.tail(2) << all[of_fat + 1](x) - all[of_fat](x),
                    all[of_fat + 1](x) - all[of_fat + 2](x);
        }
        return table;
    };
    fat_ = fat;
    fibres_ = fibres;
    mean_ = tabulate(of_mean, mean, 1);
    for (int k = 0; k < (loss > 0 ? losses : 1); ++k)
        core_.push_back(tabulate(
            of_core, core, loss > 0 ? std::exp(most_loss * (2.0 * k / (losses - 1) - 1)) : 1));
}

double Pace::Table::operator()(double level, const VectorXd& weights) const {
    if (logs.size() == 0)
        return 0;
    const double x = step > 0 ? std::clamp((std::log(level) - low) / step, 0.0, heights - 1.0) : 0;
    const Index k = std::min<Index>(heights - 2, static_cast<Index>(x));
    const double share = x - static_cast<double>(k);
    return (1 - share) * logs.row(k).dot(weights) + share * logs.row(k + 1).dot(weights);
}

VectorXd Pace::weights(double fat, double water, double fibres) const {
    const int n = fat_axis.nodes(), fats = fat_ ? n + wet_axis.nodes() : 0;
    VectorXd weights(fats + (fibres_ ? 2 : 0));
    if (fat_) {
        const double x = std::clamp(std::log(fat), fat_axis.low, fat_axis.high),
                     wet = std::log(water) / std::log(more_water);
        weights.head(fats) << fat_axis.weights(x),
            wet * wet_axis.weights(std::clamp(x, wet_axis.low, wet_axis.high));
    }
    if (fibres_) { // a parabola through nothing in the middle
        const double x = std::log(fibres) / std::log(more_fibres);
        weights.tail(2) << 0.5 * x * (x - 1), 0.5 * x * (x + 1);
    }
    return weights;
}

double Pace::operator()(Followed of, double level, double loss, const VectorXd& weights) const {
    if (!fat_ && !fibres_)
        return 1;
    if (of == of_mean)
        return std::exp(mean_(level, weights));
    if (core_.size() == 1)
        return std::exp(core_.front()(level, weights));
    const double x = (std::clamp(std::log(loss) / most_loss, -1.0, 1.0) + 1) / 2 * (losses - 1);
    const auto k = std::min<std::size_t>(losses - 2, static_cast<std::size_t>(x));
    const double more = x - static_cast<double>(k);
    return std::exp((1 - more) * core_[k](level, weights) + more * core_[k + 1](level, weights));
}

} // namespace tidemark::inference
