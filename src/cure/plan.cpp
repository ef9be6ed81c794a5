// SPDX-License-Identifier: MIT
#include "cure/plan.hpp"

#include "base/text.hpp"
#include "cure/picture.hpp"
#include "cure/plan_advice.hpp"
#include "cure/plan_setup.hpp"
#include "cure/say.hpp"
#include "cure/two_meshes.hpp"
#include "materials/colour.hpp"
#include "materials/meat.hpp"
#include "materials/targets.hpp"

#include <algorithm>
#include <cmath>

namespace tidemark::cure {

/// The setups outlive the tracks that refer to them.
class PlanSolved {
public:
    explicit PlanSolved(PlanSetup s) : setup(std::move(s)) {}
    PlanSetup setup;
    std::unique_ptr<Track> coarse, fine;

    /// The first stage whose wait came true on one mesh only; the number of stages if there is
    /// none.
    std::size_t parting() const {
        std::size_t k = 0;
        while (k < setup.stages.size() && coarse->spans()[k].met == fine->spans()[k].met)
            ++k;
        return k;
    }
    /// Whether times on the two meshes are of the same schedule on both.
    bool alike(const std::optional<double>& on_coarse, const std::optional<double>& on_fine) const {
        const std::size_t k = parting();
        return k == setup.stages.size() || (on_coarse.value_or(0) <= coarse->spans()[k].to &&
                                            on_fine.value_or(0) <= fine->spans()[k].to);
    }
};

namespace {

using cure::extrapolated;

Reading extrapolated(const Reading& c, const Reading& f) {
    Reading r = f;
    for (double Reading::*m :
         {&Reading::time, &Reading::mean_salt, &Reading::core_salt, &Reading::core_water_salt,
          &Reading::surface_salt, &Reading::least_salt, &Reading::most_salt, &Reading::core_arrived,
          &Reading::mean_arrived, &Reading::core_residual, &Reading::mean_residual})
        r.*m = std::max(0.0, extrapolated(c.*m, f.*m));
    return r;
}

/// A time found on each mesh: the fine one's alone once the two have gone different ways.
std::optional<double> together(const PlanSolved& p, const std::optional<double>& coarse,
                               const std::optional<double>& fine) {
    return p.alike(coarse, fine) ? extrapolated(coarse, fine) : fine;
}

/// Of the cured time on the fine mesh [s]; none where the coarse one tells nothing of it.
std::optional<double> cured_error(const PlanSolved& p, double level,
                                  const std::optional<double>& coarse,
                                  const std::optional<double>& fine) {
    if (!fine)
        return std::nullopt;
    // While deposits are about as narrow as cells the error may fall as their size, not yet as its
    // square: then the extrapolated day is off by two thirds of the difference.
    if (coarse && p.alike(coarse, fine)) // the core is read on the track, past its stages
        return (p.setup.pumped ? 2 : 1) * fine_error(*coarse, *fine) +
               along_error(
                   *p.fine->section, [&](const Grid&, double t) { return p.fine->core(t); }, *fine,
                   p.setup.nitrite);
    if (!p.alike(fine, fine) || *fine > p.coarse->end())
        return std::nullopt;
    // The coarse mesh never got there: how far it is short of it then, at the fine one's pace.
    const double before = 0.98 * *fine, pace = (level - p.fine->core(before)) / (*fine - before);
    return pace > 0 ? std::optional((level - p.coarse->core(*fine)) / pace) : std::nullopt;
}

std::unique_ptr<Grid> filled(std::unique_ptr<Grid> grid, const PlanSetup& setup, const Plan& plan,
                             bool across) {
    if (plan.pump)
        inject(*grid, setup, across);
    return grid;
}

std::unique_ptr<Track> coarse_track(const PlanSetup& s, const Levels& levels, const Plan& plan) {
    Plane across;
    if (s.across) {
        // At 24 cells in the piece 32 over the plane, and never fewer than 8 from needle to needle:
        // 16 in a plane of 2 by 2.
        const double plane = geometry::bounds(s.across->section->outline).height(),
                     size = std::min(plane / 32, s.across->half_thickness / 4) * 24;
        across.grid =
            filled(std::make_unique<Grid>(*s.across, geometry::triangulate(*s.across->section,
                                                                           size / plan.base.cells)),
                   s, plan, true);
    }
    return std::make_unique<Track>(
        s.stages, levels,
        filled(coarse_grid(s.stages.front().setup, plan.base.cells), s, plan, false),
        std::move(across));
}

std::unique_ptr<Track> fine_track(const PlanSetup& s, const Levels& levels, const Plan& plan,
                                  const Track& coarse) {
    Plane across;
    if (s.across)
        across.grid = filled(halved(*s.across, *coarse.across), s, plan, true);
    return std::make_unique<Track>(
        s.stages, levels, filled(halved(s.stages.front().setup, *coarse.section), s, plan, false),
        std::move(across), &coarse);
}

BrineState bath_state(const Setup& s, double salt, double nitrite) {
    const double rest =
        s.pickle.water > 0 ? (1 - s.pickle.salt - s.pickle.nitrite) / s.pickle.water : 1;
    const double brine = rest + salt + nitrite; // per kg of water
    return {salt / brine, nitrite / brine, s.salt_bath.water * s.units * brine};
}

StageResult stage_result(const PlanSolved& p, std::size_t k, double from) {
    const StageSetup& setup = p.setup.stages[k];
    // Once they have gone different ways the fine mesh is set beside itself: that leaves its
    // values.
    const Track& fine = *p.fine;
    const Track& coarse = k < p.parting() ? *p.coarse : fine;
    const Track::Span &c = coarse.spans()[k], &f = fine.spans()[k];
    StageResult r;
    r.stage = setup.stage;
    r.from = from;
    r.to = extrapolated(c.to, f.to);
    r.temperature = setup.stage.log ? setup.stage.log->between(r.from, r.to).mean()
                                    : setup.stage.temperature.value_or(0);
    r.met = f.met;
    r.barely = f.met != p.coarse->spans()[k].met;
    r.end = extrapolated(coarse.at(c.to), fine.at(f.to));
    r.gone = extrapolated(c.gone, f.gone);
    const double units = setup.setup.units;
    using Sides = transport::Chain Grid::*;
    const auto both = [&](Sides chain, const auto& ask) { // of the two meshes
        return extrapolated(ask((*coarse.section).*chain, c), ask((*fine.section).*chain, f));
    };
    const auto taken = [&](const transport::Chain& chain, const Track::Span& s) {
        return chain.empty() ? 0.0 : units * chain.taken_between(s.from, s.to);
    };
    r.salt_taken = both(&Grid::salt_chain, taken);
    r.nitrite_taken = both(&Grid::nitrite_chain, taken);
    const bool dry = setup.stage.kind == Stage::Kind::rub || setup.stage.kind == Stage::Kind::bag;
    if (dry) {
        r.salt_left = units * setup.salt.load - r.salt_taken;
        r.nitrite_left = units * setup.nitrite.load - r.nitrite_taken;
    } else if (setup.stage.kind != Stage::Kind::rest && f.to > f.from) {
        const auto bath = [&](const transport::Chain& chain, const Track::Span& s) {
            return chain.empty() ? 0.0 : chain.bath(s.to);
        };
        const double salt = both(&Grid::salt_chain, bath),
                     nitrite = both(&Grid::nitrite_chain, bath);
        r.bath_end = bath_state(setup.setup, salt, nitrite);
        const double water = setup.setup.salt_bath.water;
        if (std::isfinite(water)) { // what the baths held at the start is what they hold and gave
            r.salt_left = units * water * salt;
            r.nitrite_left = units * water * nitrite;
            const double shared = units * water;
            r.bath_start = bath_state(setup.setup, salt + r.salt_taken / shared,
                                      nitrite + r.nitrite_taken / shared);
        } else {
            r.bath_start = r.bath_end;
        }
        if (setup.stage.kind == Stage::Kind::soak) { // fresh, however often
            r.bath_start = bath_state(setup.setup, 0, 0);
            r.salt_left = -r.salt_taken;
            r.nitrite_left = -r.nitrite_taken;
        }
    }
    return r;
}

/// Where the least-cured lean of the section lies at the end, with what it holds.
Spot core_spot(const PlanSolved& p, bool nitrite) {
    const Track& t = *p.fine;
    const Grid& g = *t.section;
    const Tissue& lean = p.setup.stages.front().setup.tissues.at("lean");
    const geometry::Lowest low = g.lowest(t.cure(g, t.end()));
    Spot s{g.line ? 0.0 : low.at.x(), g.line ? low.at.x() : low.at.y(), g.depth(low.at)};
    const double salt = g.value_at(g.salt(t.end()), low.at);
    s.salt = lean.salt_share(salt);
    s.water_salt = salt / (1 + salt);
    s.arrived = nitrite ? lean.water_fraction * low.value : 0;
    s.residual = nitrite ? lean.water_fraction * g.value_at(g.residual(t.end()), low.at) : 0;
    return s;
}

void course(PlanResult& r, const PlanSolved& p) {
    constexpr int points = 16;
    for (const Track::Span& span : p.fine->spans())
        for (int i = 0; i <= points; ++i) { // denser at the beginning, where things happen fast
            const double share = static_cast<double>(i) / points;
            if (span.to > span.from)
                r.course.push_back(p.fine->at(span.from + share * share * (span.to - span.from)));
        }
}

/// What the schedule is judged by; the targets go into the result too.
Levels judged_by(const Plan& plan, const PlanSetup& setup, base::Records& records, PlanResult& r) {
    const Tissue& lean = setup.stages.front().setup.tissues.at("lean");
    const std::string& muscle = plan.base.piece.muscle;
    r.has_nitrite = setup.nitrite;
    Levels levels;
    levels.nitrite = setup.nitrite;
    if (setup.nitrite) {
        r.target = materials::pink_threshold(records, materials::myoglobin(records, muscle));
        r.stable_target = materials::stable_threshold(records, materials::species_of(muscle));
        levels.cured = r.target / lean.water_fraction;
        levels.lasting = r.stable_target / lean.water_fraction;
    } else {
        r.target = materials::salt_floor(records);
        levels.cured = levels.lasting = lean.concentration(r.target);
    }
    levels.too_salty = lean.concentration(materials::taste_band(records).high);
    levels.surface = r.surface_depth = materials::surface_depth(records);
    if (plan.pump)
        levels.between_needles = materials::told_between_needles(records);
    return levels;
}

} // namespace

Rough run_rough(const Plan& plan, base::Records records) {
    const PlanSetup setup = make_plan_setup(plan, records);
    PlanResult r;
    const Levels levels = judged_by(plan, setup, records, r);
    const auto track = coarse_track(setup, levels, plan);
    return {track->core_time(levels.cured), track->end(), track->at(track->end()), r.target};
}

PlanResult run(const Plan& plan, base::Records records, const Progress& progress) {
    const auto report = [&](double done, const char* step) {
        if (progress)
            progress(done, step);
    };
    report(0, "cells");
    PlanResult r;
    r.plan = plan;
    const auto solved = std::make_shared<PlanSolved>(make_plan_setup(plan, records));
    r.solved = solved;
    const PlanSetup& setup = solved->setup;
    check_shared_out(setup);
    const Setup& first = setup.stages.front().setup;
    const Tissue& lean = first.tissues.at("lean");
    const Levels levels = judged_by(plan, setup, records, r);
    const double salty = materials::taste_band(records).high;

    if (plan.pump) {
        r.plan.pump->needles = setup.needles;
        r.plan.pump->evenly = false;
    }
    report(0.1, "search");
    solved->coarse = coarse_track(setup, levels, plan);
    report(0.4, "fine cells");
    solved->fine = fine_track(setup, levels, plan, *solved->coarse);
    const Track &coarse = *solved->coarse, &fine = *solved->fine;
    report(0.9, "reading off");

    if (plan.pump)
        r.start = fine.start;
    for (std::size_t k = 0; k < setup.stages.size(); ++k) {
        r.stages.push_back(stage_result(*solved, k, k > 0 ? r.stages.back().to : 0));
        for (BrineState* bath : {&r.stages.back().bath_start, &r.stages.back().bath_end})
            bath->mass *= plan.base.piece.pieces; // of all, as a prediction has it
        if (r.stages.back().temperature == 0)
            r.stages.back().temperature = plan.base.temperature;
    }
    course(r, *solved);
    const auto coarse_cured = coarse.core_time(levels.cured),
               fine_cured = fine.core_time(levels.cured);
    r.cured = together(*solved, coarse_cured, fine_cured);
    r.cured_error = cured_error(*solved, levels.cured, coarse_cured, fine_cured);
    if (r.has_nitrite)
        r.lasting =
            together(*solved, coarse.core_time(levels.lasting), fine.core_time(levels.lasting));
    r.last_good = together(*solved, coarse.last_good, fine.last_good);
    if (r.last_good)
        r.last_good_reason = "the mean salt passes " + percent(salty);
    r.core = core_spot(*solved, r.has_nitrite);
    r.core_between_needles = fine.between_needles(fine.end());
    r.salt_error = std::abs(fine.at(fine.end()).mean_salt - coarse.at(coarse.end()).mean_salt) /
                   (solved->parting() < setup.stages.size() ? 1 : 3); // not of the same end
    r.mass_balance_error = fine.mass_balance_error();
    r.gain = plan.pump ? plan.pump->share : 0;
    r.weight = first.weight;
    r.thiele = r.core.depth * std::sqrt(lean.nitrite.loss / lean.nitrite.diffusivity);
    advise(r, setup, records);
    r.parameters = records.used();
    report(1, "done");
    return r;
}

Picture section_at(const PlanResult& r, double time, int columns,
                   const std::vector<double>& front_times) {
    const PlanSolved& p = *r.solved;
    return draw({p.setup.stages.front().setup,
                 *p.fine->section,
                 r.has_nitrite,
                 r.target,
                 {r.core.x, r.core.y}},
                std::min(time, p.fine->end()), columns, front_times);
}

std::optional<Picture> across_at(const PlanResult& r, double time, int columns) {
    const PlanSolved& p = *r.solved;
    if (!p.setup.across)
        return std::nullopt;
    const double t = std::min(time, p.fine->end());
    const geometry::Point core = p.fine->across->lowest(t, r.has_nitrite).at;
    Setup plane = *p.setup.across;
    plane.tissues = p.setup.stages.front().setup.tissues;
    return draw({plane, *p.fine->across, r.has_nitrite, r.target, core}, t, columns, {t});
}

} // namespace tidemark::cure
