// SPDX-License-Identifier: MIT
/// What is read off a schedule that has been followed.
#include "cure/track.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::cure {

double Track::surface(double t, std::size_t kind) const {
    return rim_[kind].dot(grid(kind).salt(t));
}

double Track::core_of(const geometry::Lowest& low, const Grid& g, const Eigen::VectorXd& counts,
                      double t) const {
    double value = low.value;
    if (!c_.nitrite) // where it cured last, but what is there now
        value += g.value_at(g.salt(t) - counts, low.at);
    return across_ ? std::max(0.0, value - rows(cure(*across_, t)).first) : value;
}

Eigen::VectorXd Track::cure(const Grid& grid, double t) const {
    const auto counts = [&](double when) {
        return c_.nitrite ? grid.arrived(when) : grid.salt(when);
    };
    Eigen::VectorXd most = counts(t);
    for (std::size_t k = 0; k < spans_.size(); ++k)
        if (stage(k).kind == Stage::Kind::soak && spans_[k].from < t)
            most = most.cwiseMax(counts(spans_[k].from));
    return most;
}

std::pair<double, double> Track::rows(const Eigen::VectorXd& nodal) const {
    const double mean = across_->lean_water.dot(nodal) / across_->lean_water.sum();
    return {std::max(0.0, mean - across_->lowest(nodal).value),
            std::max(0.0, nodal.maxCoeff() - mean)};
}

double Track::core(double t, std::size_t kind) const {
    const Grid& g = grid(kind);
    const Eigen::VectorXd counts = cure(g, t);
    return core_of(g.lowest(counts), g, counts, t);
}

bool Track::between_needles(double t) const {
    return across_ && rows(cure(*across_, t)).first > c_.kinds.front().levels.between_needles *
                                                          grid().lowest(cure(grid(), t)).value;
}

/// First time within the stages that `level` is at its target [s]. `near` is a coarser mesh's.
std::optional<double> Track::reached(const Level& level, double target,
                                     const std::optional<double>& near) const {
    target *= 1 - 1e-7; // a stage that waited for it ends on it, to a bracket of 1e-9 in time
    if (level(0) >= target)
        return 0;
    for (const double margin : {0.02, 0.2}) { // it crosses near the coarse one's time
        if (!near || !(*near > 0))
            break;
        const double from = (1 - margin) * *near, to = std::min((1 + margin) * *near, end());
        if (from < to && level(from) < target && level(to) >= target)
            return crossing(level, target, from, to);
    }
    for (const Span& s : spans_) {
        const double length = s.to - s.from;
        if (!(length > 0))
            continue;
        const auto value = [&](double t) { return level(s.from + std::min(t, length)); };
        if (value(0) >= target)
            return s.from;
        if (const auto t = first_time(value, target, length / 1000, length))
            return s.from + *t;
    }
    return std::nullopt;
}

/// The salt alone decides, as far as the last dosing stage was solved.
std::optional<double> Track::last_good(std::size_t kind, const std::optional<double>& near) const {
    const Span& s = spans_[last_dosing_];
    const double target = c_.kinds[kind].levels.too_salty, from = s.from;
    const auto salt = [&](double t) { return grid(kind).mean_salt(t); };
    if (salt(0) >= target)
        return 0;
    if (from > 0 && salt(from) >= target) // past it before the stage began
        return first_time(salt, target, from / 1000, from);
    const double first =
        near && *near > from
            ? 0.98 * (*near - from)
            : first_of_interest(c_.kinds[kind].stages[last_dosing_].setup, s.solved);
    const auto t = first_time([&](double into) { return salt(from + into); }, target,
                              std::min(first, s.solved), s.solved);
    return t ? std::optional(from + *t) : std::nullopt;
}

void Track::find(const Track* coarse) {
    for (std::size_t k = 0; k < tank_.size(); ++k) {
        const Times near = coarse ? coarse->times(k) : Times{};
        const Levels& levels = c_.kinds[k].levels;
        const Level of_core = [this, k](double t) { return core(t, k); };
        const Level salt = [this, k](double t) { return grid(k).mean_salt(t); };
        Times& t = times_[k];
        const bool stays = c_.nitrite || core(end(), k) >= levels.cured * (1 - 1e-7);
        if (stays) { // salt that is taken out again is no cure
            t.cured = reached(of_core, levels.cured, near.cured);
            if (c_.nitrite)
                t.lasting = reached(of_core, levels.lasting, near.lasting);
        }
        t.salted = reached(salt, levels.salted, near.salted);
    }
}

std::pair<double, double> Track::extremes(double t, std::size_t kind) const {
    const auto [least, most] = grid(kind).salt_extremes(t);
    if (!across_)
        return {least, most};
    const auto [dip, peak] = rows(across_->salt(t));
    return {std::max(0.0, least - dip), most + peak};
}

double Track::even(double t, std::size_t kind) const {
    const auto [least, most] = extremes(t, kind);
    Reading r;
    r.least_salt = lean(kind).salt_share(std::max(least, 0.0));
    r.most_salt = lean(kind).salt_share(most);
    r.mean_salt = lean(kind).salt_share(grid(kind).mean_salt(t));
    return r.even();
}

double Track::core_water_salt(double t, std::size_t kind) const {
    const double value = grid(kind).value_at(grid(kind).salt(t), core_at(t, kind)),
                 left = across_ ? value - rows(across_->salt(t)).first : value,
                 salt = std::max(0.0, left);
    return salt / (1 + salt);
}

geometry::Point Track::core_at(double t, std::size_t kind) const {
    return grid(kind).lowest(cure(grid(kind), t)).at;
}

Reading Track::at(double t, std::size_t kind, const std::optional<geometry::Point>& there) const {
    const Grid& g = grid(kind);
    const Tissue& tissue = lean(kind);
    const double w = tissue.water_fraction;
    Reading r;
    r.time = t;
    r.mean_salt = tissue.salt_share(g.mean_salt(t));
    const Eigen::VectorXd salt = g.salt(t);
    r.surface_salt = tissue.salt_share(rim_[kind].dot(salt));
    const auto [least, most] = extremes(t, kind);
    r.least_salt = tissue.salt_share(std::max(least, 0.0));
    r.most_salt = tissue.salt_share(most);
    // Of the core, which a soak does not move to the face; what rows of needles leave out counts
    // too.
    const Eigen::VectorXd counts = cure(g, t);
    const geometry::Lowest low = g.lowest(counts);
    const geometry::Point where = there && !across_ ? *there : low.at;
    const auto of_core = [&](const Eigen::VectorXd& nodal, const auto& of) {
        const double value = g.value_at(nodal, where);
        return std::max(0.0, across_ ? value - rows(of(*across_)).first : value);
    };
    const double at_core = of_core(salt, [&](const Grid& on) { return on.salt(t); });
    r.core_salt = tissue.salt_share(at_core);
    r.core_water_salt = at_core / (1 + at_core);
    if (c_.nitrite) {
        r.core_arrived = w * core_of(low, g, counts, t);
        r.mean_arrived = w * g.mean_arrived(t);
        r.mean_residual = w * g.mean_residual(t);
        r.core_residual =
            w * of_core(g.residual(t), [&](const Grid& on) { return on.residual(t); });
    }
    return r;
}

double Track::mass_balance_error() const {
    const double error = tank_.mass_balance_error(end());
    return across_ ? std::max(error, across_->mass_balance_error(end())) : error;
}

} // namespace tidemark::cure
