// SPDX-License-Identifier: MIT
/// The table of nitrite holds spots of lean along the lines, then the least of the lean, then the
/// brine; that of salt the least of the lean, the brine, the mean of the lean, and that of the
/// slice's own.
#include "inference/slice_model.hpp"

#include "base/error.hpp"
#include "cure/two_meshes.hpp"
#include "inference/level_table.hpp"

#include <cmath>
#include <functional>
#include <limits>

namespace tidemark::inference {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

/// One brine without an end, off tables over similar cases.
class BrineFields : public Fields {
public:
    BrineFields(const cure::Outcome& p, const SliceLines& lines, const SliceReach& reach)
        : solved_(p.solved), spots_(lines.count()) {
        const cure::Setup& setup = solved_->setup();
        const transport::Bath& bath = setup.nitrite_bath;
        target_ = p.first().target / setup.tissues.at("lean").water_fraction /
                  (bath.partition * bath.concentration);
        const auto axis = [](bool there, double far, int nodes) {
            return there ? ChebyshevAxis{-std::log(far), std::log(far), nodes} : ChebyshevAxis{};
        };
        LevelTable::Axes axes{
            axis(setup.tissues.at("lean").nitrite.loss > 0 || bath.loss > 0, reach.loss, 9),
            axis(std::isfinite(bath.water), reach.bath, 3),
            axis(std::isfinite(bath.film), reach.film, 4)};
        const double horizon = p.horizon();
        const Similarity similarity(setup, solved_->fine->grid(),
                                    cure::first_of_interest(setup, horizon) / 4, 8 * horizon);
        nitrite_ = LevelTable(similarity, true, axes, [&](const Similarity::Solve& s, double t) {
            const VectorXd nodal = s.nodal(t);
            VectorXd levels(spots_ + 2);
            levels << lines.at_spots(nodal), similarity.lowest(nodal), s.bath(t).first;
            return levels;
        });
        axes[0] = {}; // salt is not lost
        const VectorXd& water = solved_->fine->grid().lean_water;
        const VectorXd slice = water / water.sum();
        salt_ = LevelTable(similarity, false, axes, [&](const Similarity::Solve& s, double t) {
            const VectorXd nodal = s.nodal(t);
            return Eigen::Vector4d(similarity.lowest(nodal), s.bath(t).first, s.mean(t).first,
                                   nodal.dot(slice));
        });
    }

    Levels at(const Draw& d, double time) const override {
        const VectorXd levels = nitrite_.at(place(true, d), time);
        return {levels.head(spots_).array() - needed(d), least(d, time),
                findings(d, time, LevelTable::level(levels[spots_ + 1]))};
    }
    double least(const Draw& d, double time) const override {
        return nitrite_.at(place(true, d, d.pace), time, spots_) - needed(d);
    }
    double mean_salt(const Draw& d, double time) const override {
        return in_lean(d, salt_.at(place(false, d, d.pace_salted), time, 2));
    }
    double first(const Draw& d) const override { return std::exp(nitrite_.first(place(true, d))); }

private:
    /// Fat and fibres change when the core is cured; rings stand as if they did not.
    LevelTable::Place place(bool of_nitrite, const Draw& d, double pace = 1) const {
        return (of_nitrite ? nitrite_ : salt_)
            .place(similar(solved_->setup(), of_nitrite, d), pace * clock(of_nitrite, d));
    }
    double needed(const Draw& d) const {
        return LevelTable::logged(target_ * d.threshold / (d.partition * d.nitrite));
    }
    /// Salt of the lean [kg/kg] at a logged level.
    double in_lean(const Draw& d, double logged) const {
        const cure::Setup& setup = solved_->setup();
        return setup.tissues.at("lean").salt_share(setup.salt_bath.concentration * d.salt *
                                                   LevelTable::level(logged) *
                                                   setup.salt_bath.partition * d.partition);
    }
    Findings findings(const Draw& d, double time, double brine_nitrite) const {
        const cure::Setup& setup = solved_->setup();
        const cure::Pickle& pickle = setup.pickle;
        const VectorXd levels = salt_.at(place(false, d), time);
        // per kg of water
        const double rest = (1 - pickle.salt - pickle.nitrite) / pickle.water,
                     s = setup.salt_bath.concentration * d.salt * LevelTable::level(levels[1]),
                     n = setup.nitrite_bath.concentration * d.nitrite * brine_nitrite;
        return {2 * setup.half_thickness * d.size,
                d.temperature,
                s / (rest + s + n),
                n / (rest + s + n),
                in_lean(d, levels[0]),
                d.ph,
                in_lean(d, levels[3])};
    }

    std::shared_ptr<const cure::Meshes> solved_;
    Index spots_;
    double target_ = 0; ///< of the central case, over partition x concentration [1]
    LevelTable nitrite_, salt_;
};

const cure::Outcome& checked(const cure::Outcome& p) {
    if (!p.has_nitrite) {
        throw base::InputError("--brine-nitrite", "",
                               "a slice tells by its colour, and this brine has no nitrite",
                               "add --brine-nitrite or --premix, or leave the slice out");
    }
    if (p.solved->setup().clock) {
        throw base::RunError("a slice cannot be judged for a cooler with a log");
    }
    return p;
}

/// First time [s] that a rising level is at zero or above, to a millionth; infinite: not by `last`.
double rise(const std::function<double(double)>& level, double first, double last) {
    if (level(first) >= 0)
        return first;
    if (level(last) < 0)
        return std::numeric_limits<double>::infinity();
    double before = std::log(first), after = std::log(last);
    for (int step = 0; step < 25 && before < after; ++step) {
        const double middle = 0.5 * (before + after);
        (level(std::exp(middle)) < 0 ? before : after) = middle;
    }
    return std::exp(after);
}

} // namespace

SliceLines slice_lines(const cure::Outcome& p) {
    return {p.solved->fine->grid(), p.solved->setup().power > 0, p.first().core.x};
}

SliceModel::SliceModel(const cure::Outcome& p, const SliceReach& reach)
    : lines_(slice_lines(checked(p))), fields_(std::make_shared<BrineFields>(p, lines_, reach)) {}

Slice SliceModel::operator()(const Draw& d, double time) const {
    const Levels levels = fields_->at(d, time);
    Slice s = lines_.read(levels.profile, d.size);
    s.time = time;
    s.through = levels.least >= 0;
    s.found = levels.found;
    return s;
}

double SliceModel::through_time(const Draw& d, double horizon) const {
    return rise([&](double t) { return fields_->least(d, t); }, fields_->first(d), horizon);
}

Fate SliceModel::fate(const Draw& d, const materials::Band& taste, double horizon) const {
    const auto salt = [&](double level) {
        return rise([&](double t) { return fields_->mean_salt(d, t) - level; }, fields_->first(d),
                    horizon);
    };
    return {through_time(d, horizon), salt(taste.low), salt(taste.high)};
}

} // namespace tidemark::inference
