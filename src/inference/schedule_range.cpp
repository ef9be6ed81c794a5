// SPDX-License-Identifier: MIT
#include "inference/schedule_range.hpp"

#include "base/side_by_side.hpp"
#include "base/text.hpp"
#include "cure/two_meshes.hpp"
#include "inference/case_inputs.hpp"
#include "inference/least_squares.hpp"
#include "inference/sampling.hpp"
#include "inference/similar.hpp"
#include "materials/brine.hpp"
#include "materials/colour.hpp"
#include "materials/meat.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::inference {
namespace {

constexpr int fitted = 36, held_out = 8; ///< runs
constexpr double coarse_cells = 14, coarse_time = 1e-4, patience = 1000 * 86400.0;

/// Of coordinates(): those that lead, those of them that bend most, all.
constexpr int leading = 3, bending = 2, variables = 8;

/// Cubic in the two that bend most, quadratic in the leading ones, linear in the rest.
Eigen::VectorXd terms(const Eigen::VectorXd& x) {
    Eigen::VectorXd t(1 + variables + leading * (leading + 1) / 2 +
                      bending * (bending + 1) * (bending + 2) / 6);
    t[0] = 1;
    t.segment(1, variables) = x;
    Eigen::Index n = 1 + variables;
    for (int i = 0; i < leading; ++i)
        for (int j = i; j < leading; ++j) {
            t[n++] = x[i] * x[j];
            for (int k = j; k < bending; ++k)
                t[n++] = x[i] * x[j] * x[k];
        }
    return t;
}

std::string si(double value, const char* unit) {
    return base::significant(value, 12) + " " + unit;
}

/// Keeps the salt of a brine to what its water holds: a draw that puts in more leaves it on the
/// floor of the vessel. `most` [kg salt per kg of salt and water]
void saturate(cure::Brine& brine, double most) {
    if (brine.salt) {
        brine.salt = std::min(*brine.salt, most * (1 - brine.nitrite.value_or(0)));
    }
    if (brine.salt_added) {
        const double water = brine.water.value_or(0) + brine.ice.value_or(0) +
                             brine.cold_water.value_or(0),
                     with_premix = brine.premix.value_or(0) *
                                   (1 - brine.premix_strength - brine.premix_nitrate);
        brine.salt_added =
            std::clamp(water * most / (1 - most) - with_premix, 0.0, *brine.salt_added);
    }
}

/// The coldest that the brine of a schedule stands in [K].
double coldest(const cure::Question& plan) {
    double low = plan.base.temperature;
    for (const cure::Stage& stage : plan.stages)
        low = std::min(low, stage.temperature.value_or(low));
    return low;
}

/// The schedule with one draw's numbers in it, on coarse cells.
cure::Question drawn(const cure::Question& plan, const Draw& d, const cure::Setup& setup,
                     base::Records records, double target) {
    cure::Question p = plan;
    cure::Case& c = p.base;
    const std::string& muscle = c.piece.muscle;
    const auto put = [&](const std::string& key, double value, const char* unit) {
        c.overrides.push_back({key, si(value, unit), "a draw"});
    };
    const std::string diffusivity = "muscle." + muscle + ".diffusivity";
    put(diffusivity, records.si(diffusivity) * d.salt_speed / (d.size * d.size), "m2/s");
    if (setup.tissues.contains("fat")) // goes along with the lean
        put("adipose.diffusivity",
            records.si("adipose.diffusivity") * d.salt_speed * d.fat / (d.size * d.size), "m2/s");
    if (d.fat_water != 1)
        put("adipose.water-volume", records.si("adipose.water-volume") * d.fat_water, "");
    if (d.fibres != 1)
        put("diffusion.fibre-ratio", records.si("diffusion.fibre-ratio") * d.fibres, "");
    put("solute.nitrite.diffusivity-ratio",
        records.si("solute.nitrite.diffusivity-ratio") * d.nitrite_speed / d.salt_speed, "");
    for (const char* solute : {"salt", "nitrite"}) {
        const std::string key = std::string("solute.") + solute + ".partition";
        put(key, records.si(key) * d.partition, "");
    }
    const double loss = setup.tissues.at("lean").nitrite.loss * d.loss;
    if (std::erase_if(c.overrides, [](const cure::Case::Override& o) { return o.key == "loss"; }) ==
        0) {
        // By its half-life, for each stage has the loss of its own temperature.
        const std::string half_life =
            c.brine.ascorbate ? "kinetics.half-life-ascorbate" : "kinetics.half-life";
        put(half_life, records.si(half_life) / d.loss, "s");
        if (const char* own = "kinetics.brine-loss-ascorbate"; c.brine.ascorbate)
            put(own, records.si(own) * d.loss, "1/s");
    } else if (loss > 0) {
        put("loss", loss, "1/s");
    } else {
        c.overrides.push_back({"loss", "none", "a draw"});
    }
    if (target > 0) {
        put("colour.threshold.base", 1e6 * target * d.threshold, "ppm");
        c.overrides.push_back({"colour.threshold.slope", "0 g/kg", "a draw"});
        c.overrides.push_back({"colour.eye", "0", "a draw"});
    }
    for (auto* part : {&c.brine.salt, &c.brine.salt_added})
        if (*part)
            **part *= d.salt;
    for (auto* part : {&c.brine.nitrite, &c.brine.premix})
        if (*part)
            **part *= d.nitrite;
    for (cure::Stage& s : p.stages)
        for (double* part : {&s.salt, &s.nitrite, &s.nitrate})
            *part *= d.dose;
    if (p.pump)
        p.pump->share *= d.dose;
    if (p.pump && p.pump->brine)
        for (auto* part : {&p.pump->brine->salt, &p.pump->brine->salt_added,
                           &p.pump->brine->nitrite, &p.pump->brine->premix})
            if (*part)
                **part *= d.needles;
    constexpr double rounding = 1e-9; // so that what is saturated counts as dissolved
    const double most = (1 - rounding) * materials::solubility(records, coldest(plan));
    saturate(c.brine, most);
    if (p.pump && p.pump->brine)
        saturate(*p.pump->brine, most);
    c.cells = coarse_cells;
    c.tolerance = coarse_time;
    for (cure::Stage& s : p.stages)
        s.most = std::max(s.most, patience);
    return p;
}

bool waits(const cure::Question& plan) {
    return std::ranges::any_of(plan.stages,
                               [](const cure::Stage& s) { return s.until.has_value(); });
}

struct Outcome {
    double cured = 0, ready = 0; ///< logarithms of [s]
    double margin = 0;           ///< logarithm of what the core has over what it needs
    double salt = 0;             ///< mean at the end [kg/kg]
};

Outcome outcome(const cure::Question& plan, const base::Records& records, bool nitrite) {
    const cure::Rough r = cure::run_rough(plan, records);
    const double core = nitrite ? r.end.core_arrived : r.end.core_salt;
    Outcome o;
    o.ready = std::log(std::max(r.end_time, 60.0));
    o.cured = std::log(std::max(r.cured.value_or(r.end_time), 60.0));
    o.margin = std::log(std::max(core / r.target, 1e-6));
    if (r.cured) { // a wait ends with what it waits for: how soon it came tells how safe that is
        const double limit = waits(plan) ? patience : r.end_time;
        o.margin = std::max(o.margin, std::clamp(std::log(limit / *r.cured), 0.0, 1.0));
    }
    o.salt = r.end.mean_salt;
    return o;
}

DayRange range(const std::vector<double>& times) {
    return {quantile(times, 0.05), quantile(times, 0.5), quantile(times, 0.95),
            static_cast<double>(std::ranges::count(times, never)) /
                static_cast<double>(times.size())};
}

} // namespace

cure::Question with_draw(const cure::Question& plan, const Draw& draw, const cure::Setup& setup,
                         const base::Records& records, double target) {
    return drawn(plan, draw, setup, records, target);
}

Inputs schedule_inputs(const cure::Outcome& o, const base::Records& records,
                       const InputsOf& inputs_of) {
    cure::Setup setup = o.solved->setup();
    setup.pickle.nitrite = o.has_nitrite ? 1 : 0; // by whatever way it goes in
    Inputs inputs = inputs_of(o.question.base, setup);
    const cure::Question& q = o.question;
    if (q.pump || std::ranges::any_of(q.stages, &cure::Stage::dry))
        inputs.add(
            {"dose",
             "dose",
             {Distribution::Kind::lognormal, 1, as_set(q.base, records).si("uncertainty.dose")}});
    if (q.pump && q.pump->brine) // their brine may be off in its strength as any other
        inputs.add({"needles",
                    "dose",
                    {Distribution::Kind::lognormal, 1,
                     as_set(q.base, records).si("uncertainty.weighed")}});
    return inputs;
}

Eigen::VectorXd coordinates(const Draw& d) {
    const double clock = d.pace * inference::clock(true, d);
    Eigen::VectorXd x(variables);
    x << std::log(d.loss / clock), std::log(d.threshold / (d.partition * d.nitrite)),
        std::log(clock), std::log(d.salt_speed / d.nitrite_speed), std::log(d.partition),
        std::log(d.salt), std::log(d.nitrite), std::log(d.dose * d.needles);
    return x;
}

bool in_base_brine(const cure::Question& plan) {
    return (plan.pump && !plan.pump->brine) ||
           std::ranges::any_of(plan.stages, [](const cure::Stage& s) {
               return s.kind == cure::Stage::Kind::cover && !s.brine;
           });
}

ScheduleRange schedule_range(const cure::Outcome& result, const base::Records& library,
                             const Inputs& inputs, int draws) {
    const cure::Question& plan = result.question;
    base::Records records = library;
    const cure::Setup setup =
        cure::make_piece(plan.base, records); // and with it the case's overrides
    const Drawing drawing(inputs, plan.base, setup, library);
    const auto columns = static_cast<Eigen::Index>(inputs.list().size());
    const bool in_brine = in_base_brine(plan);
    const auto sample = [&](int n, std::uint64_t seed) {
        std::vector<Draw> list;
        const Eigen::MatrixXd values =
            inputs.values(uniforms(n, std::max<Eigen::Index>(1, columns), seed).leftCols(columns));
        for (Eigen::Index i = 0; i < values.rows(); ++i) {
            list.push_back(drawing(values.row(i)));
            if (!in_brine) // how its salts were measured out is then nothing to it
                list.back().salt = list.back().nitrite = list.back().dose;
        }
        return list;
    };
    const std::vector<Draw> nodes = sample(fitted + held_out, 7);
    std::vector<cure::Question> plans;
    for (const Draw& d : nodes)
        plans.push_back(
            drawn(plan, d, setup, records, result.has_nitrite ? result.first().target : 0));
    std::vector<Outcome> all(plans.size());
    base::side_by_side(plans.size(), [&](std::size_t k) {
        all[k] = outcome(plans[k], library, result.has_nitrite);
    });

    Eigen::MatrixXd A(fitted, terms(coordinates(nodes[0])).size()), y(fitted, 4);
    for (int i = 0; i < fitted; ++i) {
        A.row(i) = terms(coordinates(nodes[i]));
        y.row(i) << all[i].cured, all[i].ready, all[i].margin, all[i].salt;
    }
    const Eigen::MatrixXd fit = least_squares(A, y);

    ScheduleRange r;
    r.draws = draws;
    r.runs = fitted + held_out;
    double square = 0;
    for (int i = fitted; i < fitted + held_out; ++i) {
        const Eigen::VectorXd t = fit.transpose() * terms(coordinates(nodes[i]));
        square += std::pow(t[1] - all[i].ready, 2) + std::pow(t[0] - all[i].cured, 2);
    }
    r.error = std::sqrt(square / (2 * held_out));
    // The surface knows the slopes; the schedule's own run, on finer cells, the level.
    const Outcome coarse =
        outcome(drawn(plan, Draw{}, setup, records, result.has_nitrite ? result.first().target : 0),
                library, result.has_nitrite);
    const double end = result.first().stages.back().to;
    const double shift_ready = std::log(std::max(end, 60.0)) - coarse.ready,
                 shift_cured = result.first().cured
                                   ? std::log(std::max(*result.first().cured, 60.0)) - coarse.cured
                                   : 0;
    std::vector<double> cured, ready, salt;
    const bool always = std::ranges::all_of(all, [](const Outcome& o) { return o.margin >= 0; });
    const bool waiting = waits(plan);
    double longest = 0; // what the schedule waits at most: beyond it the surface only guesses
    for (const cure::Stage& s : plan.stages)
        longest += s.duration.value_or(s.most);
    for (const Draw& d : sample(draws, 1)) {
        const Eigen::VectorXd t = fit.transpose() * terms(coordinates(d));
        const double rested = waiting ? std::exp(t[1] + shift_ready) : end;
        ready.push_back(rested > longest * (1 + 1e-9) ? never : rested);
        const double pink = std::min(std::exp(t[0] + shift_cured), rested);
        cured.push_back((always || t[2] >= 0) && pink <= longest * (1 + 1e-9) ? pink : never);
        salt.push_back(t[3] + result.first().stages.back().end.mean_salt - coarse.salt);
    }
    r.cured = range(cured);
    r.ready = range(ready);
    r.chance_cured = 1 - r.cured.share_never;
    r.salt_low = quantile(salt, 0.05);
    r.salt_half = quantile(salt, 0.5);
    r.salt_high = quantile(salt, 0.95);
    return r;
}

} // namespace tidemark::inference
