// SPDX-License-Identifier: MIT
#include "cure/coefficients.hpp"

#include "base/calendar.hpp"
#include "base/error.hpp"
#include "base/quantity.hpp"
#include "materials/brine.hpp"
#include "materials/colour.hpp"
#include "materials/diffusion.hpp"
#include "materials/kinetics.hpp"
#include "materials/meat.hpp"
#include "materials/solutes.hpp"
#include "materials/targets.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <set>
#include <string>
#include <utility>

namespace tidemark::cure {

namespace {

using Does = Stage::Kind;

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
                                stage.kind == Does::bag ? water : 0};
    };
    s.salt = dose(stage.salt, film);
    s.nitrite = dose(stage.nitrite, setup.nitrite_bath.concentration);
}

/// A stage with its log, if it has one, on the schedule's time.
Stage dated(Stage stage, const Question& question) {
    if (!stage.log || !question.start)
        return stage;
    stage.log = std::make_shared<const CoolerLog>(stage.log->since(*question.start));
    if (!(stage.log->last() > 0))
        throw base::InputError(stage.where, base::show_moment(*question.start),
                               "is where the schedule begins, and the cooler's log ends before",
                               "give the --start of the days it was written in, or a newer log");
    return stage;
}

/// `q`: the question's case with a piece of the kind.
StageSetup make_stage(const Question& question, Case q, const Stage& asked, base::Records& records,
                      bool faces, bool first_cover) {
    const Stage stage = dated(asked, question);
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
    if (stage.kind != Does::rest && ends && shut.size() >= (setup.section ? 4U : 2U))
        throw base::InputError(stage.where, "sealed", "leaves no wet face, so nothing can enter",
                               "leave one face wet");
    setup.salt_bath.partition = materials::partition(records, "salt");
    setup.nitrite_bath.partition = materials::partition(records, "nitrite");
    if (stage.kind == Does::cover) {
        if (stage.brine)
            q.brine = *stage.brine;
        put_in_brine(q, records, setup);
        s.on = !stage.brine && !stage.fresh && !first_cover;
    } else if (stage.kind == Does::soak) {
        soak_in(stage, q, setup);
    } else if (stage.kind != Does::rest) {
        double dry_salt =
            0; // the usual purge is of the whole dry cure, in as many rubs as it takes
        for (const Stage& other : question.stages)
            if (other.dry() && !other.purge)
                dry_salt += other.salt;
        rub_in(stage, q.temperature, dry_salt, records, s);
    }
    if (stage.log)
        setup.clock = clock(*stage.log, q.temperature, records.si("diffusion.activation-energy"),
                            records.si("kinetics.activation-energy"));
    return s;
}

geometry::Needles placed(const Pump& pump) {
    geometry::Needles n = pump.needles;
    if (n.row_spacing == 0)
        n.row_spacing = n.spacing;
    if (pump.evenly)
        n.margin = 0; // somewhere over the whole width, however narrow
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

/// The stages of one kind of piece.
std::vector<StageSetup> make_stages(const Question& question, const Case& q,
                                    base::Records& records) {
    std::vector<StageSetup> list;
    bool faces = false, cover = false;
    for (const Stage& s : question.stages)
        faces = faces || std::ranges::any_of(
                             s.sealed, [](const std::string& face) { return face != "ends"; });
    std::size_t last_cover = 0;
    for (const Stage& stage : question.stages) {
        list.push_back(make_stage(question, q, stage, records, faces, !cover));
        StageSetup& s = list.back();
        if (s.on) { // the same brine, which may be one of an earlier stage's own
            const Setup& one = list[last_cover].setup;
            s.setup.pickle = one.pickle;
            s.setup.salt_bath = one.salt_bath;
            s.setup.nitrite_bath = one.nitrite_bath;
            if (one.pickle.nitrite > 0) // it is as warm as this stage
                s.setup.nitrite_bath.loss = materials::brine_loss_rate(
                    records, s.warmth,
                    question.stages[last_cover].brine.value_or(q.brine).ascorbate);
        }
        if (stage.kind != Does::cover && cover) // what the last brine brought spreads on
            s.setup.salt_with_ascorbate = list[last_cover].setup.salt_with_ascorbate;
        if (stage.kind == Does::cover) {
            cover = true;
            last_cover = list.size() - 1;
        }
    }
    double lost = 0; // told of all stages alike: what is cured weighs so much less
    for (const StageSetup& s : list)
        lost += s.lost;
    for (StageSetup& s : list)
        s.setup.tissues.at("lean").gain -= lost;
    return list;
}

/// Sorts the pieces by kind, and works each kind out.
void make_kinds(const Question& question, base::Records& records, Coefficients& c) {
    std::vector<Piece> alike;
    for (std::size_t k = 0; k <= question.others.size(); ++k) {
        Piece piece = piece_of(question, k);
        const int n = std::exchange(piece.pieces, 1);
        const auto same = static_cast<std::size_t>(std::ranges::find(alike, piece) - alike.begin());
        if (same == alike.size()) {
            alike.push_back(piece);
            c.kinds.push_back({k, 0, {}, {}});
        }
        c.kinds[same].count += n;
        c.of.push_back(same);
    }
    for (std::size_t i = 0; i < alike.size(); ++i) {
        PieceKind& kind = c.kinds[i];
        Case q = question.base;
        q.piece = alike[i];
        q.piece.pieces = kind.count;
        try {
            kind.stages = make_stages(question, q, records);
        } catch (const base::InputError& error) {
            if (i == 0)
                throw;
            throw base::InputError(question.others[kind.first - 1].file, "", error.what(), "");
        }
        for (StageSetup& s : kind.stages)
            for (transport::Bath* bath : {&s.setup.salt_bath, &s.setup.nitrite_bath})
                bath->water /= static_cast<double>(alike.size());
        c.meat += kind.setup().weight * kind.count;
    }
    if (std::ranges::any_of(c.kinds, [](const PieceKind& k) { return !(k.setup().weight > 0); }))
        c.meat = 0;
}

void make_needles(const Question& question, base::Records& records, Coefficients& c) {
    const Pump& pump = *question.pump;
    if (!question.others.empty())
        throw base::InputError("--pump", "", "is for one kind of piece at a time",
                               "leave out the other pieces, or the needles");
    c.pumped =
        make_pickle(pump.brine.value_or(question.base.brine), question.base.temperature, records);
    c.nitrite = c.nitrite || c.pumped->nitrite > 0;
    const Setup& first = c.first();
    c.lean_gain = pump.share * first.unit_mass / lean_mass(first);
    for (StageSetup& s : c.kinds.front().stages)
        pump_up(s.setup.tissues.at("lean"), *c.pumped, c.lean_gain);
    c.needles = placed(pump);
    c.across = plane_across(first, c.needles);
}

Levels levels_of(const Question& question, const Coefficients& c, const PieceKind& kind,
                 base::Records& records) {
    const Tissue& lean = kind.setup().tissues.at("lean");
    const std::string& muscle = piece_of(question, kind.first).muscle;
    const materials::Band taste = materials::taste_band(records);
    Levels levels;
    levels.nitrite = c.nitrite;
    if (c.nitrite) {
        levels.pink = materials::pink_threshold(records, materials::myoglobin(records, muscle));
        levels.stable_target =
            materials::stable_threshold(records, materials::species_of(records, muscle));
        levels.target = materials::cured_threshold(records, levels.pink, levels.stable_target);
        levels.cured = levels.target / lean.water_fraction;
        levels.lasting = levels.stable_target / lean.water_fraction;
    } else {
        levels.target = materials::salt_floor(records);
        levels.cured = levels.lasting = lean.concentration(levels.target);
    }
    levels.salted = lean.concentration(taste.low);
    levels.too_salty = lean.concentration(taste.high);
    levels.surface = materials::surface_depth(records);
    if (question.pump)
        levels.between_needles = materials::told_between_needles(records);
    return levels;
}

} // namespace

const Piece& piece_of(const Question& question, std::size_t k) {
    return k == 0 ? question.base.piece : question.others[k - 1].piece;
}

Coefficients coefficients(const Question& question, base::Records& records) {
    if (question.stages.empty())
        throw base::InputError("--stage", "", "no stage is given", "add --stage \"brine, 7 d\"");
    for (const Stage& s : question.stages)
        if (s.open() && (&s != &question.stages.back() || !s.doses()))
            throw base::InputError(s.where, "", "has no end",
                                   "add how long, such as 7 d, or until cured");
    Coefficients c;
    make_kinds(question, records, c);
    for (const StageSetup& s : c.stages())
        c.nitrite = c.nitrite || s.stage.nitrite > 0 ||
                    (s.stage.kind == Does::cover && s.setup.pickle.nitrite > 0);
    if (question.pump)
        make_needles(question, records, c);
    for (PieceKind& kind : c.kinds)
        kind.levels = levels_of(question, c, kind, records);
    return c;
}

void check_shared_out(const Question& question, const Coefficients& c) {
    for (const PieceKind& kind : c.kinds)
        for (const StageSetup& s : kind.stages) {
            const std::string file =
                kind.first == 0 ? "" : question.others[kind.first - 1].file + ": ";
            if (s.stage.kind == Does::cover)
                check_shared_out(s.setup.pickle.mass, s.setup.weight, file + "--brine");
            else if (s.stage.water > 0)
                check_shared_out(s.stage.water, s.setup.weight, file + s.stage.where);
        }
}

void inject(Grid& grid, const Coefficients& c, bool across) {
    const Tissue& lean = c.first().tissues.at("lean");
    const Eigen::VectorXd shape =
        !grid.mesh ? Eigen::VectorXd::Ones(grid.nodes()).eval()
        : across
            ? geometry::deposits_across(*grid.mesh, grid.lean_water, c.needles)
            : geometry::deposits_along(*grid.mesh, grid.lean_water, *c.first().section, c.needles);
    const double per_water = c.lean_gain / lean.water_fraction;
    // Nodes of fat alone have no water of lean and hold nothing.
    Eigen::VectorXd in_lean = (grid.lean_water.array() > 0).cast<double>() * shape.array();
    in_lean *= per_water * grid.lean_water.sum() /
               grid.water.dot(in_lean); // seam nodes hold fat's water too
    grid.fill(c.pumped->salt * in_lean, c.pumped->nitrite * in_lean);
}

} // namespace tidemark::cure
