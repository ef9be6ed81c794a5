// SPDX-License-Identifier: MIT
#include "cure/prediction.hpp"

#include "base/quantity.hpp"
#include "base/text.hpp"
#include "cure/advice.hpp"
#include "cure/two_meshes.hpp"
#include "materials/colour.hpp"
#include "materials/meat.hpp"
#include "materials/targets.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace tidemark::cure {

namespace {

/// Fills what holds at prediction.at: core, mean, brine, errors.
void state_at(Prediction& p, const Solved& s) {
    const double t = p.at, w = s.setup.tissues.at("lean").water_fraction;
    const auto both = [&](const Level& level) {
        return extrapolated(level(*s.coarse, t), level(*s.fine, t));
    };
    const auto salt_of = [&](double u) { return u * w / (1 + u * w); };

    const geometry::Lowest low = s.fine->lowest(t, p.has_nitrite);
    const double coarse = s.coarse->lowest(t, p.has_nitrite).value;
    const double value = extrapolated(coarse, low.value);
    const double salt =
        p.has_nitrite
            ? both([&](const Grid& g, double when) { return g.value_at(g.salt(when), low.at); })
            : value;
    const transport::System& system = s.fine->salt_chain.last().system;
    const double balance = system.held
                               ? s.setup.salt_bath.partition * s.setup.salt_bath.concentration
                               : system.capacity.dot(system.initial) / system.capacity.sum();
    const bool flat = s.fine->line.has_value();
    p.core = {flat ? 0.0 : low.at.x(), flat ? low.at.x() : low.at.y(), s.fine->depth(low.at)};
    p.core.salt = salt_of(salt);
    p.core.water_salt = salt / (1 + salt);
    p.core.arrived = p.has_nitrite ? value * w : 0;
    p.core.residual = p.has_nitrite ? w * both([&](const Grid& g, double when) {
                                          return g.value_at(g.residual(when), low.at);
                                      })
                                    : 0;
    p.core.of_equilibrium = salt / balance;
    p.core_error = std::abs(low.value - coarse) / 3 * w;

    const double mean = both([](const Grid& g, double when) { return g.mean_salt(when); });
    p.mean.salt = salt_of(mean);
    p.mean.water_salt = mean / (1 + mean);
    p.mean.of_equilibrium = mean / balance;
    p.mean.arrived = w * both([](const Grid& g, double when) { return g.mean_arrived(when); });
    p.mean.residual = w * both([](const Grid& g, double when) { return g.mean_residual(when); });

    const Pickle& pickle = s.setup.pickle;
    p.brine_start = {pickle.salt, pickle.nitrite, pickle.mass};
    const double salt_now = s.fine->salt_chain.bath(t);
    const double nitrite_now = s.fine->nitrite_chain.empty() ? 0 : s.fine->nitrite_chain.bath(t);
    const double rest =
        1 / pickle.water - (pickle.salt + pickle.nitrite) / pickle.water; // per kg water
    const double brine = rest + salt_now + nitrite_now;
    p.brine_end = {salt_now / brine, nitrite_now / brine, pickle.mass * pickle.water * brine};

    p.mass_balance_error = s.fine->mass_balance_error(t);
    p.time_error = s.fine->time_error();
    const transport::Medium& m = s.setup.tissues.at("lean").nitrite;
    p.thiele = p.core.depth * std::sqrt(m.loss / m.diffusivity);
    p.fourier = s.setup.tissues.at("lean").salt.diffusivity * t / (p.core.depth * p.core.depth);
}

} // namespace

Prediction predict(const Case& question, base::Records records, const Progress& progress) {
    const auto report = [&](double done, const char* step) {
        if (progress)
            progress(done, step);
    };
    report(0, "cells");
    Prediction p;
    p.question = question;
    Setup setup = make_setup(question, records);
    p.has_nitrite = setup.pickle.nitrite > 0;
    const double horizon = std::max(question.horizon, question.at.value_or(0));
    const auto solved = std::make_shared<Solved>(std::move(setup), question.cells, horizon);
    p.solved = solved;
    const Solved& s = *p.solved;
    report(0.2, "search");

    const double w = s.setup.tissues.at("lean").water_fraction;
    const std::string& muscle = question.piece.muscle;
    double level = 0; // of the target, in tissue water
    if (p.has_nitrite) {
        p.target = materials::pink_threshold(records, materials::myoglobin(records, muscle));
        p.stable_target = materials::stable_threshold(records, materials::species_of(muscle));
        level = p.target / w;
    } else {
        p.target = materials::salt_floor(records);
        level = p.target / (1 - p.target) / w;
    }
    const Level core = [&](const Grid& g, double t) { return g.lowest(t, p.has_nitrite).value; };
    const materials::Band taste = materials::taste_band(records);
    const double salty = taste.high;
    const Level mean_salt = [](const Grid& g, double t) { return g.mean_salt(t); };
    const auto event = [&](const Level& of, double target, bool nitrite = false) {
        Event e{of, target, nitrite};
        e.search(*s.coarse, s.first, s.last);
        return e;
    };
    Event cured = event(core, level, p.has_nitrite);
    Event salted = event(mean_salt, taste.low / (1 - taste.low) / w);
    Event too_salty = event(mean_salt, salty / (1 - salty) / w);
    std::optional<Event> lasting;
    if (p.has_nitrite)
        lasting = event(core, p.stable_target / w, true);
    p.at = question.at.value_or(cured.coarse.value_or(question.horizon));

    // Solve the fine mesh for the span in which something happens.
    std::vector<Event*> events{&cured, &salted, &too_salty};
    if (lasting)
        events.push_back(&*lasting);
    double from = p.at, to = p.at;
    for (const Event* e : events)
        if (e->coarse) {
            from = std::min(from, *e->coarse);
            to = std::max(to, *e->coarse);
        }
    report(0.3, "fine cells");
    solved->refine(from / 6, std::min(1.25 * to, std::max(s.last, to)));
    report(0.9, "reading off");
    for (Event* e : events)
        e->refine(*s.fine);

    if (cured.time) {
        p.pull = cured.time;
        p.discretisation_error = cured.error + s.fine->salt_chain.time_error() * *cured.time;
    }
    p.salted = salted.time;
    if (too_salty.time) {
        p.last_good = too_salty.time;
        p.last_good_reason = "the mean salt passes " + base::significant(100 * salty, 3) + " %";
    }
    if (lasting)
        p.stable = lasting->time;
    p.at = question.at.value_or(p.pull.value_or(question.horizon));
    p.weight = s.setup.weight;
    p.length = s.setup.length;
    p.cells = static_cast<int>(s.fine->nodes());
    state_at(p, s);
    advise(p, s, records);
    p.parameters = records.used();
    report(1, "done");
    return p;
}

} // namespace tidemark::cure
