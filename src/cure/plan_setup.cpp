// SPDX-License-Identifier: MIT
#include "cure/plan_setup.hpp"

#include "base/calendar.hpp"
#include "base/error.hpp"
#include "base/quantity.hpp"
#include "materials/brine.hpp"
#include "materials/diffusion.hpp"
#include "materials/kinetics.hpp"
#include "materials/solutes.hpp"
#include "materials/targets.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <set>
#include <string>

namespace tidemark::cure {

namespace {

using Kind = Stage::Kind;

/// Meat in one unit of the cells that is lean [kg].
double lean_mass(const Setup& s) {
    const double along = s.whole ? s.length : 1;
    if (s.section)
        return along * s.tissues.at("lean").density * geometry::areas(*s.section).lean;
    double fat = 0; // a sheet's cap is the only fat a line can have
    for (const geometry::Layer& l : s.layers)
        if (l.kind == "fat")
            fat += s.tissues.at("fat").density * l.thickness;
    return s.unit_mass - fat;
}

/// Lean with `gain` [kg per kg] of a brine in it. Lengths stay those of the raw piece.
void pump_up(Tissue& lean, const Pickle& brine, double gain) {
    const double before = lean.water_fraction;
    lean.water_fraction += gain * brine.water;
    lean.gain += gain * (brine.water + brine.sugar);
    for (transport::Medium* m : {&lean.salt, &lean.nitrite})
        m->water *= lean.water_fraction / before;
}

void soak_in(const Stage& stage, const Case& question, Setup& s) {
    if (!(stage.water > 0))
        return; // running water: held at nothing
    s.salt_bath.water = s.nitrite_bath.water = stage.water / question.piece.pieces / s.units;
}

/// `dry_salt`: of all stages of the dry cure that share the usual purge [kg per kg raw].
void rub_in(const Stage& stage, double temperature, double dry_salt, base::Records& records,
            StageSetup& s) {
    if (!(stage.salt > 0))
        throw base::InputError(stage.where, "", "has no salt in it",
                               "add the load, such as salt 30 g/kg");
    Setup& setup = s.setup;
    const double saturated = materials::solubility(records, temperature);
    const double film = saturated / (1 - saturated); // [kg per kg water]
    const double purge =
        stage.purge.value_or(materials::purge(records) * stage.salt / dry_salt) * setup.unit_mass;
    const double water = purge * (1 - saturated);
    s.lost = water / lean_mass(setup);
    setup.salt_bath.concentration = film;
    setup.nitrite_bath.concentration = film * stage.nitrite / stage.salt;
    const auto dose = [&](double load, double strength) {
        return StageSetup::Dose{load * setup.unit_mass,
                                std::min(load * setup.unit_mass, water * strength),
                                stage.kind == Kind::bag ? water : 0};
    };
    s.salt = dose(stage.salt, film);
    s.nitrite = dose(stage.nitrite, setup.nitrite_bath.concentration);
}

bool is_dry(const Stage& stage) {
    return stage.kind == Kind::rub || stage.kind == Kind::bag;
}

/// A stage with its log, if it has one, on the schedule's time.
Stage dated(Stage stage, const Plan& plan) {
    if (!stage.log || !plan.start)
        return stage;
    stage.log = std::make_shared<const CoolerLog>(stage.log->since(*plan.start));
    if (!(stage.log->last() > 0))
        throw base::InputError(stage.where, base::show_moment(*plan.start),
                               "is where the schedule begins, and the cooler's log ends before",
                               "give the --start of the days it was written in, or a newer log");
    return stage;
}

StageSetup make_stage(const Plan& plan, const Stage& asked, base::Records& records, bool faces,
                      bool first_cover) {
    const Stage stage = dated(asked, plan);
    Case q = plan.base;
    if (stage.log)
        q.temperature = stage.log->between(0, stage.log->last()).mean();
    else if (stage.temperature)
        q.temperature = *stage.temperature;
    if (faces)
        q.piece.dimensions.faces = geometry::face_names();
    StageSetup s;
    s.stage = stage;
    s.warmth = q.temperature;
    s.setup = make_piece(q, records);
    Setup& setup = s.setup;
    for (const std::string& face : stage.sealed)
        if (face == "ends" && !setup.section && setup.power != 1)
            throw base::InputError(stage.where, face, "are no faces of a sheet or a ball",
                                   "leave them out, or use --shape block or --shape round");
        else if (face != "ends" && !setup.section &&
                 (setup.power > 0 || (face != "top" && face != "bottom")))
            throw base::InputError(
                stage.where, face, "is not a face of this shape, which is solved along one line",
                setup.power > 0 ? "use --shape ham, loin or block" : "a sheet has top and bottom");
    std::set<std::string> shut(stage.sealed.begin(), stage.sealed.end());
    shut.insert(q.piece.dimensions.sealed.begin(), q.piece.dimensions.sealed.end());
    const bool ends = shut.erase("ends") > 0 || setup.shut_ends == 2 || !setup.whole;
    if (stage.kind != Kind::rest && ends && shut.size() >= (setup.section ? 4U : 2U))
        throw base::InputError(stage.where, "sealed", "leaves no wet face, so nothing can enter",
                               "leave one face wet");
    setup.salt_bath.partition = materials::partition(records, "salt");
    setup.nitrite_bath.partition = materials::partition(records, "nitrite");
    if (stage.kind == Kind::cover) {
        if (stage.brine)
            q.brine = *stage.brine;
        put_in_brine(q, records, setup);
        s.on = !stage.brine && !stage.fresh && !first_cover;
    } else if (stage.kind == Kind::soak) {
        soak_in(stage, q, setup);
    } else if (stage.kind != Kind::rest) {
        double dry_salt =
            0; // the usual purge is of the whole dry cure, in as many rubs as it takes
        for (const Stage& other : plan.stages)
            if (is_dry(other) && !other.purge)
                dry_salt += other.salt;
        rub_in(stage, q.temperature, dry_salt, records, s);
    }
    if (stage.log)
        setup.clock = clock(*stage.log, q.temperature, records.si("diffusion.activation-energy"),
                            records.si("kinetics.activation-energy"));
    return s;
}

geometry::Needles placed(const Pump& pump, const Setup& piece) {
    geometry::Needles n = pump.needles;
    if (n.row_spacing == 0)
        n.row_spacing = n.spacing;
    if (pump.evenly && piece.section) {
        const double width = geometry::bounds(piece.section->outline).width();
        n.spacing = width / std::max(1.0, std::round(width / n.spacing));
        n.margin = n.spacing / 2;
    }
    return n;
}

/// A few needles of the pattern, away from every edge.
Setup plane_across(const Setup& piece, const geometry::Needles& n) {
    const double row = n.row_spacing > 0 ? n.row_spacing : n.spacing;
    // Two rows of equal needles stand for all; shifted rows want neighbours of the other kind.
    const int count = n.unevenness > 1 ? 6 : n.staggered ? 4 : 2;
    Setup s = piece;
    geometry::Dimensions d;
    d.thickness = std::min(n.spacing, row) * count;
    d.width = std::max(n.spacing, row) * count;
    s.section = geometry::block(d, "--needle-spacing");
    s.whole = false; // away from the ends
    s.half_thickness = std::min(n.spacing, row) / 2;
    s.tissues.erase("fat");
    return s;
}

} // namespace

PlanSetup make_plan_setup(const Plan& plan, base::Records& records) {
    PlanSetup p;
    if (plan.stages.empty())
        throw base::InputError("--stage", "", "no stage is given", "add --stage \"brine, 7 d\"");
    bool faces = false, cover = false;
    for (const Stage& s : plan.stages)
        faces = faces || std::ranges::any_of(
                             s.sealed, [](const std::string& face) { return face != "ends"; });
    std::size_t last_cover = 0;
    for (const Stage& stage : plan.stages) {
        p.stages.push_back(make_stage(plan, stage, records, faces, !cover));
        StageSetup& s = p.stages.back();
        if (s.on) { // the same brine, which may be one of an earlier stage's own
            const Setup& one = p.stages[last_cover].setup;
            s.setup.pickle = one.pickle;
            s.setup.salt_bath = one.salt_bath;
            s.setup.nitrite_bath = one.nitrite_bath;
            if (one.pickle.nitrite > 0) // it is as warm as this stage
                s.setup.nitrite_bath.loss = materials::brine_loss_rate(
                    records, s.warmth,
                    plan.stages[last_cover].brine.value_or(plan.base.brine).ascorbate);
        }
        if (stage.kind != Kind::cover && cover) // what the last brine brought spreads on
            s.setup.salt_with_ascorbate = p.stages[last_cover].setup.salt_with_ascorbate;
        if (stage.kind == Kind::cover) {
            cover = true;
            last_cover = p.stages.size() - 1;
        }
        p.nitrite = p.nitrite || stage.nitrite > 0 ||
                    (stage.kind == Kind::cover && s.setup.pickle.nitrite > 0);
    }
    double lost = 0; // told of all stages alike: what is cured weighs so much less
    for (const StageSetup& s : p.stages)
        lost += s.lost;
    for (StageSetup& s : p.stages)
        s.setup.tissues.at("lean").gain -= lost;
    if (plan.pump) {
        Case q = plan.base;
        p.pumped = make_pickle(plan.pump->brine.value_or(q.brine), q.temperature, records);
        p.nitrite = p.nitrite || p.pumped->nitrite > 0;
        const Setup& first = p.stages.front().setup;
        p.lean_gain = plan.pump->share * first.unit_mass / lean_mass(first);
        for (StageSetup& s : p.stages)
            pump_up(s.setup.tissues.at("lean"), *p.pumped, p.lean_gain);
        p.needles = placed(*plan.pump, p.stages.front().setup);
        p.across = plane_across(p.stages.front().setup, p.needles);
    }
    return p;
}

void check_shared_out(const PlanSetup& p) {
    for (const StageSetup& s : p.stages)
        if (s.stage.kind == Kind::cover)
            check_shared_out(s.setup.pickle.mass, s.setup.weight, "--brine");
        else if (s.stage.water > 0)
            check_shared_out(s.stage.water, s.setup.weight, s.stage.where);
}

void inject(Grid& grid, const PlanSetup& setup, bool across) {
    const Tissue& lean = setup.stages.front().setup.tissues.at("lean");
    const Eigen::VectorXd shape =
        !grid.mesh ? Eigen::VectorXd::Ones(grid.nodes()).eval()
        : across   ? geometry::deposits_across(*grid.mesh, grid.lean_water, setup.needles)
                   : geometry::deposits_along(*grid.mesh, grid.lean_water,
                                              *setup.stages.front().setup.section, setup.needles);
    const double per_water = setup.lean_gain / lean.water_fraction;
    // Nodes of fat alone have no water of lean and hold nothing.
    Eigen::VectorXd in_lean = (grid.lean_water.array() > 0).cast<double>() * shape.array();
    in_lean *= per_water * grid.lean_water.sum() /
               grid.water.dot(in_lean); // seam nodes hold fat's water too
    grid.fill(setup.pumped->salt * in_lean, setup.pumped->nitrite * in_lean);
}

} // namespace tidemark::cure
