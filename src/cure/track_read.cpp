// SPDX-License-Identifier: MIT
/// What is read off a schedule that has been followed.
#include "cure/track.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace tidemark::cure {

double Track::surface(double t) const {
    return rim_.dot(section->salt(t));
}

Eigen::VectorXd Track::cure(const Grid& grid, double t) const {
    const auto counts = [&](double when) {
        return levels_.nitrite ? grid.arrived(when) : grid.salt(when);
    };
    Eigen::VectorXd most = counts(t);
    for (std::size_t k = 0; k < spans_.size(); ++k)
        if (stages_[k].stage.kind == Stage::Kind::soak && spans_[k].from < t)
            most = most.cwiseMax(counts(spans_[k].from));
    return most;
}

std::pair<double, double> Track::rows(const Eigen::VectorXd& nodal) const {
    // Averaged along the piece, the plane is a cosine series in the place along the row.
    const Eigen::VectorXd series = modes_.transpose() * nodal;
    double low = std::numeric_limits<double>::infinity(), high = 0;
    constexpr int places = 16; // from a needle to half way to the next
    for (int j = 0; j <= places; ++j) {
        double value = 0;
        for (Eigen::Index k = 0; k < series.size(); ++k)
            value += series[k] * std::cos(std::numbers::pi * static_cast<double>(k) * j / places);
        low = std::min(low, value);
        high = std::max(high, value);
    }
    return {std::max(0.0, low - across->lowest(nodal).value),
            std::max(0.0, nodal.maxCoeff() - high)};
}

double Track::core(double t) const {
    const Eigen::VectorXd counts = cure(*section, t);
    const geometry::Lowest low = section->lowest(counts);
    double value = low.value;
    if (!levels_.nitrite) // where it cured last, but what is there now
        value += section->value_at(section->salt(t) - counts, low.at);
    return across ? std::max(0.0, value - rows(cure(*across, t)).first) : value;
}

bool Track::between_needles(double t) const {
    return across && rows(cure(*across, t)).first >
                         levels_.between_needles * section->lowest(cure(*section, t)).value;
}

std::optional<double> Track::core_time(double level) const {
    level *= 1 - 1e-7; // a stage that waited for it ends on it, to a bracket of 1e-9 in time
    if (!levels_.nitrite && core(end()) < level) // salt that is taken out again is no cure
        return std::nullopt;
    if (core(0) >= level)
        return 0;
    for (const Span& s : spans_) {
        const double length = s.to - s.from;
        if (!(length > 0))
            continue;
        const auto value = [&](double t) { return core(s.from + std::min(t, length)); };
        if (value(0) >= level)
            return s.from;
        const auto t = first_time(value, level, length / 1000, length);
        if (t)
            return s.from + *t;
    }
    return std::nullopt;
}

std::pair<double, double> Track::extremes(double t) const {
    const auto [least, most] = section->salt_extremes(t);
    if (!across)
        return {least, most};
    const auto [dip, peak] = rows(across->salt(t));
    return {std::max(0.0, least - dip), most + peak};
}

double Track::even(double t) const {
    const auto [least, most] = extremes(t);
    Reading r;
    r.least_salt = lean().salt_share(std::max(least, 0.0));
    r.most_salt = lean().salt_share(most);
    r.mean_salt = lean().salt_share(section->mean_salt(t));
    return r.even();
}

Reading Track::at(double t) const {
    const Tissue& tissue = lean();
    const double w = tissue.water_fraction;
    Reading r;
    r.time = t;
    r.mean_salt = tissue.salt_share(section->mean_salt(t));
    r.surface_salt = tissue.salt_share(surface(t));
    const auto [least, most] = extremes(t);
    r.least_salt = tissue.salt_share(std::max(least, 0.0));
    r.most_salt = tissue.salt_share(most);
    // Of the core, which a soak does not move to the face; what rows of needles leave out counts
    // too.
    const geometry::Point core_at = section->lowest(cure(*section, t)).at;
    const auto of_core = [&](const auto& nodal) {
        const double value = section->value_at(nodal(*section), core_at);
        return std::max(0.0, across ? value - rows(nodal(*across)).first : value);
    };
    const double at_core = of_core([&](const Grid& g) { return g.salt(t); });
    r.core_salt = tissue.salt_share(at_core);
    r.core_water_salt = at_core / (1 + at_core);
    if (levels_.nitrite) {
        r.core_arrived = w * core(t);
        r.mean_arrived = w * section->mean_arrived(t);
        r.mean_residual = w * section->mean_residual(t);
        r.core_residual = w * of_core([&](const Grid& g) { return g.residual(t); });
    }
    return r;
}

double Track::mass_balance_error() const {
    double error = section->mass_balance_error(end());
    if (across)
        error = std::max(error, across->mass_balance_error(end()));
    return error;
}

} // namespace tidemark::cure
