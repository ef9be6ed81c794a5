// SPDX-License-Identifier: MIT
/// The events and their targets are those of cure/track_read.cpp; a test holds them together.
#include "inference/forward.hpp"

#include "base/side_by_side.hpp"
#include "cure/two_meshes.hpp"
#include "materials/targets.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace tidemark::inference {
namespace {

using Eigen::VectorXd;

constexpr double never = std::numeric_limits<double>::infinity();

bool is_nitrite(Level level) {
    return level == Level::nitrite_core || level == Level::nitrite_mean;
}

double latest(double horizon, const cure::Outcome& p, const std::vector<Draw>& draws) {
    double most = 1;
    for (const Draw& d : draws) {
        const double pace = std::max({d.pace, d.pace_lasting, d.pace_salted, d.pace_too_salty});
        most = std::max(most, pace * clock(false, d));
        if (p.has_nitrite) {
            most = std::max(most, pace * clock(true, d));
        }
    }
    return horizon * most;
}

} // namespace

Forward::Forward(const cure::Outcome& p, base::Records records, const std::vector<Draw>& draws)
    : prediction_(p), horizon_(std::max(p.question.base.horizon, p.question.base.at.value_or(0))),
      coarse_(p.solved->setup(), p.solved->coarse->grid(),
              cure::first_of_interest(p.solved->setup(), horizon_), latest(horizon_, p, draws)),
      fine_(p.solved->setup(), p.solved->fine->grid()) {
    records = as_set(p.question.base, std::move(records));
    const cure::Tissue& lean = p.solved->setup().tissues.at("lean");
    const double water = lean.water_fraction;
    const materials::Band taste = materials::taste_band(records);
    if (p.has_nitrite) {
        events_.push_back(
            {Level::nitrite_core, p.first().target / water, &Draw::threshold, &Draw::pace});
    } else {
        events_.push_back(
            {Level::salt_core, lean.concentration(p.first().target), nullptr, &Draw::pace});
    }
    events_.push_back(
        {Level::salt_mean, lean.concentration(taste.low), nullptr, &Draw::pace_salted});
    events_.push_back(
        {Level::salt_mean, lean.concentration(taste.high), nullptr, &Draw::pace_too_salty});
    if (p.has_nitrite) {
        events_.push_back({Level::nitrite_core, p.first().stable_target / water, &Draw::lasting,
                           &Draw::pace_lasting});
    }
    // One surface for each level that is followed, for the targets of all its events.
    struct Served {
        Box box;
        double low = never, high = 0;
    };
    std::map<Level, Served> served;
    for (const Event& event : events_) {
        Served& s = served[event.level];
        const auto widen = [&](const Draw& d) {
            s.box.widen(similar(p.solved->setup(), is_nitrite(event.level), d));
            s.low = std::min(s.low, target(event, d));
            s.high = std::max(s.high, target(event, d));
        };
        widen({});
        std::ranges::for_each(draws, widen);
    }
    std::map<Level, std::future<Surface>> made; // beside each other
    for (const auto& [level, s] : served) {
        made[level] = base::beside([this, level = level, s = s] {
            return Surface(coarse_, fine_, level, s.box, s.low, s.high);
        });
    }
    for (auto& [level, surface] : made) {
        surfaces_.try_emplace(level, surface.get());
    }
}

double Forward::target(const Event& event, const Draw& d) const {
    const cure::Setup& setup = prediction_.solved->setup();
    const transport::Bath& bath = is_nitrite(event.level) ? setup.nitrite_bath : setup.salt_bath;
    const double brine = is_nitrite(event.level) ? d.nitrite : d.salt;
    return event.target * (event.factor ? d.*event.factor : 1) /
           (bath.partition * bath.concentration * d.partition * brine);
}

VectorXd Forward::curve(Level level, const Draw& d) const {
    return surfaces_.at(level).curve(similar(prediction_.solved->setup(), is_nitrite(level), d));
}

double Forward::time(const Event& event, const VectorXd& curve, const Draw& d) const {
    const auto t = surfaces_.at(event.level).time(curve, target(event, d));
    const double own = t ? *t / (clock(is_nitrite(event.level), d) * d.*event.pace) : never;
    return own <= horizon_ ? own : never;
}

Days Forward::operator()(const Draw& d) const {
    const VectorXd core = curve(events_[0].level, d);
    const auto [salted, too_salty] = salt(d);
    return {time(events_[0], core, d), events_.size() > 3 ? time(events_[3], core, d) : never,
            salted, too_salty};
}

double Forward::pull(const Draw& d) const {
    return time(events_[0], curve(events_[0].level, d), d);
}

std::pair<double, double> Forward::salt(const Draw& d) const {
    const VectorXd mean = curve(Level::salt_mean, d);
    return {time(events_[1], mean, d), time(events_[2], mean, d)};
}

double Forward::error(const Draw& d) const {
    const Event& pull = events_[0];
    return surfaces_.at(pull.level)
        .error(similar(prediction_.solved->setup(), is_nitrite(pull.level), d), target(pull, d));
}

} // namespace tidemark::inference
